"""An open book: what the faces are handed. It asks the rules, the store keeps the answer."""

import asyncio
import logging
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Protocol

import msgspec

from callroom.actions.decide import decide
from callroom.actions.request import Request, content
from callroom.bootstrap.as_it_stood import states_around
from callroom.bootstrap.clocks import Clock
from callroom.bootstrap.codec import CODEC
from callroom.bootstrap.copy_kept import CopyKept
from callroom.bootstrap.doors import Doors
from callroom.bootstrap.history import score_history
from callroom.bootstrap.pay_keeping import PayKeeping
from callroom.bootstrap.people_keeping import PeopleKeeping
from callroom.bootstrap.places import Place
from callroom.bootstrap.post_office import PostOffice
from callroom.bootstrap.team_links import TeamLinks
from callroom.journal.entries import Entry
from callroom.journal.store import Receipt, SideWrite, Store
from callroom.journal.store import Request as Submission
from callroom.journal.store.side import (
    ATTACHMENTS,
    BACKUPS,
    DRAFTS,
    NOTES,
    OUTBOX,
    PEOPLE,
    SECRETS,
    Attachment,
)
from callroom.model import Actor, CallroomError, SheetRef, State
from callroom.model.person import Note, Person
from callroom.views.history import HistoryLine

Watcher = Callable[[State], None]
Announce = Callable[[int, str], object]
"""Says beside the book on which port its server answers, and which token it asks for."""

_log = logging.getLogger("callroom.bootstrap")

# Where the initials under counts are kept, by device and key of the request.
_SIGNED = "signed/"


class Outcome(msgspec.Struct, frozen=True, kw_only=True):
    """What became of a request: the entries it made, or had made the first time."""

    seqs: tuple[int, ...]
    replayed: bool


class Watchers:
    """Whoever wants to hear of a new State; called from the writer's thread."""

    def __init__(self) -> None:
        """Begin with nobody."""
        self._watchers: dict[int, Watcher] = {}
        self._next = 0
        self.on_beside: Callable[[], None] = lambda: None
        """Called when only what is beside the journal has changed, here or in another process."""

    def add(self, watcher: Watcher) -> Callable[[], None]:
        """Add a watcher; returns what takes it away again."""
        self._next += 1
        mine = self._next
        self._watchers[mine] = watcher
        return lambda: self._drop(mine)

    def _drop(self, mine: int) -> None:
        self._watchers.pop(mine, None)

    def tell(self, state: State, entries: Sequence[Entry]) -> None:
        """Tell everyone; one that fails does not keep the news from the others."""
        if not entries:
            self.on_beside()
        for watcher in tuple(self._watchers.values()):
            try:
                watcher(state)
            except Exception:  # noqa: BLE001 - whatever it was, the others must hear
                _log.exception("a watcher failed at seq %d", state.seq)


class Standby(Protocol):
    """What keeps a copy for another laptop."""

    @property
    def kept(self) -> CopyKept:
        """How the copy stands."""


class Hall(Protocol):
    """Hands a hosted book out to the hall, and takes it back."""

    def copy(self, to: Path, /) -> None:
        """Write the book as it went to a file."""

    def bring_back(self, given: Path, /) -> object:
        """Lay a book beside this one, to go on with in its place."""


