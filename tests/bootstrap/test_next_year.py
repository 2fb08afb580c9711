"""Next year's book: what was learnt goes on, nobody does who did not agree."""

from contextlib import closing, suppress
from itertools import islice
from pathlib import Path

import pytest
from msgspec.structs import replace

from callroom.actions import ground, money
from callroom.actions.entering import set_entering
from callroom.actions.money_start import starter_budget
from callroom.actions.rehearsal import script
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book, verify_book
from callroom.bootstrap.demonstration import make_demo_book
from callroom.bootstrap.next_year import next_years_book
from callroom.bootstrap.open_book import OpenBook
from callroom.journal import PEOPLE
from callroom.model import NotFound, Refusal
from callroom.model.checks import OwnCheck
from callroom.model.entering import Entering
from callroom.model.ground import Ground, Space
from callroom.model.side_programme import SideItem, Span
from tests.cli.running import callroom
from tests.journal.disk import bytes_beside

pytestmark = pytest.mark.store

MORNING = 260
"""Cues of the script: two workouts are over for most teams."""


def lay_out_the_day(book: OpenBook, person: str) -> None:
    """Draw a hall, put on a stall that somebody leads, add a point and tick it."""
    hall = Space(id="hall", name="Hall", x_mm=0, y_mm=0, length_mm=30_000, width_mm=20_000)
    stall = SideItem(
        id="cakes",
        kind="food",
        name="Cakes",
        spans=(Span(start_s=0, length_s=60),),
        person=person,
    )
    own = OwnCheck(id="own-1", phase="before", text="Ask for the key")
    asked = (
        set_entering(Entering(opens_ms=1, adult_age=16, consent="Names on a list.")),
        ground.set_ground(Ground(spaces=(hall,))),
        ground.set_side(stall),
        ground.add_check(own),
        ground.tick_check("own-1"),
    )
    for number, request in enumerate(asked):
        book.ask_now(AT_THE_KEYBOARD, request, key=f"laid-{number}")


@pytest.fixture(scope="module")
def old(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration after its morning, one volunteer willing to come again."""
    path = tmp_path_factory.mktemp("old") / "demo.book"
    make_demo_book(path)
    with closing(open_book(path)) as book:
        for number, cue in enumerate(islice(script(book.state, 3), MORNING)):
            # What the head judge would settle first (two differing scores) is left as it is.
            with suppress(Refusal):
                book.ask_now(AT_THE_KEYBOARD, cue.request, key=f"cue-{number}")
        volunteer = next(iter(book.state.crew))
        person = replace(book.people()[volunteer], ask_again=True)
        book.store.side(PEOPLE).put(volunteer, person)
        event = book.state.event
        assert event is not None
        lay_out_the_day(book, volunteer)
        if book.state.budget is None:
            budget = starter_budget(event)
            book.ask_now(AT_THE_KEYBOARD, money.set_budget(budget), key="budget")
    return path


def test_next_year_begins_with_this_year_s_paces_kit_and_willing_crew(
    old: Path, tmp_path: Path
) -> None:
    path = tmp_path / "next.book"
    carried = next_years_book(old, path)
    with closing(open_book(old, writing=False)) as before:
        event, people = before.state.event, before.people()
        assert event is not None
        borrowed = [item for item in before.state.kit if item.lender]
    with closing(open_book(path, writing=False)) as after:
        state = after.state
        assert state.event is not None
        assert state.event.workouts == event.workouts
        assert (state.event.day - event.day).days == 364
        assert state.event.day.weekday() == event.day.weekday()
        assert (state.teams, state.sheets, state.plan) == ({}, {}, None)
        assert len(state.paces) == carried.paces >= 3
        assert {one.carried for one in state.paces.values()} == {True}
        assert len(state.kit) == carried.kit
        assert not [item for item in state.kit if item.lender]
        assert len(carried.give_back) == len(borrowed)
        assert ("Brackenholt Barn", "Dumbbell, 10 kg", 7) in carried.give_back
        assert len(state.crew) == len(after.people()) == carried.crew == 1
        assert state.budget is not None
        assert not state.bookings
        assert [space.name for space in state.ground.spaces] == ["Hall"]
        assert [(item.name, item.person) for item in state.side.values()] == [("Cakes", "")]
        assert set(state.own_checks) == {"own-1"}
        assert state.entering == Entering(adult_age=16, consent="Names on a list.")
        assert [one.number for one in state.terms] == [1]
        assert not state.ticks
    for person in people.values():
        if not person.ask_again and len(person.name) > 6:
            assert person.name.encode() not in bytes_beside(path)
    assert verify_book(path) == []


def test_the_command_says_what_went_over_and_what_goes_back(old: Path, tmp_path: Path) -> None:
    ran = callroom("new", tmp_path / "next.book", "--after", old)
    assert ran.code == 0, ran.err
    assert "1 volunteers who agreed" in ran.err
    assert callroom("new", tmp_path / "next.book", "--after", old).code == 2


def test_an_empty_book_has_nothing_to_carry(tmp_path: Path) -> None:
    assert callroom("new", tmp_path / "empty.book").code == 0
    with pytest.raises(NotFound):
        next_years_book(tmp_path / "empty.book", tmp_path / "next.book")
    assert not (tmp_path / "next.book").exists()
