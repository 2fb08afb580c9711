"""A list that was sent in a browser: kept as a draft, looked at as it is meant, then loaded."""

import difflib
import hashlib
from collections.abc import Iterator, Mapping
from typing import Literal, Protocol

import msgspec
from msgspec.structs import replace

from callroom.actions.load import load
from callroom.actions.request import Request, propose
from callroom.exchange import Known, read_crew, read_kit, read_teams
from callroom.exchange.column_words import OF_EACH_ATHLETE, WORDS
from callroom.exchange.mapped import (
    Asked,
    Column,
    ListKind,
    Meaning,
    asked,
    guess,
    placed,
    rewrite,
)
from callroom.exchange.sheets import Sheet, sheets_of
from callroom.journal import LISTS_SENT, PEOPLE, SideWrite
from callroom.journal.entries import bodies
from callroom.model import BadInput, CrewMember, Event, Finding, KitItem, State, Team, errors_among
from callroom.model.person import Person

__all__ = [
    "LISTS_SENT", "Alike", "Asked", "Change", "Column", "ListKind", "Look", "Meaning", "Sent",
    "begin", "columns_of", "load_key", "look", "meant_anew", "of_each_athlete", "value_key",
    "with_gone",
]  # fmt: skip

# How alike two names are at least that are told as perhaps one. Common practice, no source.
_ALIKE = 0.85
# Each round leaves out the rows that were wrong; a list with faults upon faults is told as wrong.
_MOST_ROUNDS = 8


class Listed(Protocol):
    """Who and what a book knows."""

    @property
    def state(self) -> State:
        """What the book says now."""

    def people(self) -> Mapping[str, Person]:
        """Return everybody the book knows, by id."""


class Sent(msgspec.Struct, frozen=True, kw_only=True):
    """A list as it was sent, and what it is taken to mean."""

    file: str
    data: bytes
    meaning: Meaning


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """What loading would do to one thing of the book, by its name."""

    id: str
    name: str
    what: Literal["new", "changed", "same", "gone"]


class Alike(msgspec.Struct, frozen=True, kw_only=True):
    """Two that may be one: teams of nearly the same name, or one person in two teams."""

    kind: Literal["team", "person"]
    one: str
    other: str


class Look(msgspec.Struct, frozen=True, kw_only=True):
    """What a list says, read as it is meant.

    Attributes
    ----------
    sheet, sheets
        The sheet that is read, and the names of all.
    asked
        Values of which somebody has to say which of ours they are.
    faults, notes
        What is wrong, each with its row; what is worth knowing.
    changes
        What loading the good rows would do.
    good, bad
        How many rows are good, and how many are not.
    alike
        What may be there twice.
    """

    sheet: Sheet
    sheets: tuple[str, ...]
    meaning: Meaning
    asked: tuple[Asked, ...]
    faults: tuple[Finding, ...]
    notes: tuple[Finding, ...]
    changes: tuple[Change, ...]
    good: int
    bad: int
    alike: tuple[Alike, ...]
    request: Request
    beside: tuple[SideWrite, ...]

    def meant_by(self, one: Asked) -> str:
        """Return the id that a value of the list is taken for; empty: its rows are left out."""
        return self.meaning.values.get(value_key(one.column, one.value), one.likely)


class _Read(msgspec.Struct, frozen=True):
    """What a reader found, whatever it reads."""

    teams: tuple[Team, ...] = ()
    crew: tuple[CrewMember, ...] = ()
    kit: tuple[KitItem, ...] = ()
    people: Mapping[str, Person] = {}
    findings: tuple[Finding, ...] = ()


def begin(kind: ListKind, file: str, data: bytes, event: Event) -> Sent:
    """Return a list as it was sent, with what it most likely means.

    Raises
    ------
    BadInput
        If it is no table.
    """
    return Sent(file=file, data=data, meaning=guess(kind, sheets_of(data, file), event))


def meant_anew(sent: Sent, sheet: str, head: int, event: Event) -> Meaning:
    """Return what a list means if that sheet and that row of headings are taken."""
    sheets = sheets_of(sent.data, sent.file)
    chosen = next((one for one in sheets if one.name == sheet), sheets[0])
    return guess(sent.meaning.kind, (chosen,), event, head=min(head, len(chosen.rows)))


