"""Keeps a rolling copy of a served book elsewhere, so that another laptop can carry on."""

import logging
import platform
import tempfile
import threading
import time
from pathlib import Path
from typing import Self

import msgspec

from callroom.bootstrap.copy_kept import CopyKept
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.places import file_of
from callroom.bootstrap.standby_files import CopyNote, StandbyFiles, TakenMark, digest_of
from callroom.journal.store.side import BACKUPS, BackupMade
from callroom.journal.stores.copying import copy_book, ending_of
from callroom.model import CallroomError, Refusal

LEAST_GAP_S = 3.0
"""From the end of one copy to the next; a copy may take a quarter of the time, never more."""

MOST_AGE_S = 30.0
"""A copy is made this often at least: tokens of devices and people are no entries."""

_SHARE = 3
_LOOK_S = 0.5

_log = logging.getLogger("callroom.bootstrap")


class StandbyKeeper:
    """Copies `book` to a folder (a stick, another machine's share) in a thread of its own.

    A folder that is gone for a while is tried again; the server never waits for it. If the
    folder says that another laptop carries on, the book takes nothing more here.
    """

    def __init__(self, book: OpenBook, folder: Path, addresses: tuple[str, ...] = ()) -> None:
        """Keep a copy in `folder` of a book whose server answers at `addresses`.

        Raises
        ------
        FileOnly
            If the book is in a database, which has its own ways to be kept twice.
        Refusal
            If another laptop carries on with this book already.
        """
        self._book = book
        self._path = file_of(book.path)
        self._files = StandbyFiles.for_book(folder, self._path)
        self._addresses = addresses
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="standby", daemon=True)
        self.kept = CopyKept(folder=str(folder))
        taken = self._taken()
        if taken is not None:
            raise superseded_by(taken)

    def __enter__(self) -> Self:
        """Begin to keep."""
        self._thread.start()
        return self

    def __exit__(self, *_fault: object) -> None:
        """Make a last copy, with everything that was taken, and end."""
        self._stop.set()
        self._thread.join(timeout=30)
        self._try()

    def copy_now(self) -> CopyNote:
        """Make a copy and return its note.

        Raises
        ------
        OSError, JournalError
            If the book cannot be read or the folder does not take the copy.
        Refusal
            If the copy is not what the book is.
        """
        book = self._book
        with tempfile.TemporaryDirectory(dir=self._path.parent, prefix=".standby-") as near:
            copy = Path(near) / "copy"
            made = copy_book(self._path, copy, at_ms=book.now_ms())
            note = self._noted(copy, made)
            self._files.put_copy(copy, note)
        return note

    def _noted(self, copy: Path, made: BackupMade) -> CopyNote:
        book = self._book
        ending = ending_of(copy)
        seal = ending.seal.printed() if ending.seal is not None else ""
        if ending.damage or seal != book.seal(made.seq):
            raise Refusal("carry.not_whole", reason=ending.damage or f"{made.seq}, {seal}")
        event = book.state.event
        return CopyNote(
            book=self._path.name,
            event=event.name if event is not None else "",
            seq=made.seq,
            seal=seal,
            last_ms=ending.at_ms,
            made_ms=made.at_ms,
            digest=digest_of(copy),
            generation=book.state.generation,
            machine=platform.node(),
            addresses=self._addresses,
        )

    def _run(self) -> None:
        # The book remembers where its copies lie, for whoever erases a person later.
        where = str(self._files.copy.absolute())
        copied_seq, copied_at, gap_s, remembered = -1, 0.0, 0.0, False
        while not self._stop.wait(max(gap_s, _LOOK_S)):
            began, seq = time.monotonic(), self._book.state.seq
            gap_s = _LOOK_S
            if seq == copied_seq and began - copied_at < MOST_AGE_S:
                continue
            if self._try() and not remembered:
                note = self.kept.note
                made = BackupMade(at_ms=note.made_ms if note else 0, seq=seq, share=False)
                self._book.store.side(BACKUPS).put(where, made)
                remembered = True
            copied_seq, copied_at = seq, time.monotonic()
            gap_s = max(LEAST_GAP_S, _SHARE * (copied_at - began))

    def _try(self) -> bool:
        taken = self._taken()
        if taken is not None:
            self.kept = msgspec.structs.replace(self.kept, taken=taken)
            self._book.stand_down(superseded_by(taken))
            return False
        try:
            note = self.copy_now()
        except (OSError, CallroomError) as fault:
            if not self.kept.failing:
                _log.warning("the copy for another laptop cannot be kept: %s", fault)
            self.kept = msgspec.structs.replace(self.kept, failing=str(fault))
            return False
        self.kept = CopyKept(folder=self.kept.folder, note=note)
        return True

    def _taken(self) -> TakenMark | None:
        """Return who took the copy over from this laptop; None if nobody did."""
        mark = self._files.mark()
        if mark is None or mark.generation <= self._book.state.generation:
            return None
        return mark


def superseded_by(mark: TakenMark) -> Refusal:
    """Return the refusal of everything more, here."""
    return Refusal("carry.superseded", machine=mark.machine, address=mark.address or "–")
