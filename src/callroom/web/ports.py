"""What the pages need of an open book; `callroom.bootstrap` hands in the real one."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Protocol

from callroom.actions.request import Request
from callroom.bootstrap.copy_kept import CopyKept
from callroom.bootstrap.pay_keeping import PayKeeping
from callroom.bootstrap.places import Place
from callroom.bootstrap.post_office import PostOffice
from callroom.bootstrap.team_links import TeamLinks
from callroom.model import Actor, Role, SheetRef, State
from callroom.model.person import Note, Person
from callroom.views.history import HistoryLine


class Answer(Protocol):
    """What became of a request."""

    @property
    def seqs(self) -> tuple[int, ...]:
        """The entries it made, or had made the first time."""

    @property
    def replayed(self) -> bool:
        """Whether it had been stored before."""


class Doorway(Protocol):
    """Sign-in and joining."""

    def has_passphrase(self) -> bool:
        """Whether the director has set a passphrase."""

    async def set_passphrase(self, text: str) -> None:
        """Set the director's passphrase; a refusal says what is wrong with it."""

    async def sign_in(self, text: str, origin: str) -> str:
        """Return a session token for the director, or refuse."""

    def label_of(self, device: str) -> str:
        """Return what was typed about a device; empty if nothing."""

    def make_code(self, role: Role, label: str) -> str:
        """Return a code that lets one device in; writes to disk."""

    async def join(self, code: str, label: str, origin: str) -> tuple[str, str]:
        """Let a device in; returns its id and its token."""

    def proof_of(self, token: str) -> str:
        """Return what the pad of a token's holder carries to another address."""

    async def take_over(self, proof: str, origin: str) -> str:
        """Return a new token for the device whose pad carries a proof; a proof works once."""

    def holder(self, token: str) -> Actor | None:
        """Return who holds a token."""

    def end_other_directors(self, token: str) -> int:
        """End every session of a director but that of `token`; return how many."""

    def drop_codes(self, role: Role | None = None) -> int:
        """Let no unused code open anything, of one role or of all; return how many."""

    def leave(self, token: str) -> None:
        """End a session; writes to disk."""


class Erased(Protocol):
    """What erasing did."""

    @property
    def complete(self) -> bool:
        """Whether the bytes are gone from the files too."""


class Personal(Protocol):
    """The people of a book."""

    def file(self, person: str, /) -> bytes:
        """Return everything the book holds of a person, as JSON; empty if it knows nobody so."""

    def erase(self, actor: Actor, person: str, key: str, /) -> Erased:
        """Erase a person, down to the bytes."""

    def erase_everyone(self, actor: Actor, key: str, /) -> Erased:
        """Erase everything personal but of those the accounts speak of."""


class Hall(Protocol):
    """Hands a hosted book out to the hall, and takes it back."""

    def copy(self, to: Path, /) -> None:
        """Write the book as it went to a file."""

    def bring_back(self, given: Path, /) -> object:
        """Lay a book beside this one, to go on with in its place."""


class Kept(Protocol):
    """A file kept in the book."""

    @property
    def name(self) -> str:
        """What it is called when it is taken away."""

    @property
    def media_type(self) -> str:
        """Its kind, as known by its content."""

    @property
    def content(self) -> bytes:
        """Its bytes."""


class Book(Protocol):
    """An open book."""

    @property
    def state(self) -> State:
        """The State of the last published batch."""

    @property
    def path(self) -> Place:
        """Where the book is kept."""

    @property
    def doors(self) -> Doorway:
        """Sign-in and joining for this book."""

    @property
    def personal(self) -> Personal:
        """The people of this book, to be given their details or erased."""

    @property
    def hall(self) -> Hall | None:
        """What hands it out to the hall; None: it is not served so that it could be."""

    @property
    def links(self) -> TeamLinks:
        """The links by which teams see and change their own entry."""

    @property
    def paying(self) -> PayKeeping:
        """How teams pay."""

    @property
    def post(self) -> PostOffice:
        """Letters on their way."""

    @property
    def clock_speed(self) -> int:
        """How many times as fast as a wall clock the time of this book runs."""

    def now_ms(self) -> int:
        """Return the time by this book's clock [ms since 1970, UTC]."""

    def watch(self, watcher: Callable[[State], None], /) -> Callable[[], None]:
        """Have `watcher` called from another thread with every new State."""

    def history(self, ref: SheetRef, heat: str, /) -> tuple[HistoryLine, ...]:
        """Return what happened to one score; reads the whole journal from disk."""

    def around(self, seq: int, /) -> tuple[State, State]:
        """Return the State before and after the request of entry `seq`; reads from disk."""

    @property
    def standby_copy(self) -> CopyKept | None:
        """How the copy for another laptop stands; None: none is kept."""

    def seal(self, seq: int, /) -> str:
        """Return the printed seal over an entry; empty if there is none."""

    def people(self) -> Mapping[str, Person]:
        """Return everybody the book knows, by id; for private pages only."""

    def backups(self) -> Mapping[str, bool]:
        """Return where copies of this book went, and which were made without anything personal."""

    def notes(self, prefix: str, /) -> Mapping[str, Note]:
        """Return the notes whose name begins so, by name; for private pages only."""

    def attachment(self, name: str, /) -> Kept | None:
        """Return a file kept in the book, or None."""

    def drafts(self, prefix: str, /) -> Mapping[str, bytes]:
        """Return what was begun and not yet decided, by its name, where that begins so."""

    def keep_draft(self, name: str, draft: bytes | None, /) -> None:
        """Keep a draft under a name, or (None) let go of it; writes to disk."""

    async def ask(
        self, actor: Actor, request: Request, *, key: str, beside: tuple[Any, ...] = ()
    ) -> Answer:
        """Have a request decided and stored, or raise the refusal."""