def look(book: Listed, sent: Sent, event: Event) -> Look:
    """Return what a list says and what loading its good rows would do; nothing is stored."""
    sheets = sheets_of(sent.data, sent.file)
    sheet = next((one for one in sheets if one.name == sent.meaning.sheet), sheets[0])
    known = Known(
        teams=tuple(book.state.teams.values()),
        crew=tuple(book.state.crew.values()),
        people=book.people(),
    )
    faults: list[Finding] = []
    skip: frozenset[int] = frozenset()
    read = _Read()
    rewritten = rewrite(sent.meaning, sheet, event, skip)
    for _ in range(_MOST_ROUNDS):
        rewritten = rewrite(sent.meaning, sheet, event, skip)
        try:
            read = _read(sent.meaning.kind, rewritten.data, event, known)
        except BadInput as refused:
            found = [placed(one, rewritten, sent.file) for one in refused.findings]
            wrong = list(errors_among(tuple(found)))
            faults += [one for one in wrong if one not in faults]
            rows = frozenset(int(str(one.facts.get("row") or 0)) for one in wrong)
            more = _with_their_team(rows, sent.meaning, sheet) - skip
            if not more or rows <= {0, sent.meaning.head}:
                read = _Read()
                break
            skip |= more
            if len(skip) >= len(frozenset(rewritten.rows) | skip):
                read = _Read()
                break
        else:
            break
    notes = tuple(placed(one, rewritten, sent.file) for one in read.findings)
    request = propose()
    try:
        request = _request(book.state, sent.meaning.kind, read)
    except BadInput as refused:
        # Each row is sound, and all of them together with the book are not.
        faults += [one for one in refused.findings if one not in faults]
        read = _Read()
    return Look(
        sheet=sheet,
        sheets=tuple(one.name for one in sheets),
        meaning=sent.meaning,
        asked=asked(sent.meaning, sheet, event) if sent.meaning.kind == "teams" else (),
        faults=tuple(sorted(faults, key=lambda one: int(str(one.facts.get("row") or 0)))),
        notes=tuple(one for one in notes if not one.rule.startswith("table.heading")),
        changes=tuple(_changes(book.state, sent.meaning.kind, read)),
        good=len(set(rewritten.rows) - skip) if _any(read) else 0,
        bad=len(skip),
        alike=tuple(_alike(book.state, read)),
        request=request,
        beside=tuple(PEOPLE.put(person, read.people[person]) for person in read.people),
    )


def load_key(sent: Sent, state: State) -> str:
    """Return a key that is the same for the same list into the same book."""
    digest = hashlib.sha256(sent.data)
    digest.update(msgspec.msgpack.encode((sent.meaning, state.seq)))
    return f"list-{digest.hexdigest()[:32]}"


def with_gone(
    request: Request, state: State, kind: ListKind, gone: tuple[str, ...], reason: str
) -> Request:
    """Return the request with the teams to leave, or the kit to take out, that were ticked.

    `reason` is why a team left; it stays in the record and names nobody.
    """
    if not gone:
        return request
    if kind == "teams":
        left = (bodies.TeamLeft(team=team, status="withdrawn", reason=reason) for team in gone)
        return replace(request, proposals=(*request.proposals, *left))
    listed = (one.items for one in request.proposals if isinstance(one, bodies.KitSet))
    items = tuple(item for item in next(listed, state.kit) if item.id not in gone)
    return replace(request, proposals=(bodies.KitSet(items=items),))


def _read(kind: ListKind, data: bytes, event: Event, known: Known) -> _Read:
    if kind == "teams":
        teams = read_teams(data, event, known=known)
        return _Read(teams=teams.teams, people=teams.people, findings=teams.findings)
    if kind == "crew":
        crew = read_crew(data, event, known=known)
        return _Read(crew=crew.crew, people=crew.people, findings=crew.findings)
    kit = read_kit(data, event)
    return _Read(kit=kit.kit, findings=kit.findings)


def _any(read: _Read) -> bool:
    return bool(read.teams or read.crew or read.kit)