class OpenBook:
    """One event's book, open for asking and for reading."""

    def __init__(
        self,
        store: Store[State],
        path: Place,
        clock: Clock,
        watchers: Watchers,
        announce: Announce,
    ) -> None:
        """Hand out `store`, which tells `watchers` of every new State."""
        self.announce = announce
        self.store = store
        self.path = path
        self.clock = clock
        self._watchers = watchers
        self.standby: Standby | None = None
        self.hall: Hall | None = None
        self._stood_down: CallroomError | None = None
        self.personal = PeopleKeeping(self)
        self.doors = Doors(self, store.side(SECRETS), clock)
        watchers.on_beside = self.doors.look_again
        self.links = TeamLinks(store.side(SECRETS))
        self.paying = PayKeeping(store.side(SECRETS))
        self.post = PostOffice(self, store.side(OUTBOX), store.side(SECRETS), clock)

    @property
    def state(self) -> State:
        """The State of the last published batch; never changed in place."""
        return self.store.state

    @property
    def clock_speed(self) -> int:
        """How many times as fast as a wall clock the time of this book runs."""
        return self.clock.speed

    def now_ms(self) -> int:
        """Return the time by this book's clock [ms since 1970, UTC]."""
        return self.clock.now_ms()

    def watch(self, watcher: Watcher) -> Callable[[], None]:
        """Have `watcher` called with every new State; returns what ends it."""
        return self._watchers.add(watcher)

    @property
    def standby_copy(self) -> CopyKept | None:
        """How the copy for another laptop stands; None: none is kept."""
        return self.standby.kept if self.standby is not None else None

    def stand_down(self, cause: CallroomError) -> None:
        """Take nothing more, for `cause`: another laptop carries on with this book."""
        self._stood_down = cause

    def submit(
        self, actor: Actor, request: Request, *, key: str, beside: tuple[SideWrite, ...] = ()
    ) -> Future[Receipt]:
        """Queue a request; the future is done once it is decided and on disk."""
        if self._stood_down is not None:
            refused: Future[Receipt] = Future()
            refused.set_exception(self._stood_down)
            return refused
        return self.store.submit(
            Submission(
                actor=actor.name,
                device=actor.device,
                key=key,
                content=content(request),
                decide=lambda state: decide(state, actor, request, self.now_ms()),
                seen_at_ms=request.seen_at_ms,
                clock_error_ms=request.clock_error_ms,
                beside=(*beside, *self._signed(actor, request, key)),
            )
        )

    def _signed(self, actor: Actor, request: Request, key: str) -> tuple[SideWrite, ...]:
        """Keep the initials under a count where they can be erased, not in the journal."""
        if not request.initials:
            return ()
        note = Note(text=request.initials, author=actor.name, at_ms=self.now_ms())
        return (NOTES.put(f"{_SIGNED}{actor.device}/{key}", note),)

    async def ask(
        self, actor: Actor, request: Request, *, key: str, beside: tuple[SideWrite, ...] = ()
    ) -> Outcome:
        """Have a request decided and stored; returns once it is on disk.

        Raises
        ------
        CallroomError
            Whatever the rules or the store refuse.
        """
        future = self.submit(actor, request, key=key, beside=beside)
        return _outcome(await asyncio.wrap_future(future))

    def ask_now(
        self, actor: Actor, request: Request, *, key: str, beside: tuple[SideWrite, ...] = ()
    ) -> Outcome:
        """Do the same as :meth:`ask`, waiting in the calling thread."""
        return _outcome(self.submit(actor, request, key=key, beside=beside).result())

    def history(self, ref: SheetRef, heat: str) -> tuple[HistoryLine, ...]:
        """Return what happened to one score, in order; reads the whole journal.

        `heat` is the one in which the team does the workout.
        """
        read = ((entry, CODEC.body(entry)) for entry in self.store.entries())
        notes = self.store.side(NOTES).all(_SIGNED)
        signed = {name.removeprefix(_SIGNED): note.text for name, note in notes.items()}
        return tuple(score_history(read, ref, heat, signed=signed))

    def around(self, seq: int) -> tuple[State, State]:
        """Return the State before and after the request of entry `seq`; reads the whole journal."""
        return states_around(((entry, CODEC.body(entry)) for entry in self.store.entries()), seq)

    def seal(self, seq: int) -> str:
        """Return the printed seal over entry `seq`; empty before the first entry."""
        found = self.store.seal_at(seq)
        return found.printed() if found is not None else ""

    def people(self) -> Mapping[str, Person]:
        """Return everybody the book knows, by id; for private pages only."""
        return self.store.side(PEOPLE).all()

    def backups(self) -> Mapping[str, bool]:
        """Return where copies of this book went, and which were made without anything personal."""
        return {path: made.share for path, made in self.store.side(BACKUPS).all().items()}

    def notes(self, prefix: str) -> Mapping[str, Note]:
        """Return the notes whose name begins so, by name; for private pages only."""
        return self.store.side(NOTES).all(prefix)

    def attachment(self, name: str) -> Attachment | None:
        """Return a file kept in the book, or None."""
        return self.store.side(ATTACHMENTS).get(name)

    def drafts(self, prefix: str) -> Mapping[str, bytes]:
        """Return what was begun and not yet decided, by its name, where that begins so."""
        return self.store.side(DRAFTS).all(prefix)

    def keep_draft(self, name: str, draft: bytes | None) -> None:
        """Keep a draft under a name, or (None) let go of it; returns when it is on disk."""
        side = self.store.side(DRAFTS)
        if draft is None:
            side.delete(name)
        else:
            side.put(name, draft)

    def close(self) -> None:
        """Store what was asked, then let go of the book."""
        self.store.close()


def _outcome(receipt: Receipt) -> Outcome:
    return Outcome(seqs=tuple(entry.seq for entry in receipt.entries), replayed=receipt.replayed)
