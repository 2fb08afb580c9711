"""What it costs to have an entry on disk before it is acknowledged.

64 keep-alive connections post reports of arrivals to ``/entries``, each as soon as the last was
answered. The server is a process of its own with the book of the demonstration.

``append_vs_nodb``: answers a second against the same handler, authentication and all, that
neither decides nor stores. ``append_group_gain``: with 4 ms added to every commit, as on a slow
disk, answers a second against one request in a transaction. ``append_entries_per_txn``: entries
for each transaction, with commits as slow as they are here.

``fold_entries_per_s``: entries of a whole rehearsed day decoded and folded, in a warm process;
``fold_vs_json_decode``: that time against decoding the same bytes by Python's own ``json`` alone.
"""

import asyncio
import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import msgspec

from callroom.bootstrap.books import READING, open_book
from callroom.bootstrap.codec import CODEC
from callroom.bootstrap.demonstration import make_demo_book
from callroom.journal.entries import Entry

HERE = Path(__file__).resolve().parent
IN_FLIGHT = 64


def figures(*, quick: bool) -> dict[str, float]:
    """Measure all of it; the median of three turns for what is compared."""
    seconds = 2.0 if quick else 4.0
    turns = 1 if quick else 3
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.book"
        make_demo_book(path)
        rates: dict[str, list[float]] = {}
        per_transaction = []
        for _ in range(turns):
            for mode in ("none", "store", "slow-single", "slow"):
                served = asyncio.run(_posted(mode, path, seconds))
                rates.setdefault(mode, []).append(served.per_s)
                if mode == "store":
                    per_transaction.append(served.per_transaction)
        rate = {mode: sorted(found)[len(found) // 2] for mode, found in rates.items()}
        return {
            "append_per_s": rate["store"],
            "append_vs_nodb": rate["store"] / rate["none"],
            "append_group_gain": rate["slow"] / rate["slow-single"],
            "append_entries_per_txn": sorted(per_transaction)[len(per_transaction) // 2],
            **_folding(path),
        }


class Served(msgspec.Struct, frozen=True):
    """How many answers a second there were, and entries for each transaction."""

    per_s: float
    per_transaction: float


async def _posted(mode: str, path: Path, seconds: float) -> Served:
    server = subprocess.Popen(  # noqa: ASYNC220 - nothing else runs yet
        [sys.executable, str(HERE / "append_server.py"), mode, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert server.stdin is not None
    assert server.stdout is not None
    said = json.loads(server.stdout.readline())
    posts = _posts(path, said["token"])
    await asyncio.gather(*(_post(said["port"], posts, 0.5, f"w{n}") for n in range(IN_FLIGHT)))
    started_s = time.perf_counter()
    counts = await asyncio.gather(
        *(_post(said["port"], posts, seconds, f"{mode}{n}") for n in range(IN_FLIGHT))
    )
    took_s = time.perf_counter() - started_s
    server.stdin.close()
    commits = json.loads(server.stdout.readline())["commits"]
    server.wait()
    whole = took_s + 0.5
    return Served(sum(counts) / took_s, sum(counts) * whole / took_s / max(1, commits))


def _posts(path: Path, token: str) -> Callable[[str], bytes]:
    """Return what makes the bytes of one request, under a key."""
    book = open_book(path, writing=False)
    assert book.state.plan is not None
    heat = book.state.plan.heats[0]
    book.close()
    bodies = [
        json.dumps({"kind": kind, "data": {"heat": heat.id, "team": heat.teams[0]}}).encode()
        for kind in ("team.arrived", "team.awaited")
    ]

    def make(key: str) -> bytes:
        body = bodies[hash(key) % 2]
        head = (
            f"POST /entries HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {token}\r\n"
            f"Content-Type: application/json\r\nIdempotency-Key: {key}\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        return head.encode() + body

    return make


async def _post(port: int, make: Callable[[str], bytes], seconds: float, name: str) -> int:
    """Post on one connection for so long; return how many were answered."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    stop_s = time.perf_counter() + seconds
    count = 0
    while time.perf_counter() < stop_s:
        writer.write(make(f"{name}-{time.monotonic_ns()}-{count}"))
        head = await reader.readuntil(b"\r\n\r\n")
        assert head.startswith(b"HTTP/1.1 200"), head
        length = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0])
        await reader.readexactly(length)
        count += 1
    writer.close()
    return count


def _folding(path: Path) -> dict[str, float]:
    """Fold the journal of a rehearsed day, and decode it."""
    entries = rehearsed(path)
    bodies_s = fold_s = float("inf")
    for _ in range(5):
        started_s = time.perf_counter()
        for entry in entries:
            json.loads(entry.data)
        bodies_s = min(bodies_s, time.perf_counter() - started_s)
        started_s = time.perf_counter()
        builder = READING.folder.begin(READING.empty)
        for entry in entries:
            builder.apply(entry, CODEC.body(entry))
        builder.freeze()
        fold_s = min(fold_s, time.perf_counter() - started_s)
    return {
        "fold_vs_json_decode": fold_s / bodies_s,
        "fold_entries_per_s": len(entries) / fold_s,
    }


def rehearsed(path: Path) -> list[Entry]:
    """Play a whole day with a copy of the book, and return the journal of that copy."""
    command = [sys.executable, "-m", "callroom", "rehearse", str(path), "--speed", "0", "--json"]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    book = open_book(path.with_name(f"{path.name}.rehearsal"), writing=False)
    try:
        return list(book.store.entries())
    finally:
        book.close()
