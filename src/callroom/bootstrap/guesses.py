"""Patience after wrong guesses, for each place they come from and for the thing guessed."""

from callroom.bootstrap.clocks import Clock
from callroom.model import Refusal

# Common practice, no source: a person mistypes a few times; a machine goes on for ever.
FREE_TRIES = 5
FIRST_WAIT_MS = 2_000
LONGEST_WAIT_MS = 15 * 60 * 1000
# All origins together may try so often before everyone waits: a guesser with many addresses.
FREE_TRIES_TOGETHER = 50
MOST_ORIGINS = 10_000


class Guesses:
    """Counts wrong guesses and asks for ever longer waits."""

    def __init__(self, clock: Clock) -> None:
        """Tell the time by `clock`."""
        self._clock = clock
        self._wrong: dict[tuple[str, str], tuple[int, int]] = {}

    def need_patience(self, what: str, origin: str) -> None:
        """Refuse with the seconds to wait if there were too many wrong guesses."""
        now_ms = self._clock.now_ms()
        wait_ms = max(
            self._wait_ms((what, origin), FREE_TRIES, now_ms),
            self._wait_ms((what, ""), FREE_TRIES_TOGETHER, now_ms),
        )
        if wait_ms > 0:
            raise Refusal("guesses.too_many", wait_s=-(-wait_ms // 1000))

    def note_wrong(self, what: str, origin: str) -> None:
        """Count one wrong guess."""
        if len(self._wrong) >= MOST_ORIGINS:
            self._wrong.clear()
        now_ms = self._clock.now_ms()
        for key in ((what, origin), (what, "")):
            self._wrong[key] = (self._wrong.get(key, (0, 0))[0] + 1, now_ms)

    def forget(self, what: str, origin: str) -> None:
        """Forget the wrong guesses of an origin that then got it right."""
        self._wrong.pop((what, origin), None)

    def _wait_ms(self, key: tuple[str, str], free: int, now_ms: int) -> int:
        count, last_ms = self._wrong.get(key, (0, 0))
        if count < free:
            return 0
        wait_ms = min(FIRST_WAIT_MS << min(count - free, 20), LONGEST_WAIT_MS)
        return last_ms + wait_ms - now_ms
