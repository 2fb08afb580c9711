"""What somebody asks for: entries they propose, and what they saw when they asked."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, cast

import msgspec

from callroom.journal.entries.bodies import Body
from callroom.journal.entries.kinds import KINDS
from callroom.model import BadInput, Finding, LaneNote, ScoreReport

Asked = Body | ScoreReport | LaneNote


class Request(msgspec.Struct, frozen=True, kw_only=True):
    """Entries to be stored all together or not at all.

    Attributes
    ----------
    proposals
        The bodies of the entries, in order; a body's type says its kind.
    basis
        The subjects the asker looked at with the `seq` they then had; if one has moved
        on, the request is refused as stale.
    seen_at_ms, clock_error_ms
        For reports: when it was seen by the device's clock [ms, UTC], and how wrong that
        clock is known to be at most [ms].
    initials
        Whose word it is that a count is right. A person's, so it goes beside the journal.
    """

    proposals: tuple[Asked, ...]
    basis: Mapping[str, int] = {}
    seen_at_ms: int | None = None
    clock_error_ms: int | None = None
    initials: str = ""


NAMES: Mapping[type, str] = MappingProxyType({kind.body: name for name, kind in KINDS.items()})


class PostedEntry(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One proposed entry as a page or a lane pad sends it."""

    kind: str
    data: msgspec.Raw
    basis: dict[str, int] = {}
    seen_at_ms: int | None = None
    clock_error_ms: int | None = None
    initials: Annotated[str, msgspec.Meta(max_length=8)] = ""


def read_posted(raw: bytes) -> Request:
    """Return the request that a page or lane pad sent as JSON.

    Raises
    ------
    BadInput
        If the text is not such an entry: unknown kind, missing or unknown field.
    """
    try:
        posted = msgspec.json.decode(raw, type=PostedEntry)
    except msgspec.MsgspecError as fault:
        raise BadInput((_unreadable("", fault),)) from fault
    return Request(
        proposals=(body_of(posted.kind, bytes(posted.data)),),
        basis=posted.basis,
        seen_at_ms=posted.seen_at_ms,
        clock_error_ms=posted.clock_error_ms,
        initials=posted.initials.strip(),
    )


def body_of(kind: str, data: bytes) -> Asked:
    """Return the body that `data` [JSON] is for a kind; BadInput if it is none."""
    known = KINDS.get(kind)
    if known is None:
        raise BadInput((_finding("request.unknown_kind", kind=kind),))
    try:
        return cast("Asked", msgspec.json.decode(data, type=known.body))
    except msgspec.MsgspecError as fault:
        raise BadInput((_unreadable(kind, fault),)) from fault


def kind_of(body: Asked) -> str:
    """Return the kind of entry a body belongs to."""
    return NAMES[type(body)]


def _unreadable(kind: str, fault: msgspec.MsgspecError) -> Finding:
    return _finding("request.unreadable", kind=kind, fault=str(fault))


def _finding(rule: str, **facts: str) -> Finding:
    return Finding(rule=rule, severity="error", subject="request", facts=facts)


def propose(*bodies: Asked, basis: Mapping[str, int] | None = None) -> Request:
    """Return a request for these entries, which rests on `basis`."""
    return Request(proposals=bodies, basis=basis or {})


def content(request: Request) -> bytes:
    """Return the request as bytes in one fixed form: what must stay the same under one key."""
    named = [(type(body).__name__, body) for body in request.proposals]
    return msgspec.json.encode(named, order="sorted")
