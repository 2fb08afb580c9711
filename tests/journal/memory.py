"""A ledger in memory, whose commits can be made to fail; and a way to fill one batch."""

import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future
from types import TracebackType

from callroom.journal.store import Receipt, Request, Row, SideWrite
from tests.journal.counting import Counted, Tally, asking


class DiskFull(Exception):
    """What a failing commit raises here."""


class MemoryLedger:
    """Keeps rows in lists; `committed` is what would survive a crash."""

    def __init__(self) -> None:
        self.committed: list[Row] = []
        self.side: dict[tuple[str, str], bytes] = {}
        self.commits: list[int] = []
        self.fail_next = 0
        self.lie_next = 0
        self._pending: list[Row] = []
        self._changes: list[SideWrite] = []

    def begin(self) -> None:
        self._pending, self._changes = [], []

    def rows(self, after: int) -> Iterator[Row]:
        return iter([row for row in self.committed if row.entry.seq > after])

    def stored(self, device: str, key: str) -> Sequence[Row]:
        return [row for row in self.committed if (row.entry.device, row.entry.key) == (device, key)]

    def append(self, rows: Sequence[Row]) -> None:
        self._pending.extend(rows)

    def change(self, changes: Sequence[SideWrite]) -> None:
        self._changes.extend(changes)

    def taken(self, table: str, row_id: str) -> bytes | None:
        self._changes.append(SideWrite(table, row_id, None))
        return self.side.get((table, row_id))

    def commit(self) -> None:
        if self.fail_next:
            self.fail_next -= 1
            raise DiskFull("disk full")
        self.committed.extend(self._pending)
        self.commits.append(len(self._pending))
        for change in self._changes:
            if change.value is None:
                self.side.pop((change.table, change.id), None)
            else:
                self.side[change.table, change.id] = change.value
        if self.lie_next:
            self.lie_next -= 1
            raise DiskFull("it reached the disk, but nobody heard")

    def rollback(self) -> None:
        self._pending, self._changes = [], []


class Held:
    """Holds the writer inside one request, so that what is submitted meanwhile is one batch."""

    def __init__(self, submit: Callable[[Request[Tally]], Future[Receipt]]) -> None:
        self._submit = submit
        self._go = threading.Event()
        self._inside = threading.Event()

    def __enter__(self) -> None:
        def wait(_: Tally) -> Sequence[Counted]:
            self._inside.set()
            assert self._go.wait(timeout=30)
            return []

        self._submit(asking(wait))
        assert self._inside.wait(timeout=30)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._go.set()
