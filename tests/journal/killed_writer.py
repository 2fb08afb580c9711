"""A process that writes to a book until it is killed, saying what was acknowledged.

Run as ``python -m tests.journal.killed_writer BOOK RUN SLOW_MS``. Several requests are
always in flight, of one to four entries each. A line ``key parts`` on standard output means:
this request was acknowledged. Each commit is made to take `SLOW_MS` longer, as on a slow
disk: an answer given before the disk had the bytes would then be killed before it was true.
"""

import os
import sys
import threading
import time
from pathlib import Path

from callroom.journal.stores import SqliteStore
from tests.journal.counting import Counted, Tally, saying
from tests.journal.disk import opened

SENDERS = 8


def send(store: SqliteStore[Tally], run: str, sender: int) -> None:
    """Send one request after the other, and say each key once it is acknowledged."""
    number = 0
    while True:
        number += 1
        key = f"run{run}-{sender}-{number}"
        parts = 1 + number % 4
        bodies = [Counted(lane=f"{sender}-{part}", reps=number) for part in range(parts)]
        store.submit(saying(*bodies, key=key)).result()
        # One write, so that no line is torn when the process dies.
        os.write(1, f"{key} {parts}\n".encode())


def slow_down(store: SqliteStore[Tally], slow_s: float) -> None:
    """Make every commit wait before it begins."""
    assert store._writing is not None
    ledger = store._writing.writer._ledger
    commit = ledger.commit

    def slowly() -> None:
        time.sleep(slow_s)
        commit()

    ledger.commit = slowly  # type: ignore[method-assign]


def main() -> None:
    """Write until killed."""
    store = opened(Path(sys.argv[1]))
    slow_down(store, int(sys.argv[3]) / 1000)
    for sender in range(SENDERS):
        threading.Thread(target=send, args=(store, sys.argv[2], sender)).start()


if __name__ == "__main__":
    main()
