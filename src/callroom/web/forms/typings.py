"""Cards typed by two people: what the first one typed is kept until the second has typed too."""

from collections.abc import Mapping, Sequence
from typing import Protocol

import msgspec

from callroom.model import Finding
from callroom.views.codes import CardRef
from callroom.web.forms.read_entry import PartResult

_PREFIX = "card/"


class Typing(msgspec.Struct, frozen=True, kw_only=True):
    """What one device typed of a card, and when [ms, UTC]. It counts for nothing yet."""

    ref: CardRef
    device: str
    at_ms: int
    results: tuple[PartResult, ...]


class Drafts(Protocol):
    """What is begun and not yet decided, kept in the book."""

    def drafts(self, prefix: str, /) -> Mapping[str, bytes]:
        """Return it by its name, where that begins so."""

    def keep_draft(self, name: str, draft: bytes | None, /) -> None:
        """Keep it under a name, or (None) let go of it; writes to disk."""


def typings(book: Drafts) -> tuple[Typing, ...]:
    """Return every card that one person has typed, the oldest first."""
    kept = (msgspec.json.decode(draft, type=Typing) for draft in book.drafts(_PREFIX).values())
    return tuple(sorted(kept, key=lambda typing: typing.at_ms))


def typing_of(book: Drafts, ref: CardRef) -> Typing | None:
    """Return what the first person typed of a card; None: nobody has."""
    draft = book.drafts(_name(ref)).get(_name(ref))
    return msgspec.json.decode(draft, type=Typing) if draft is not None else None


def keep_typing(book: Drafts, typing: Typing) -> None:
    """Keep a first typing until the second comes."""
    book.keep_draft(_name(typing.ref), msgspec.json.encode(typing))


def drop_typing(book: Drafts, ref: CardRef) -> None:
    """Let go of a first typing: the card is handed in."""
    book.keep_draft(_name(ref), None)


def differences(first: Typing, results: Sequence[PartResult]) -> tuple[Finding, ...]:
    """Return the parts in which the second person typed something else, or nothing."""
    was = {one.part: one.result for one in first.results}
    now = {one.part: one.result for one in results}
    return tuple(
        Finding(
            rule="score.typed_differently",
            severity="warning",
            subject=f"score.{first.ref.workout}.{part}.{first.ref.team}",
            facts={"workout": first.ref.workout, "part": part, "team": first.ref.team},
        )
        for part in {**was, **now}
        if was.get(part) != now.get(part)
    )


def _name(ref: CardRef) -> str:
    return f"{_PREFIX}{ref.workout}/{ref.team}/{ref.attempt}/{ref.amendment}"
