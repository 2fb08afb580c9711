"""Limits on how often one sender may ask: a bucket that fills again with time."""

import time
from collections import OrderedDict
from collections.abc import Callable

from callroom.model import CallroomError

MOST_SENDERS = 10_000


class TooOften(CallroomError):
    """More requests from one sender than a person makes; says when to try again."""

    def __init__(self, wait_s: int) -> None:
        """Keep the wait [s]."""
        super().__init__("web.too_often", wait_s=wait_s)


class Throttle:
    """Lets each sender ask `burst` times at once and `per_s` times a second after that."""

    def __init__(
        self, burst: int, per_s: float, tell_s: Callable[[], float] = time.monotonic
    ) -> None:
        """Begin with every bucket full; `tell_s` tells the seconds that have passed."""
        self._burst = burst
        self._per_s = per_s
        self._tell_s = tell_s
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def take(self, sender: str) -> None:
        """Count one request of `sender`; TooOften if its bucket is empty."""
        now_s = self._tell_s()
        left, seen_s = self._left.pop(sender, (float(self._burst), now_s))
        left = min(self._burst, left + (now_s - seen_s) * self._per_s)
        if left < 1:
            self._left[sender] = (left, now_s)
            raise TooOften(max(1, round((1 - left) / self._per_s)))
        self._left[sender] = (left - 1, now_s)
        if len(self._left) > MOST_SENDERS:
            self._left.popitem(last=False)
