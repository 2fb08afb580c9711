"""A process that writes to a book in PostgreSQL, or listens to it, and says what it heard.

``python postgres_worker.py write|listen URL NUMBER ENTRIES TOTAL``
"""

import json
import sys
import threading
import time
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from callroom.journal import Entry
from callroom.journal.stores.database import database_of
from callroom.journal.stores.postgres import PostgresStore, open_database
from tests.journal.counting import READING, START_MS, Tally, count

WRITERS = 2
IN_FLIGHT = 32


def main() -> None:
    """Write or listen until as many entries were heard as there will be in all."""
    task, url, number, entries, total = sys.argv[1:]
    heard: list[int] = []
    when: dict[int, int] = {}
    complete = threading.Event()

    def hear(_state: Tally, new: Sequence[Entry]) -> None:
        now_ns = time.monotonic_ns()
        for entry in new:
            heard.append(entry.seq)
            when[entry.seq] = now_ns
        if len(heard) >= int(total):
            complete.set()

    database = database_of(url)
    with closing(
        open_database(database, READING, clock=lambda: START_MS, on_published=hear)
    ) as book:
        print("open", flush=True)
        if task == "write":
            sys.stdin.readline()
            writers = [
                threading.Thread(target=write, args=(book, f"{number}-{writer}", int(entries)))
                for writer in range(WRITERS)
            ]
            for thread in writers:
                thread.start()
            for thread in writers:
                thread.join()
        complete.wait(timeout=20)
        print(json.dumps(heard if task == "write" else when), flush=True)


def write(book: PostgresStore[Tally], name: str, entries: int) -> None:
    """Submit so many counts, some of them in flight at a time."""
    for start in range(0, entries, IN_FLIGHT):
        numbers = range(start, min(start + IN_FLIGHT, entries))
        futures = [book.submit(count(name, n, key=f"{name}-{n}")) for n in numbers]
        for future in futures:
            future.result()


if __name__ == "__main__":
    main()
