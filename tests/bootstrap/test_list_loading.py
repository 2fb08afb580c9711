"""A list that was sent: what loading it would do, told before anything is stored."""

import io

import xlsxwriter
from msgspec.structs import replace

from callroom.bootstrap.list_loading import Look, begin, load_key, look, with_gone
from callroom.journal.entries import bodies
from callroom.model import State
from callroom.model.person import Person
from tests.exchange.messy import athletes_in_spanish, sixty_pairs
from tests.views.building import example_state


class Listing:
    """A book of the example, which holds no contacts."""

    def __init__(self, state: State | None = None) -> None:
        self.state = state or example_state()

    def people(self) -> dict[str, Person]:
        return {}


def seen(data: bytes, file: str = "x.xlsx") -> Look:
    book = Listing()
    assert book.state.event is not None
    return look(book, begin("teams", file, data, book.state.event), book.state.event)


def test_the_good_rows_are_told_apart_from_those_to_mend() -> None:
    found = seen(sixty_pairs())
    assert (found.good, found.bad) == (58, 1)
    assert [(one.rule, one.source) for one in found.faults] == [("table.no_email", "x.xlsx:36:G")]
    new = {one.name for one in found.changes if one.what == "new"}
    assert len(new) == 58
    assert {"Team 33", "Team 20"}.isdisjoint(new)  # A wrong address; a word that is left out.
    assert len(found.request.proposals) == 58


def test_nearly_the_same_name_is_told_but_numbers_make_two() -> None:
    assert [(one.one, one.other) for one in seen(sixty_pairs()).alike] == [
        ("The Late Starters", "The Late starter")
    ]


def test_one_person_in_two_teams_is_told() -> None:
    text = (
        "team,division,athlete,category\n"
        "One,Pairs,Ana Rivers,women\nOne,Pairs,Bo Hill,women\n"
        "Two,Pairs,ana rivers,women\nTwo,Pairs,Cy Moor,women\n"
    )
    assert [(one.kind, one.one, one.other) for one in seen(text.encode(), "y.csv").alike] == [
        ("person", "One", "Two")
    ]


def test_half_a_team_is_not_loaded() -> None:
    text = (
        "team,division,athlete,category,e-mail\n"
        "One,Pairs,Ana Rivers,women,\nOne,Pairs,Bo Hill,women,not an address\n"
        "Two,Pairs,Di Vale,women,\nTwo,Pairs,Cy Moor,women,\n"
    )
    found = seen(text.encode(), "y.csv")
    assert (found.good, found.bad) == (2, 2)
    assert [one.name for one in found.changes if one.what == "new"] == ["Two"]


def test_nothing_is_asked_for_where_every_row_is_wrong() -> None:
    found = seen(b"team,division,athlete,category,e-mail\nOne,Pairs,Ana,women,nothing\n", "y.csv")
    assert (found.good, found.request.proposals, found.changes) == (0, (), ())
    assert [one.rule for one in found.faults] == ["table.no_email"]


def test_teams_of_the_lists_divisions_that_are_not_in_it_leave_only_where_ticked() -> None:
    found = seen(athletes_in_spanish(), "y.csv")
    gone = [one.id for one in found.changes if one.what == "gone"]
    state = example_state()
    assert {state.teams[one].division for one in gone} == {"pairs"}
    assert not any(isinstance(one, bodies.TeamLeft) for one in found.request.proposals)
    asked = with_gone(found.request, state, "teams", (gone[0],), "not listed")
    left = [one for one in asked.proposals if isinstance(one, bodies.TeamLeft)]
    assert [one.team for one in left] == [gone[0]]


def test_the_same_list_has_one_key_until_the_book_or_its_meaning_changes() -> None:
    state = example_state()
    assert state.event is not None
    sent = begin("teams", "y.csv", athletes_in_spanish(), state.event)
    other = replace(sent, meaning=replace(sent.meaning, values={}))
    assert load_key(sent, state) == load_key(sent, state)
    assert load_key(other, state) != load_key(sent, state)
    assert load_key(sent, replace(state, seq=state.seq + 1)) != load_key(sent, state)


def test_a_cell_merged_over_the_athletes_of_a_team_stands_for_all_of_them() -> None:
    file = io.BytesIO()
    book = xlsxwriter.Workbook(file, {"in_memory": True})
    sheet = book.add_worksheet()
    sheet.write_row(0, 0, ["Team", "Division", "Athlete", "Sex"])
    sheet.merge_range(1, 0, 2, 0, "One")
    sheet.merge_range(1, 1, 2, 1, "Pairs")
    sheet.write_row(1, 2, ["Ana", "F"])
    sheet.write_row(2, 2, ["Bo", "F"])
    book.close()
    found = seen(file.getvalue())
    assert (found.good, found.bad) == (2, 0)
    assert [one.name for one in found.changes if one.what == "new"] == ["One"]


def test_what_the_book_refuses_of_sound_rows_is_told_before_loading() -> None:
    state = example_state()
    assert state.event is not None
    pairs = tuple(
        replace(one, team_limit=1) if one.id == "pairs" else one for one in state.event.divisions
    )
    full = replace(state, event=replace(state.event, divisions=pairs))
    book = Listing(full)
    assert full.event is not None
    found = look(book, begin("teams", "y.csv", athletes_in_spanish(), full.event), full.event)
    assert found.faults
    assert (found.good, found.changes, found.request.proposals) == (0, (), ())
