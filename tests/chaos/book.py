"""The day that chaos is played on: the small invented event of the tests of views, on disk."""

from pathlib import Path

import msgspec

from callroom.actions import day as ask
from callroom.actions.digest import inputs_digest
from callroom.actions.load import load
from callroom.bootstrap.books import AT_THE_KEYBOARD, new_book, open_book
from callroom.bootstrap.clocks import SteppedClock
from callroom.model import State, milliseconds
from tests.views.building import example_state

_EXAMPLE = example_state()


def clock_at_the_end() -> SteppedClock:
    """A clock that stands after the last planned heat: every cue may then be played at once."""
    event, plan = _EXAMPLE.event, _EXAMPLE.plan
    assert event is not None
    assert plan is not None
    return SteppedClock(milliseconds(event.instant(plan.finish_s)))


def chaos_book(path: Path) -> None:
    """Make the book, with its plan published."""
    new_book(path)
    book = open_book(path, clock=clock_at_the_end())
    event, plan = _EXAMPLE.event, _EXAMPLE.plan
    assert plan is not None
    teams = tuple(_EXAMPLE.teams.values())
    book.ask_now(AT_THE_KEYBOARD, load(State(), event=event, teams=teams), key="load")
    published = msgspec.structs.replace(plan, revision=1, inputs_digest=inputs_digest(book.state))
    book.ask_now(AT_THE_KEYBOARD, ask.publish_plan(published), key="plan")
    book.close()
