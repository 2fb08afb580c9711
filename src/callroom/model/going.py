"""Go or no-go: what the director decided on the morning, and what was open then."""

from typing import Literal

import msgspec

Verdict = Literal["go", "go_with_open", "no_go"]


class GoDecision(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the director decided: by which entry, when [ms, UTC], with what still open.

    `open` names the points that asked for attention, by their ids; `reason` holds no name.
    """

    seq: int
    at_ms: int
    verdict: Verdict
    reason: str = ""
    open: tuple[str, ...] = ()
