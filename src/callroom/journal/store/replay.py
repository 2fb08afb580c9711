"""Stored rows folded again: at opening, after others wrote, or as it stood once."""

from collections.abc import Iterable
from typing import Generic, TypeVar

import msgspec

from callroom.journal.codec import Codec, Undecodable
from callroom.journal.store.errors import Unfoldable
from callroom.journal.store.port import Folder
from callroom.journal.store.seal import GENESIS, Row
from callroom.model.errors import CallroomError

StateT = TypeVar("StateT")


class Head(msgspec.Struct, Generic[StateT], frozen=True):
    """How far a journal is folded: the State, its last `seq`, the last seal."""

    state: StateT
    seq: int = 0
    seal: bytes = GENESIS


class Reading(msgspec.Struct, Generic[StateT], frozen=True):
    """How the rows of a journal become State.

    `codec` reads the bodies, `folder` folds them, `empty` is the State before the first.
    """

    codec: Codec
    folder: Folder[StateT]
    empty: StateT

    @property
    def start(self) -> Head[StateT]:
        """The head of an empty journal."""
        return Head(self.empty)


class Replayed(msgspec.Struct, Generic[StateT], frozen=True):
    """Where folding came to, and what stopped it before the end, if anything did.

    The State then is as it stood before that entry: old, but once true. Going on without
    an entry would show a State that never was.
    """

    head: Head[StateT]
    stopped: CallroomError | None = None


def replay(reading: Reading[StateT], head: Head[StateT], rows: Iterable[Row]) -> Replayed[StateT]:
    """Return `head` moved on by `rows`, which follow it in order of `seq`."""
    builder = reading.folder.begin(head.state)
    seq, seal = head.seq, head.seal
    stopped: CallroomError | None = None
    for row in rows:
        entry = row.entry
        try:
            body = reading.codec.body(entry)
            builder.apply(entry, body)
        except Undecodable as fault:
            stopped = fault
            break
        except Exception as fault:  # noqa: BLE001 - a book must open even if one entry defeats us
            stopped = Unfoldable(entry.seq, entry.kind, repr(fault))
            break
        seq, seal = entry.seq, row.seal or seal
    return Replayed(Head(builder.freeze(), seq, seal), stopped)
