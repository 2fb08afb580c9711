"""Clocks: the wall clock for a real day, others for a practice run and for tests."""

import threading
import time
from typing import Protocol


class Clock(Protocol):
    """Tells the time, and can wait for one."""

    @property
    def speed(self) -> int:
        """How many times as fast as a wall clock it runs; 0: it stands until it is moved."""

    def now_ms(self) -> int:
        """Return the time [ms since 1970, UTC]."""

    def wait_until(self, at_ms: int) -> None:
        """Return when the time is `at_ms` or later."""


class WallClock:
    """The machine's own clock."""

    speed = 1

    def now_ms(self) -> int:
        """Return the time [ms since 1970, UTC]."""
        return time.time_ns() // 1_000_000

    def wait_until(self, at_ms: int) -> None:
        """Sleep until `at_ms`."""
        while (left_ms := at_ms - self.now_ms()) > 0:
            time.sleep(min(left_ms, 1000) / 1000)


class SteppedClock:
    """A clock that jumps to whatever is waited for, so that a whole day takes seconds."""

    speed = 0

    def __init__(self, start_ms: int) -> None:
        """Begin at `start_ms`."""
        self._now_ms = start_ms
        self._lock = threading.Lock()

    def now_ms(self) -> int:
        """Return the time [ms since 1970, UTC]."""
        return self._now_ms

    def wait_until(self, at_ms: int) -> None:
        """Jump to `at_ms`, never back."""
        with self._lock:
            self._now_ms = max(self._now_ms, at_ms)


class FastClock:
    """A clock that runs `speed` times as fast as the wall clock, from a given instant."""

    def __init__(self, start_ms: int, speed: int) -> None:
        """Begin at `start_ms` now."""
        self._start_ms = start_ms
        self.speed = speed
        self._began_ns = time.monotonic_ns()

    def now_ms(self) -> int:
        """Return the time [ms since 1970, UTC]."""
        passed_ns = time.monotonic_ns() - self._began_ns
        return self._start_ms + passed_ns * self.speed // 1_000_000

    def wait_until(self, at_ms: int) -> None:
        """Sleep until the fast clock shows `at_ms`."""
        while (left_ms := at_ms - self.now_ms()) > 0:
            time.sleep(min(left_ms / self.speed, 1000) / 1000)