def _with_their_team(rows: frozenset[int], meaning: Meaning, sheet: Sheet) -> frozenset[int]:
    """Return the rows with all others of the same team: half a team is not loaded."""
    at = next((i for i, column in enumerate(meaning.columns) if column.name == "team"), None)
    if meaning.kind != "teams" or at is None:
        return rows - {0}
    names = {_plain(sheet.rows[row - 1][at]) for row in rows if 0 < row <= len(sheet.rows)}
    alike = {
        number
        for number, row in enumerate(sheet.rows, start=1)
        if number > meaning.head and _plain(row[at]) in names - {""}
    }
    return frozenset((rows - {0}) | alike)


def _digits(text: str) -> str:
    return "".join(sign for sign in text if sign.isdigit())


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()


def _request(state: State, kind: ListKind, read: _Read) -> Request:
    if not _any(read):
        return propose()
    if kind == "teams":
        return load(state, teams=read.teams)
    if kind == "crew":
        return load(state, crew=read.crew)
    return load(state, kit=_kit_after(state.kit, read.kit))


def _kit_after(kit: tuple[KitItem, ...], listed: tuple[KitItem, ...]) -> tuple[KitItem, ...]:
    """Return the kit in its order with what is listed changed or added; the rest stays."""
    by_id = {item.id: item for item in listed}
    known = {item.id for item in kit}
    new = (item for item in listed if item.id not in known)
    return (*(by_id.get(item.id, item) for item in kit), *new)


def _changes(state: State, kind: ListKind, read: _Read) -> Iterator[Change]:
    if kind == "teams":
        for team in read.teams:
            yield Change(id=team.id, name=team.name, what=_what(state.teams.get(team.id), team))
        listed = {team.id for team in read.teams}
        divisions = {team.division for team in read.teams}
        for team in state.teams.values():
            is_in = team.id not in state.team_status and team.division in divisions
            if read.teams and is_in and team.id not in listed:
                yield Change(id=team.id, name=team.name, what="gone")
    for member in read.crew:
        name = read.people[member.person].name if member.person in read.people else member.person
        yield Change(id=member.person, name=name, what=_what(state.crew.get(member.person), member))
    before = {item.id: item for item in state.kit}
    for item in read.kit:
        yield Change(id=item.id, name=item.name, what=_what(before.pop(item.id, None), item))
    for item in before.values() if read.kit else ():
        yield Change(id=item.id, name=item.name, what="gone")


def _what(before: object, now: object) -> Literal["new", "changed", "same"]:
    if before is None:
        return "new"
    return "same" if before == now else "changed"


def _alike(state: State, read: _Read) -> Iterator[Alike]:
    """Give teams of nearly the same name, and people of one name in two of the teams read."""
    teams = dict(state.teams) | {team.id: team for team in read.teams}
    new = {team.id for team in read.teams if team.id not in state.teams}
    names = {team.id: _plain(team.name) for team in teams.values()}
    for one in sorted(new):
        for other, name in names.items():
            later = other in new and other <= one
            if _digits(names[one]) != _digits(name):
                continue  # “Team 1” and “Team 2” are two.
            ratio = difflib.SequenceMatcher(None, names[one], name).ratio()
            if other != one and not later and ratio >= _ALIKE:
                yield Alike(kind="team", one=teams[one].name, other=teams[other].name)
    where: dict[str, str] = {}
    for team in read.teams:
        for athlete in team.athletes:
            person = read.people.get(athlete.person)
            name = _plain(person.name) if person is not None else ""
            if name and where.setdefault(name, team.name) != team.name:
                yield Alike(kind="person", one=where[name], other=team.name)


def columns_of(kind: ListKind) -> tuple[str, ...]:
    """Return the columns a list of a kind may have, in the order in which they are offered."""
    return tuple(WORDS[kind])


def of_each_athlete(column: str) -> bool:
    """Whether a column stands once for each athlete where a row is a whole team."""
    return column in OF_EACH_ATHLETE


def value_key(column: str, value: str) -> str:
    """Return under which key a meaning says which of ours a value is."""
    return f"{column}/{_plain(value)}"
