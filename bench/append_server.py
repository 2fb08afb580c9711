"""The server behind the figures of appending: ``python append_server.py MODE BOOK``.

MODE: ``store`` as it is; ``none`` answers from the same handler without deciding or storing
anything; ``slow`` has 4 ms added to every commit; ``slow-single`` the same with one request in a
transaction. It says its port and a token, and at the end how many transactions it made.
"""

import asyncio
import json
import sys
import threading
import time
from pathlib import Path
from typing import Any

from callroom.bootstrap.books import open_book
from callroom.bootstrap.open_book import Outcome
from callroom.cli.rehearsal import Stage
from callroom.journal.store import writer
from callroom.web import house

SLOW_S = 0.004


def main() -> None:
    """Serve until standard input ends."""
    mode, path = sys.argv[1:]
    for limit in ("POSTS_AT_ONCE", "POSTS_PER_S"):
        setattr(house, limit, 10**9)
    if mode == "slow-single":
        writer.MAX_BATCH = 1
    book = open_book(Path(path))
    token = asyncio.run(book.doors.join(book.doors.make_code("crew", ""), "", "here"))[1]
    ledger = book.store._writer._ledger  # type: ignore[attr-defined]  # noqa: SLF001
    commits = _counted(ledger, SLOW_S if mode.startswith("slow") else 0.0)
    if mode == "none":
        book.ask = _answer  # type: ignore[method-assign]
    with Stage(book) as stage:
        print(json.dumps({"port": stage.port, "token": token}), flush=True)
        threading.Thread(target=sys.stdin.read).run()
        print(json.dumps({"commits": commits[0]}), flush=True)
    book.close()


def _counted(ledger: Any, slow_s: float) -> list[int]:  # noqa: ANN401 - the store's own
    """Have commits counted, and made slower."""
    count, commit = [0], ledger.commit

    def counted() -> None:
        count[0] += 1
        if slow_s:
            time.sleep(slow_s)
        commit()

    ledger.commit = counted
    return count


async def _answer(*_asked: object, **_more: object) -> Outcome:
    return Outcome(seqs=(1,), replayed=False)


if __name__ == "__main__":
    main()
