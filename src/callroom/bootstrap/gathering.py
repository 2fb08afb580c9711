"""Bringing over what the first laptop took after its last copy, once it can be read again."""

from collections.abc import Iterator
from pathlib import Path
from typing import cast

import msgspec

from callroom.actions.request import Asked, Request
from callroom.bootstrap.books import open_book
from callroom.bootstrap.codec import CODEC
from callroom.journal.entries import Entry
from callroom.journal.entries.kinds import KINDS
from callroom.model import Actor, Refusal, Role, State


class Gathered(msgspec.Struct, frozen=True, kw_only=True):
    """What was found on the other laptop alone.

    `reports` were handed in here, as they were there: under the same device and key, so that a
    pad that sends them again changes nothing. `decisions` are not repeated: each kind with how
    often it was made there, for people to look at.
    """

    reports: int
    decisions: tuple[tuple[str, int], ...]


def gather(path: Path, other: Path) -> Gathered:
    """Hand in at the book `path` every report that only the book `other` has.

    Raises
    ------
    Refusal
        If the two are not of one event.
    JournalError
        If one of them cannot be opened, or a server has the first.
    """
    book = open_book(path)
    first = open_book(other, writing=False)
    try:
        _need_one_event(book.state, first.state)
        known = {(entry.device, entry.key) for entry in book.store.entries()}
        alone = [entry for entry in first.store.entries() if (entry.device, entry.key) not in known]
        reports = 0
        for request, entry in _requests(alone):
            actor = Actor(
                role=_role(first.state, entry.device), device=entry.device, name=entry.actor
            )
            book.submit(actor, request, key=entry.key).result()
            reports += len(request.proposals)
    finally:
        first.close()
        book.close()
    kinds = [entry.kind for entry in alone if not KINDS[entry.kind].is_report]
    counted = tuple((kind, kinds.count(kind)) for kind in dict.fromkeys(kinds))
    return Gathered(reports=reports, decisions=counted)


def _need_one_event(mine: State, theirs: State) -> None:
    if mine.event is None or theirs.event is None or mine.event.id != theirs.event.id:
        known = mine.event.id if mine.event is not None else ""
        given = theirs.event.id if theirs.event is not None else ""
        raise Refusal("event.another", known=known, given=given)


def _requests(entries: list[Entry]) -> Iterator[tuple[Request, Entry]]:
    """Give the reports that came together as the one request they were, with its first entry."""
    together: dict[tuple[str, str], list[Entry]] = {}
    for entry in entries:
        if KINDS[entry.kind].is_report:
            together.setdefault((entry.device, entry.key), []).append(entry)
    for sent in together.values():
        bodies = tuple(cast("Asked", CODEC.body(entry)) for entry in sent)
        first = sent[0]
        yield (
            Request(
                proposals=bodies,
                seen_at_ms=first.seen_at_ms,
                clock_error_ms=first.clock_error_ms,
            ),
            first,
        )


def _role(state: State, device: str) -> Role:
    known = state.devices.get(device)
    return known.role if known is not None else "director"
