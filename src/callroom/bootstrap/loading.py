"""Files into a book: everything read, judged together, and stored in one request or not at all."""

import hashlib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeVar

import msgspec

from callroom.actions.load import load
from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.bootstrap.event_reading import kept_in, read_event_file
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.remote import RemoteBook
from callroom.exchange import FaultyEvent, Known, read_crew, read_kit, read_teams
from callroom.journal import PEOPLE, SideWrite
from callroom.model import (
    BadInput,
    CallroomError,
    CrewMember,
    Event,
    Finding,
    KitItem,
    NotFound,
    Refusal,
    State,
    Team,
)
from callroom.model.person import Person

Value = TypeVar("Value")


class Loaded(msgspec.Struct, frozen=True, kw_only=True):
    """What a load changed: counts of what the files held, and what is worth knowing."""

    entries: int
    teams: int
    crew: int
    kit: int
    findings: tuple[Finding, ...]


class Files(msgspec.Struct, frozen=True, kw_only=True):
    """The files somebody wants loaded; None: none of that kind."""

    event: Path | None = None
    teams: Path | None = None
    crew: Path | None = None
    kit: Path | None = None


class _Gathered:
    """What the files hold so far; faults are gathered over all of them."""

    def __init__(self, state: State, people: Mapping[str, Person]) -> None:
        self.state = state
        self.event: Event | None = None
        self.teams: tuple[Team, ...] | None = None
        self.crew: tuple[CrewMember, ...] | None = None
        self.kit: tuple[KitItem, ...] | None = None
        self.people: dict[str, Person] = {}
        self.findings: tuple[Finding, ...] = ()
        self.faults: tuple[Finding, ...] = ()
        self._known_people = people

    def known(self) -> Known:
        """What is known already, so that a file loaded again changes no id."""
        teams = dict(self.state.teams) | {team.id: team for team in self.teams or ()}
        crew = dict(self.state.crew) | {member.person: member for member in self.crew or ()}
        return Known(
            teams=tuple(teams.values()),
            crew=tuple(crew.values()),
            people={**self._known_people, **self.people},
        )

    def attempt(self, read: Callable[[], Value]) -> Value | None:
        """Return what `read` reads, or keep its faults and go on to the next file."""
        try:
            return read()
        except BadInput as fault:
            self.faults += fault.findings
            return None

    @property
    def for_event(self) -> Event:
        """The event the other files are about; refused if there is none."""
        event = self.event or self.state.event
        if event is None:
            raise Refusal("book.no_event")
        return event


def load_files(book: OpenBook | RemoteBook, files: Files) -> Loaded:
    """Load files into a book.

    Raises
    ------
    BadInput
        With every fault of every file; nothing is stored then.
    """
    gathered = _Gathered(book.state, book.people())
    _read_event(gathered, files)
    if gathered.event is not None or not gathered.faults:
        _read_lists(gathered, files)
    if gathered.faults:
        raise BadInput(gathered.faults)
    request = load(
        book.state,
        event=gathered.event,
        teams=gathered.teams,
        crew=gathered.crew,
        kit=gathered.kit,
    )
    beside = tuple(PEOPLE.put(person_id, person) for person_id, person in gathered.people.items())
    entries = 0
    if request.proposals or beside:
        key = _key(book.state, msgspec.json.encode(request.proposals), beside)
        entries = len(book.ask_now(AT_THE_KEYBOARD, request, key=key, beside=beside).seqs)
    return Loaded(
        entries=entries,
        teams=len(gathered.teams or ()),
        crew=len(gathered.crew or ()),
        kit=len(gathered.kit or ()),
        findings=gathered.findings,
    )


def _read_event(gathered: _Gathered, files: Files) -> None:
    if files.event is not None:
        path = files.event
        try:
            gathered.event = kept_in(read_event_file(_bytes(path), path.name), gathered.state.event)
        except BadInput as fault:
            gathered.faults += fault.findings
            gathered.event = fault.event if isinstance(fault, FaultyEvent) else None


def _read_lists(gathered: _Gathered, files: Files) -> None:
    if files.teams is not None:
        path = files.teams
        read = gathered.attempt(
            lambda: read_teams(_bytes(path), gathered.for_event, path.name, gathered.known())
        )
        if read is not None:
            gathered.teams = read.teams
            gathered.people |= read.people
            gathered.findings += read.findings
    if files.crew is not None:
        path = files.crew
        listed = gathered.attempt(
            lambda: read_crew(_bytes(path), gathered.for_event, path.name, gathered.known())
        )
        if listed is not None:
            gathered.crew = listed.crew
            gathered.people |= listed.people
            gathered.findings += listed.findings
    if files.kit is not None:
        path = files.kit
        items = gathered.attempt(lambda: read_kit(_bytes(path), gathered.for_event, path.name))
        if items is not None:
            gathered.kit = items.kit
            gathered.findings += items.findings


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except FileNotFoundError as fault:
        raise NotFound("file.missing", file=str(path)) from fault
    except OSError as fault:
        raise CallroomError("file.unreadable", file=str(path), reason=str(fault)) from fault


def _key(state: State, said: bytes, beside: tuple[SideWrite, ...]) -> str:
    """A key that is the same for the same load into the same book, so a repeat counts once."""
    digest = hashlib.sha256(said)
    digest.update(msgspec.msgpack.encode(beside))
    digest.update(str(state.seq).encode())
    return f"load-{digest.hexdigest()[:32]}"
