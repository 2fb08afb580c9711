"""Which devices have a lane open right now: known by their asking, forgotten when they stop."""

import time
from collections.abc import Callable

from callroom.views.lane_pad import PadOther

# A pad asks every five seconds; after three silences it is taken to be gone.
GONE_AFTER_S = 16.0

Lane = tuple[str, int]


class LaneWatch:
    """Remembers who asked about a lane lately. Nothing of it is kept on disk."""

    def __init__(self, tell_s: Callable[[], float] = time.monotonic) -> None:
        """Measure silences with the steady clock `tell_s` [s]."""
        self._tell_s = tell_s
        self._seen: dict[Lane, dict[str, tuple[float, PadOther]]] = {}

    def note(self, lane: Lane, device: str, part: str, done: int) -> tuple[PadOther, ...]:
        """Note that `device` shows `done` in a part of a lane; return what others show there."""
        now_s = self._tell_s()
        here = {
            known: (seen_s, other)
            for known, (seen_s, other) in self._seen.get(lane, {}).items()
            if now_s - seen_s < GONE_AFTER_S
        }
        here[device] = (now_s, PadOther(part=part, done=done))
        self._seen[lane] = here
        return tuple(other for known, (_, other) in sorted(here.items()) if known != device)
