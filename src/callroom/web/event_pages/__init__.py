"""The event's settings in the browser: fields of the event file, asked on pages.

Decides: which key of the file each field is, what it is called, the help beside it, and how
what is typed becomes the file's values and back.
Never does: judge an event; reading the file's values does, and ``actions`` save it.
May import: ``model``, ``bootstrap`` and posted forms.
"""

from callroom.web.event_pages.asked import Field, Group, Part, Rows
from callroom.web.event_pages.form import (
    NEW,
    SetupForm,
    read_form,
    row_field,
    typed_form,
    written_form,
)
from callroom.web.event_pages.parts import parts_of

__all__ = [
    "NEW",
    "Field",
    "Group",
    "Part",
    "Rows",
    "SetupForm",
    "parts_of",
    "read_form",
    "row_field",
    "typed_form",
    "written_form",
]
