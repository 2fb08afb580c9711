"""A book on disk with the small invented day of the tests of actions."""

from pathlib import Path

from callroom.actions import day as ask
from callroom.actions.digest import inputs_digest
from callroom.actions.load import load
from callroom.bootstrap.books import AT_THE_KEYBOARD, new_book, open_book
from callroom.bootstrap.clocks import Clock, SteppedClock
from callroom.bootstrap.open_book import OpenBook
from callroom.model import State, milliseconds
from tests.actions.day_building import EVENT, TEAMS, plan

START_MS = milliseconds(EVENT.starts_at)


def day_book(path: Path, clock: Clock | None = None) -> OpenBook:
    """An open book with event, teams and plan revision 1."""
    new_book(path)
    book = open_book(path, clock=clock or SteppedClock(START_MS))
    book.ask_now(AT_THE_KEYBOARD, load(State(), event=EVENT, teams=TEAMS), key="load")
    planned = plan(1, inputs_digest(book.state))
    book.ask_now(AT_THE_KEYBOARD, ask.publish_plan(planned), key="plan")
    return book
