"""What somebody's own list most likely means, and where its faults stand."""

import pytest

from callroom.exchange.mapped import Column, Meaning, guess, placed, rewrite
from callroom.exchange.sheets import Sheet, sheets_of
from callroom.model import Event, Finding
from tests.exchange.messy import athletes_in_spanish, sixty_pairs
from tests.views.building import example_state


def event() -> Event:
    found = example_state().event
    assert found is not None
    return found


def columns(*headings: str) -> tuple[tuple[str, int], ...]:
    sheet = Sheet("", (headings, ("",) * len(headings)))
    return tuple((one.name, one.athlete) for one in guess("teams", (sheet,), event()).columns)


def test_a_form_services_table_is_read_a_row_for_a_team() -> None:
    meaning = guess("teams", sheets_of(sixty_pairs(), "x.xlsx"), event())
    assert (meaning.sheet, meaning.head, meaning.by_team) == ("Responses", 3, True)
    assert [(one.name, one.athlete) for one in meaning.columns] == [
        ("", 0), ("team", 0), ("division", 0), ("athlete", 1), ("athlete", 2), ("e-mail", 1),
        ("e-mail", 2), ("gym", 0), ("shirt", 1), ("shirt", 2), ("", 0),
    ]  # fmt: skip
    assert meaning.values == {"division/pairs (women)": "pairs", "division/masters": ""}


def test_a_row_for_each_athlete_in_another_language() -> None:
    (sheet,) = sheets_of(athletes_in_spanish(), "y.csv")
    meaning = guess("teams", (sheet,), event())
    assert not meaning.by_team
    lines = rewrite(meaning, sheet, event(), frozenset()).data.decode().splitlines()
    assert lines[1].startswith("Las Olas,pairs,Lucía Peña,women,")
    assert meaning.values["division/parejas"] == "pairs"


@pytest.mark.parametrize(
    ("headings", "wanted"),
    [
        (("Equipo", "Nombre", "Apellidos"), (("team", 0), ("first name", 0), ("last name", 0))),
        (("Team", "Athlete 1", "Athlete 2"), (("team", 0), ("athlete", 1), ("athlete", 2))),
        (
            ("Team", "Member #1 name", "Member #1 phone", "Member #2 name"),
            (("team", 0), ("athlete", 1), ("phone", 1), ("athlete", 2)),
        ),
        (("Mannschaft", "Wertung", "Vor- und Nachname"), (("team", 0), ("division", 0), ("athlete", 0))),
        (("Team", "Man 1", "Woman 1"), (("team", 0), ("athlete", 1), ("athlete", 2))),
        (("Team", "Team", "Anything"), (("team", 0), ("", 0), ("", 0))),
    ],
)  # fmt: skip
def test_headings_of_many_hands(
    headings: tuple[str, ...], wanted: tuple[tuple[str, int], ...]
) -> None:
    assert columns(*headings) == wanted


def test_a_table_without_headings_is_known_by_what_is_in_it() -> None:
    rows = (("Wave Riders", "Pairs", "ana@example.org"), ("Two Tides", "Pairs", "bo@example.org"))
    meaning = guess("teams", (Sheet("", rows),), event())
    assert meaning.head == 0
    assert [one.name for one in meaning.columns] == ["", "division", "e-mail"]


def test_category_is_a_division_where_its_words_are_divisions() -> None:
    for words, wanted in ((("Pairs", "Open fours"), "division"), (("F", "women"), "category")):
        rows = (("Team", "Category"), *(("Waves", word) for word in words))
        assert guess("teams", (Sheet("", rows),), event()).columns[1].name == wanted


def test_a_fault_is_told_where_it_stands_in_the_list_as_it_was_sent() -> None:
    (sheet,) = (one for one in sheets_of(sixty_pairs(), "x.xlsx") if one.name == "Responses")
    written = rewrite(guess("teams", (sheet,), event()), sheet, event(), frozenset({4}))
    header = written.data.decode().splitlines()[0].split(",")
    letter = chr(ord("A") + header.index("e-mail"))
    fault = Finding(
        rule="table.no_email", severity="error", subject="", facts={"row": 2, "column": letter}
    )
    # The first team is left out, so the first of our rows is the second team's, in sheet row 5.
    told = placed(fault, written, "x.xlsx")
    assert (told.facts["row"], told.source) == (5, "x.xlsx:5:G")


def test_rows_with_a_word_that_is_left_out_are_not_written() -> None:
    sheet = Sheet("", (("Team", "Division"), ("One", "Pairs"), ("Two", "Juniors")))
    meaning = Meaning(
        kind="teams", head=1, columns=(Column("team"), Column("division")),
        values={"division/juniors": ""},
    )  # fmt: skip
    assert rewrite(meaning, sheet, event(), frozenset()).rows == (2,)
