"""Serving a crowd: one frame to thousands of streams, a cached page, a start from cold.

``fanout_last_client_ratio``: the time from the first byte of a frame of 12 kB to its last byte at
the last of 2,000 streams, against a loop that writes the same bytes to as many sockets and does
nothing else. ``fanout_12kb_vs_100b``: the same time against that of a frame of 100 bytes. Both
are medians of frames told in turn; streams are read by a process of their own.

``board_vs_raw_asgi``: public standings answered a second, by the whole application, against raw
ASGI that sends the same bytes, under 32 connections that ask again as soon as they were answered.

``start_to_first_page_s``: from starting the process until the first page of a book after a full
rehearsal is there. ``rss_mb_serving_demo``: resident memory of that process after its public
pages were read once.
"""

import asyncio
import json
import os
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import cast

import httpx

from callroom.bootstrap.demonstration import make_demo_book

HERE = Path(__file__).resolve().parent
SMALL, LARGE = 100, 12_000
BOARD = "/standings/open"


def figures(*, quick: bool) -> dict[str, float]:
    """Measure all of it on the demonstration's book, rehearsed to its end."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.book"
        make_demo_book(path)
        command = [sys.executable, "-m", "callroom", "rehearse", str(path), "--json"]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        played = path.with_name(f"{path.name}.rehearsal")
        streams, frames = (500, 5) if quick else (2000, 11)
        hub = _told("hub", played, streams, frames)
        bare = _told("bare", played, streams, frames)
        return {
            "fanout_last_client_ms": hub[LARGE],
            "fanout_last_client_ratio": hub[LARGE] / bare[LARGE],
            "fanout_12kb_vs_100b": hub[LARGE] / hub[SMALL],
            "board_vs_raw_asgi": _board(played, 1.0 if quick else 4.0),
            **_started(played),
        }


# ---- streams ---------------------------------------------------------------------------------


class Stream(asyncio.Protocol):
    """One open stream: looks for the end of the frame that is awaited."""

    def __init__(self, port: int, seen: "Seen") -> None:
        """Ask at `port`; tell `seen`."""
        self._port = port
        self._seen = seen
        self._rest = b""

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Ask for the stream."""
        asked = f"GET /live/now HTTP/1.1\r\nHost: localhost:{self._port}\r\n\r\n"
        cast("asyncio.Transport", transport).write(asked.encode())

    def data_received(self, data: bytes) -> None:
        """Count this stream once it has the whole frame."""
        self._rest = (self._rest + data)[-64:]
        if self._seen.end in self._rest:
            self._rest = b""
            self._seen.one()


class Seen:
    """How many streams have the frame that is awaited."""

    def __init__(self, streams: int) -> None:
        """Wait for so many."""
        self._streams = streams
        self.end = b"\0"
        self._missing = 0
        self.complete = asyncio.Event()

    def begin(self, number: int) -> None:
        """Await the frame of this number."""
        self.end = f" end-{number}.".encode()
        self._missing = self._streams
        self.complete.clear()

    def one(self) -> None:
        """One more has it."""
        self._missing -= 1
        if not self._missing:
            self.complete.set()


def _told(mode: str, book: Path, streams: int, frames: int) -> dict[int, float]:
    """Return for each size how long it took until the last stream had a frame [ms]."""
    server = subprocess.Popen(
        [sys.executable, str(HERE / "fanout_server.py"), mode, str(book)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert server.stdout is not None
    try:
        port = json.loads(server.stdout.readline())["port"]
        return asyncio.run(_listened(server, port, streams, frames))
    finally:
        server.kill()
        server.wait()


async def _listened(
    server: "subprocess.Popen[str]", port: int, streams: int, frames: int
) -> dict[int, float]:
    loop = asyncio.get_running_loop()
    seen = Seen(streams)
    for start in range(0, streams, 50):
        await asyncio.gather(
            *(
                loop.create_connection(partial(Stream, port, seen), "127.0.0.1", port)
                for _ in range(min(50, streams - start))
            )
        )
    await asyncio.sleep(2)  # every stream has its first frame
    took_ms: dict[int, list[float]] = {SMALL: [], LARGE: []}
    for number in range(1, 2 * frames + 1):
        size = (SMALL, LARGE)[number % 2]
        seen.begin(number)
        began_ns = await asyncio.to_thread(_ask, server, size)
        await asyncio.wait_for(seen.complete.wait(), 60)
        took_ms[size].append((time.monotonic_ns() - began_ns) / 1e6)
        await asyncio.sleep(0.4)  # within the frames a second that are told
    return {size: statistics.median(found) for size, found in took_ms.items()}


def _ask(server: "subprocess.Popen[str]", size: int) -> int:
    assert server.stdin is not None
    assert server.stdout is not None
    server.stdin.write(f"{size}\n")
    server.stdin.flush()
    return int(server.stdout.readline())


# ---- pages -----------------------------------------------------------------------------------


def _board(book: Path, seconds: float) -> float:
    rates = {}
    for mode in ("whole", "raw"):
        with _serving("board_server.py", mode, str(book)) as (port, _):
            asyncio.run(_asked(port, 0.5))
            rates[mode] = asyncio.run(_asked(port, seconds))
    return rates["whole"] / rates["raw"]


async def _asked(port: int, seconds: float) -> float:
    stop_s = time.perf_counter() + seconds
    counts = await asyncio.gather(*(_ask_again(port, stop_s) for _ in range(32)))
    return sum(counts) / seconds


async def _ask_again(port: int, stop_s: float) -> int:
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    asked = f"GET {BOARD} HTTP/1.1\r\nHost: localhost\r\nCookie: callroom-8000=visit-bench\r\n\r\n"
    count = 0
    while time.perf_counter() < stop_s:
        writer.write(asked.encode())
        head = (await reader.readuntil(b"\r\n\r\n")).lower()
        assert head.startswith(b"http/1.1 200"), head
        await reader.readexactly(int(head.split(b"content-length:")[1].split(b"\r\n")[0]))
        count += 1
    writer.close()
    return count


class _serving:  # noqa: N801 - a block that reads as one
    """A server process while the block lasts: its port, and its number."""

    def __init__(self, script: str, *words: str) -> None:
        self._command = [sys.executable, str(HERE / script), *words]

    def __enter__(self) -> tuple[int, int]:
        self._server = subprocess.Popen(
            self._command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        assert self._server.stdout is not None
        return json.loads(self._server.stdout.readline())["port"], self._server.pid

    def __exit__(self, *_fault: object) -> None:
        self._server.kill()
        self._server.wait()


# ---- from cold -------------------------------------------------------------------------------


def _started(book: Path) -> dict[str, float]:
    port = _free_port()
    started_s = time.perf_counter()
    server = subprocess.Popen(
        [sys.executable, "-m", "callroom", "serve", str(book), "--port", str(port), "--no-browser"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        url = f"http://127.0.0.1:{port}"
        while not _is_there(url):
            time.sleep(0.01)
        took_s = time.perf_counter() - started_s
        for page in ("/", "/timetable", BOARD, "/workouts", "/board", "/screen", "/announcer"):
            httpx.get(url + page)
        return {"start_to_first_page_s": took_s, "rss_mb_serving_demo": _resident_mb(server.pid)}
    finally:
        server.terminate()
        server.wait()


def _is_there(url: str) -> bool:
    try:
        return httpx.get(url).status_code == 200
    except httpx.TransportError:
        return False


def _free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def _resident_mb(process: int) -> float:
    pages = int(Path(f"/proc/{process}/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6
