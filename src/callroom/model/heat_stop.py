"""A heat whose clock was stopped before its end. It is never paused: somebody rules on it."""

from typing import Literal

import msgspec

StopRuling = Literal["as_at_stop", "rerun", "credit"]
"""Scores count as they stood at the stop; all run again; or the time lost is credited."""


class HeatStop(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """When the clock of a heat was stopped [ms, UTC], why, and what was ruled (None: not yet)."""

    at_ms: int
    reason: str
    ruling: StopRuling | None = None
    ruled_for: str = ""
