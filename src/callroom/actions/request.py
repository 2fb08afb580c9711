"""What somebody asks for: entries they propose, and what they saw when they asked."""

from collections.abc import Mapping
from typing import cast

import msgspec

from callroom.journal.entries.bodies import Body
from callroom.journal.entries.kinds import KINDS
from callroom.model import BadInput, Finding, ScoreReport

Asked = Body | ScoreReport


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
    """

    proposals: tuple[Asked, ...]
    basis: Mapping[str, int] = {}
    seen_at_ms: int | None = None
    clock_error_ms: int | None = None


class PostedEntry(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One proposed entry as a page or a lane pad sends it."""

    kind: str
    data: msgspec.Raw
    basis: dict[str, int] = {}
    seen_at_ms: int | None = None
    clock_error_ms: int | None = None


def read_posted(raw: bytes) -> Request:
    """Return the request that a page or lane pad sent as JSON.

    Raises
    ------
    BadInput
        If the text is not such an entry: unknown kind, missing or unknown field.
    """
    try:
        posted = msgspec.json.decode(raw, type=PostedEntry)
        kind = KINDS.get(posted.kind)
        if kind is None:
            raise BadInput((_finding("request.unknown_kind", posted.kind, ""),))
        body = cast("Asked", msgspec.json.decode(posted.data, type=kind.body))
    except msgspec.DecodeError as fault:
        raise BadInput((_finding("request.unreadable", "", str(fault)),)) from fault
    return Request(
        proposals=(body,),
        basis=posted.basis,
        seen_at_ms=posted.seen_at_ms,
        clock_error_ms=posted.clock_error_ms,
    )


def _finding(rule: str, kind: str, fault: str) -> Finding:
    return Finding(
        rule=rule, severity="error", subject="request", facts={"kind": kind, "fault": fault}
    )


def propose(*bodies: Asked, basis: Mapping[str, int] | None = None) -> Request:
    """Return a request for these entries, which rests on `basis`."""
    return Request(proposals=bodies, basis=basis or {})
