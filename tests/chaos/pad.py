"""A phone on a bad link: it writes down what is typed, and sends it until that is acknowledged."""

import random
import ssl
import threading

import httpx
import msgspec

from callroom.actions.request import kind_of
from callroom.model import ScoreReport

_PATIENCE_S = 5.0
_TRIES = 400
# Read once: for every client anew it would take longer than the scores.
_CERTIFICATES = ssl.create_default_context()


class Typed(msgspec.Struct, kw_only=True):
    """One score in the phone's own log: its key, what was typed, whether it was acknowledged."""

    key: str
    report: ScoreReport
    acknowledged: bool = False


class Pad:
    """One device. What it keeps survives its being killed; what it knows in memory does not.

    The link loses every eighth request before it arrives, and every eighth answer after the
    server has done its work.
    """

    def __init__(self, url: str, token: str, name: str, seed: int) -> None:
        """Begin with an empty log."""
        self._url = url
        self._token = token
        self._name = name
        self._chance = random.Random(f"{seed}/{name}")
        self.log: list[Typed] = []
        self.kills = 0
        self.sends = 0

    def type(self, report: ScoreReport) -> None:
        """Write down what was typed; from here on it must not be lost."""
        self.log.append(Typed(key=f"{self._name}-{len(self.log)}", report=report))

    def flush(self) -> None:
        """Send what waits, in order, until all of it is acknowledged."""
        with httpx.Client(
            base_url=self._url,
            timeout=_PATIENCE_S,
            trust_env=False,
            verify=_CERTIFICATES,
        ) as link:
            for typed in self.log:
                if not typed.acknowledged:
                    self._send(link, typed)

    def _send(self, link: httpx.Client, typed: Typed) -> None:
        pause = threading.Event()
        for attempt in range(_TRIES):
            if self._try(link, typed):
                typed.acknowledged = True
                return
            pause.wait(min(0.01 * (attempt + 1), 0.2))
        raise AssertionError(f"{self._name} was never answered about {typed.key}")

    def _try(self, link: httpx.Client, typed: Typed) -> bool:
        fate = self._chance.random()
        self.sends += 1
        if fate < 1 / 8:
            return False  # refused, or fallen into a black hole, before it arrived
        body = {"kind": kind_of(typed.report), "data": msgspec.to_builtins(typed.report)}
        headers = {"Authorization": f"Bearer {self._token}", "Idempotency-Key": typed.key}
        try:
            answer = link.post("/entries", content=msgspec.json.encode(body), headers=headers)
        except httpx.TransportError:
            return False
        if fate < 1 / 4:
            # The answer is lost, or the phone dies before it has written down that it came.
            self.kills += fate < 3 / 16
            return False
        assert answer.status_code in {200, 429, 503}, answer.text
        return answer.status_code == httpx.codes.OK
