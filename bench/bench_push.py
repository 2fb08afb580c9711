"""How soon a score is on every spectator's screen.

``standings_push_p99_ms``: from the acknowledgment of a score to its standings on each of 500
open streams (100 when quick), the 99th percentile over all streams and scores [ms]. The server
is a process of its own with a real book on disk; the spectators are raw sockets of this one, so
that what is measured is the server and the loopback. Scores come at seeded random moments, about
one in a second, as at the end of a heat.
"""

import asyncio
import random
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import cast

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import httpx
import msgspec

from callroom.bootstrap.books import open_book
from callroom.model import ScoreReport
from tests.chaos.book import chaos_book, clock_at_the_end
from tests.chaos.playing import scheduled
from tests.chaos.server import Killed

SEED = 1
DIVISION = "open"


def figures(*, quick: bool) -> dict[str, float]:
    """Serve, watch, score, and take the 99th percentile of the delays."""
    spectators, scores = (100, 10) if quick else (500, 40)
    with tempfile.TemporaryDirectory() as kept:
        path = Path(kept) / "day.book"
        chaos_book(path)
        reports = _reports(path)[:scores]
        token = _token(path)
        server = Killed(path)
        try:
            delays_ms = asyncio.run(_measure(server, token, reports, spectators))
        finally:
            server.stop()
    delays_ms.sort()
    return {"standings_push_p99_ms": delays_ms[int(len(delays_ms) * 0.99)]}


def _reports(path: Path) -> list[ScoreReport]:
    """Return the first scores of lanes of the division that is watched: each changes it."""
    book = open_book(path, writing=False)
    teams = {team.id for team in book.state.teams.values() if team.division == DIVISION}
    book.close()
    pads = (report for _, _, report in scheduled(path, SEED) if report.source == "pad")
    return [report for report in pads if report.team in teams]


def _token(path: Path) -> str:
    book = open_book(path, clock=clock_at_the_end())
    code = book.doors.make_code("judge", "")
    token = asyncio.run(book.doors.join(code, "", "here"))[1]
    book.close()
    return token


class Spectator(asyncio.Protocol):
    """One open stream: when it first had each entry, whole. It reads no more than it must."""

    def __init__(self, port: int) -> None:
        """Begin with nothing seen."""
        self._port = port
        self._rest = b""
        self._coming: int | None = None
        self.seen: list[tuple[float, int]] = []
        self.ready = asyncio.Event()

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Ask for the stream."""
        ask = f"GET /live/standings/{DIVISION} HTTP/1.1\r\nHost: localhost:{self._port}\r\n\r\n"
        cast("asyncio.Transport", transport).write(ask.encode())

    def data_received(self, data: bytes) -> None:
        """Look for the number of an entry, then for the empty line that ends its frame."""
        data = self._rest + data
        at = 0
        while True:
            if self._coming is None:
                start = data.find(b"\nid: ", at)
                end = data.find(b"\n", start + 1)
                if start < 0 or end < 0:
                    break
                self._coming, at = int(data[start + 5 : end]), end
            done = data.find(b"\n\n", at)
            if done < 0:
                break
            self.seen.append((time.perf_counter(), self._coming))
            self.ready.set()
            self._coming, at = None, done + 1
        self._rest = data[max(at, len(data) - 32) :]

    def had(self, seq: int) -> float | None:
        """Return when this stream first showed entry `seq`, or a later one."""
        return next((at for at, shown in self.seen if shown >= seq), None)


def _itself(one: Spectator) -> Spectator:
    return one


async def _measure(
    server: Killed, token: str, reports: list[ScoreReport], spectators: int
) -> list[float]:
    watching = [Spectator(server.port) for _ in range(spectators)]
    loop = asyncio.get_running_loop()
    transports = [
        (await loop.create_connection(partial(_itself, one), "127.0.0.1", server.port))[0]
        for one in watching
    ]
    for one in watching:
        await one.ready.wait()
    acknowledged = await _score(server, token, reports)
    await asyncio.sleep(2)
    for transport in transports:
        transport.close()
    delays_ms = []
    for at, seq in acknowledged:
        for one in watching:
            shown = one.had(seq)
            if shown is None:
                sys.exit(f"a spectator never saw entry {seq}")
            delays_ms.append(max(shown - at, 0.0) * 1000)
    return delays_ms


async def _score(server: Killed, token: str, reports: list[ScoreReport]) -> list[tuple[float, int]]:
    chance = random.Random(SEED)
    acknowledged = []
    async with httpx.AsyncClient(base_url=server.url, trust_env=False) as link:
        for number, report in enumerate(reports):
            await asyncio.sleep(chance.expovariate(1.0))
            body = {"kind": "score.reported", "data": msgspec.to_builtins(report)}
            headers = {"Authorization": f"Bearer {token}", "Idempotency-Key": f"k{number}"}
            answer = await link.post("/entries", content=msgspec.json.encode(body), headers=headers)
            at = time.perf_counter()
            acknowledged.append((at, answer.raise_for_status().json()["seqs"][-1]))
    return acknowledged
