"""Files in and out: TOML, CSV, XLSX, iCalendar, JSON.

Decides: how a file becomes values, with a finding that names file, row, column and the
mend for everything it cannot read, and how values become files for others.
Never does: decide whether a value is allowed by the rules of the event.
May import: ``model``, spreadsheet and calendar libraries.
"""
