"""A hosted book goes to the hall and comes back: one book, never two that both go on."""

import platform
import shutil
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

import msgspec

from callroom.actions.day import carry_book_on
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book, verify_book
from callroom.bootstrap.clocks import Clock, WallClock
from callroom.bootstrap.places import Place, file_of
from callroom.journal.store.side import BACKUPS, BackupMade
from callroom.journal.stores.copying import copy_book
from callroom.journal.stores.durable import whole_file
from callroom.journal.stores.folders import refuse_unsafe_folder
from callroom.model import BadInput, CallroomError, Refusal, State, errors_among

COMING = ".coming"
"""The file that was brought back lies beside the book under its name with this behind."""


class WentOn(msgspec.Struct, frozen=True, kw_only=True):
    """A book that goes on: where, whose, from which entry, and which laptop in turn has it."""

    path: Path
    event: str
    seq: int
    generation: int


class Hosted(Protocol):
    """What is needed of the open book."""

    @property
    def path(self) -> Place:
        """Where it is kept."""

    @property
    def state(self) -> State:
        """The State as published."""

    def seal(self, seq: int, /) -> str:
        """Return the printed seal over an entry; empty if there is none."""

    def now_ms(self) -> int:
        """Return the time by the book's clock [ms, UTC]."""


class HallKeeping:
    """The hosted end: hands the book out once it takes nothing more, and takes it back."""

    def __init__(self, book: Hosted, on_return: Callable[[], object] | None = None) -> None:
        """Look after `book`; `on_return` is called once one was brought back, to let it in."""
        self._book = book
        self._on_return = on_return
        self._giving = threading.Lock()

    def copy(self, to: Path) -> None:
        """Write the book as it went to the file `to`.

        Raises
        ------
        Refusal
            If it was not taken to the hall: a copy of a book that goes on here would be a second.
        FileOnly
            If it is in a database.
        """
        if self._book.state.away is None:
            raise Refusal("hall.not_taken")
        copy_book(file_of(self._book.path), to, at_ms=self._book.now_ms(), force=True)

    def bring_back(self, given: Path) -> WentOn:
        """Lay the book `given` beside this one, to go on with in its place.

        Raises
        ------
        Refusal
            If it is not this book, as it was here and with what the hall made of it.
        BadInput
            If it is not sound, with everything that is wrong.
        """
        with self._giving:
            path = file_of(self._book.path)
            found = _need_continued(self._book, given)
            with whole_file(_coming(path), force=True) as part:
                shutil.copyfile(given, part)
        if self._on_return is not None:
            self._on_return()
        return found


def let_in(path: Path, *, clock: Clock | None = None) -> WentOn | None:
    """Put the book that was brought back in the place of `path`; None if none was.

    The book as it was here stays beside it under the number of its generation. What came back is
    the next laptop in turn, so that whatever the hall still takes is known to be another book's.

    Raises
    ------
    CallroomError
        If what lies there is not this book any more; it is then set aside, as ``….refused``.
    """
    coming = _coming(path)
    if not coming.exists():
        return None
    before = open_book(path, clock=clock)
    generation = before.state.generation
    try:
        _need_continued(before, coming)
    except CallroomError:
        coming.replace(coming.with_name(f"{path.name}.refused"))
        raise
    finally:
        before.close()
    kept = path.with_name(f"{path.stem}.generation-{generation}{path.suffix}")
    path.replace(kept)
    coming.replace(path)
    return _go_on(path, clock or WallClock(), beside=kept)


def take(given: Path, to: Path | None = None, *, clock: Clock | None = None) -> WentOn:
    """Go on in the hall with the book `given`, as it was downloaded, in place or at `to`.

    Raises
    ------
    Refusal
        If it is not a book that was taken, or goes on here already.
    BadInput
        If it is not sound, with everything that is wrong.
    """
    faults = errors_among(tuple(verify_book(given)))
    if faults:
        raise BadInput(faults)
    looked = open_book(given, writing=False)
    away, generation = looked.state.away, looked.state.generation
    looked.close()
    if away is None:
        rule = "hall.not_taken" if generation == 1 else "hall.taken_already"
        raise Refusal(rule)
    path = to or given
    if path.absolute() != given.absolute():
        refuse_unsafe_folder(path)
        path.parent.mkdir(parents=True, exist_ok=True)
        with whole_file(path) as part:
            shutil.copyfile(given, part)
    return _go_on(path, clock or WallClock())


def bring_back_to(path: Path, given: Path) -> WentOn:
    """Bring the book `given` back to `path`, which nobody serves just now."""
    book = open_book(path)
    try:
        HallKeeping(book).bring_back(given)
    finally:
        book.close()
    back = let_in(path)
    if back is None:
        raise Refusal("hall.not_taken")
    return back


def _need_continued(here: Hosted, given: Path) -> WentOn:
    """Return what `given` is, if it begins with all that is here and goes on from it."""
    faults = errors_among(tuple(verify_book(given)))
    if faults:
        raise BadInput(faults)
    there = open_book(given, writing=False)
    try:
        mine, theirs = here.state, there.state
        known = mine.event.id if mine.event is not None else ""
        other = theirs.event.id if theirs.event is not None else ""
        if known != other:
            raise Refusal("event.another", known=known, given=other)
        if theirs.seq == mine.seq and theirs.generation == mine.generation:
            raise Refusal("hall.nothing_new")
        if theirs.seq < mine.seq or there.seal(mine.seq) != here.seal(mine.seq):
            raise Refusal("hall.two_books", here=mine.seq, there=theirs.seq)
        if theirs.generation <= mine.generation:
            raise Refusal("hall.never_taken")
        event = theirs.event.name if theirs.event is not None else ""
        return WentOn(path=given, event=event, seq=theirs.seq, generation=theirs.generation)
    finally:
        there.close()


def _go_on(path: Path, clock: Clock, beside: Path | None = None) -> WentOn:
    """Begin the next generation; whoever erases a person later is told of the book `beside`."""
    book = open_book(path, clock=clock)
    try:
        generation = book.state.generation + 1
        asked = carry_book_on(generation, book.state.seq)
        key = f"go-on-{generation}-{platform.node()}"
        book.ask_now(AT_THE_KEYBOARD, asked, key=key)
        if beside is not None:
            made = BackupMade(at_ms=clock.now_ms(), seq=book.state.seq, share=False)
            book.store.side(BACKUPS).put(str(beside.absolute()), made)
        event = book.state.event.name if book.state.event is not None else ""
        return WentOn(path=path, event=event, seq=book.state.seq, generation=generation)
    finally:
        book.close()


def _coming(path: Path) -> Path:
    return path.with_name(path.name + COMING)
