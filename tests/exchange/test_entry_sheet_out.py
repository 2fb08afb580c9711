"""The workbook that a team fills in is read back by the file of teams as it is."""

import io
from typing import Any

import python_calamine
import xlsxwriter
from msgspec.structs import replace

from callroom.exchange import read_teams
from callroom.exchange.entry_sheet_out import entry_xlsx
from callroom.model.entering import Entering
from tests.views.building import example_event

ASKS = Entering(shirt_sizes=("S", "M"), ages_in=("open",))


def rows_of(made: bytes) -> list[list[Any]]:
    book = python_calamine.load_workbook(io.BytesIO(made))
    return book.get_sheet_by_index(0).to_python(skip_empty_area=False)


def filled(rows: list[list[Any]], people: list[dict[str, str]]) -> bytes:
    """The workbook as a team sends it back."""
    head = next(at for at, row in enumerate(rows) if "athlete" in row)
    for row, person in zip(rows[head + 1 :], people, strict=False):
        for name, text in person.items():
            row[rows[head].index(name)] = text
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream) as book:
        sheet = book.add_worksheet("teams")
        for at, row in enumerate(rows):
            sheet.write_row(at, 0, row)
    return stream.getvalue()


def test_what_a_team_fills_in_is_read_back() -> None:
    event = example_event()
    division = replace(event.divisions[0], reserves=1)
    event = replace(event, divisions=(division, event.divisions[1]))
    made = entry_xlsx(event, division, ASKS, ("Harbour Hall Team Day: Open fours", "=1+1"))
    people = [
        {"team": "Late Risers", "athlete": "Kim Sample", "e-mail": "kim@example.org",
         "emergency contact": "Lou, 0170 1", "birth date": "1990-04-30", "shirt": "M"},
        {"team": "Late Risers", "athlete": "Ada Young", "guardian": "Jo, 0170 2"},
        {"team": "Late Risers", "athlete": "Max Sample"},
    ]  # fmt: skip
    read = read_teams(filled(rows_of(made), people), event)
    (team,) = read.teams
    assert (team.name, team.division) == ("Late Risers", "open")
    assert [one.category for one in team.athletes] == ["women", "women", "men"]
    kim, ada, _ = (read.people[one.person] for one in team.athletes)
    assert (kim.email, kim.shirt, kim.minor) == ("kim@example.org", "M", False)
    assert (ada.guardian, ada.minor) == ("Jo, 0170 2", True)


def test_a_sheet_that_nobody_filled_in_names_no_team() -> None:
    event = example_event()
    made = entry_xlsx(event, event.divisions[1], Entering(), ())
    assert read_teams(made, event).teams == ()
