"""Files in and out: TOML, CSV, XLSX, iCalendar, JSON.

Decides: how a file becomes values, with a finding that names file, row, column and the
mend for everything it cannot read, and how values become files for others.
Never does: decide whether a value is allowed by the rules of the event (``model.checking``
does; here its findings get their place in the file).
May import: ``model``, spreadsheet and calendar libraries.
"""

from callroom.exchange.calendar_out import Beside, Timetable, event_calendar, team_calendar
from callroom.exchange.crew_file import CrewRead, read_crew
from callroom.exchange.demo import DemoFile, demo_file
from callroom.exchange.dump import PlainRow, read_dump, write_dump
from callroom.exchange.entrants import NOTHING_KNOWN, Known
from callroom.exchange.event_file import FaultyEvent, read_event, read_event_values
from callroom.exchange.event_writing import write_event
from callroom.exchange.kit_file import KitRead, read_kit
from callroom.exchange.results_out import (
    ResultPart,
    ResultRow,
    Results,
    results_csv,
    results_json,
    results_xlsx,
)
from callroom.exchange.teams_file import TeamsRead, read_teams

__all__ = [
    "NOTHING_KNOWN",
    "Beside",
    "CrewRead",
    "DemoFile",
    "FaultyEvent",
    "KitRead",
    "Known",
    "PlainRow",
    "ResultPart",
    "ResultRow",
    "Results",
    "TeamsRead",
    "Timetable",
    "demo_file",
    "event_calendar",
    "read_crew",
    "read_dump",
    "read_event",
    "read_event_values",
    "read_kit",
    "read_teams",
    "results_csv",
    "results_json",
    "results_xlsx",
    "team_calendar",
    "write_dump",
    "write_event",
]
