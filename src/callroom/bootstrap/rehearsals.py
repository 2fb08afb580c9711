"""The copy of a book that a rehearsal plays on; the book itself is not touched."""

from pathlib import Path

from callroom.actions.day import mark_rehearsal
from callroom.actions.invent_money import GIVERS
from callroom.actions.invent_safety import INCIDENT_RECORDS
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.clocks import Clock, FastClock, SteppedClock
from callroom.bootstrap.incident_notes import beside_step
from callroom.bootstrap.money_keeping import beside_person
from callroom.bootstrap.places import Place
from callroom.model import Refusal, State, milliseconds

_BEFORE_MS = 10 * 60 * 1000


def rehearsal_of(place: Place, seed: int) -> Path:
    """Make the copy ``<book>.rehearsal``, marked as a practice run, in place of an older one.

    It lies beside the book; that of a book in a database is made in the present folder.

    It is made from outside, so not a byte of the book changes.

    Raises
    ------
    JournalError
        If there is no book.
    Refusal
        If the book is itself a rehearsal, or has no plan to play.
    """
    book = open_book(place, writing=False)
    try:
        _need_playable(book.state, place)
        beside = place if isinstance(place, Path) else Path(place.name)
        copy = beside.with_name(beside.name + ".rehearsal")
        book.store.backup(copy, force=True)
    finally:
        book.close()
    copied = open_book(copy, clock=clock_for(copy, 0))
    try:
        givers = tuple(beside_person(one, name) for one, name in GIVERS.items())
        written = tuple(
            write
            for key, text in INCIDENT_RECORDS
            for write in beside_step(key, text, "first_aid", copied.now_ms())[1]
        )
        asked = mark_rehearsal(seed)
        copied.ask_now(AT_THE_KEYBOARD, asked, key="rehearsal", beside=(*givers, *written))
    finally:
        copied.close()
    return copy


def clock_for(path: Path, speed: int) -> Clock:
    """Return the clock of a rehearsal: it begins shortly before the day.

    Parameters
    ----------
    speed
        How many times as fast as real time; 0: it jumps to whatever is waited for.
    """
    book = open_book(path, writing=False)
    try:
        event = book.state.event
    finally:
        book.close()
    if event is None:
        raise Refusal("book.no_event")
    start_ms = milliseconds(event.starts_at) - _BEFORE_MS
    return FastClock(start_ms, speed) if speed > 0 else SteppedClock(start_ms)


def _need_playable(state: State, place: Place) -> None:
    if state.rehearsal:
        raise Refusal("rehearsal.of_rehearsal", path=str(place))
    if state.event is None:
        raise Refusal("book.no_event")
    if state.plan is None:
        raise Refusal("plan.none")
