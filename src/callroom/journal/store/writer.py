"""The one thread that writes: requests are drained into transactions, decided inside them."""

import contextlib
import logging
import queue
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from typing import Generic, TypeVar

from callroom.journal.entries import Entry
from callroom.journal.store.batch import Batch
from callroom.journal.store.errors import BookIsReadOnly, StoreClosed
from callroom.journal.store.jobs import Alone, Change, Decide, Job, Stop
from callroom.journal.store.port import Ledger, OnPublished
from callroom.journal.store.replay import Head, Reading, replay
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.side import SideWrite
from callroom.model.errors import CallroomError

StateT = TypeVar("StateT")
Answer = TypeVar("Answer")

MAX_BATCH = 256
"""Most requests in one transaction: one wait for the disk serves them all, and the first
of them still does not wait noticeably for the last."""

_log = logging.getLogger("callroom.journal")


class Writer(Generic[StateT]):
    """Decides, appends, folds, commits, publishes, acknowledges: in this order, in one thread.

    Nothing is acknowledged, refused or shown before the transaction it was decided in is
    on disk: a refusal, too, may rest on a neighbour in the batch.

    Parameters
    ----------
    ledger
        The database; used by this writer's thread alone from now on.
    reading
        How entries are written and folded.
    head
        What is stored and folded already.
    clock
        The time of receipt [ms since 1970, UTC].
    on_published
        The one wake-up per batch.
    """

    def __init__(
        self,
        *,
        ledger: Ledger,
        reading: Reading[StateT],
        head: Head[StateT],
        clock: Callable[[], int],
        on_published: OnPublished[StateT] | None = None,
    ) -> None:
        self._ledger = ledger
        self._reading = reading
        self._head = head
        self._clock = clock
        self._on_published = on_published
        self._read_only: CallroomError | None = None
        self._queue: queue.SimpleQueue[Job[StateT] | Alone | Stop] = queue.SimpleQueue()
        self._door = threading.Lock()
        self._closed = False
        self._thread = threading.Thread(target=self._run, name="journal-writer", daemon=True)
        self._thread.start()

    @property
    def state(self) -> StateT:
        """The State of the last published batch."""
        return self._head.state

    @property
    def read_only(self) -> CallroomError | None:
        """Why this writer can no longer write, or None."""
        return self._read_only

    def submit(self, request: Request[StateT]) -> Future[Receipt]:
        """Queue a request; see :class:`callroom.journal.store.port.Store`."""
        future: Future[Receipt] = Future()
        self._enter(Decide(future, request), future)
        return future

    def write(self, *changes: SideWrite) -> Future[None]:
        """Queue changes of side tables."""
        future: Future[None] = Future()
        self._enter(Change(future, changes), future)
        return future

    def take(self, table: str, row_id: str) -> Future[bytes | None]:
        """Queue the removal of one row of a side table, which answers with its value."""
        return self.alone(lambda: self._take(table, row_id))

    def _take(self, table: str, row_id: str) -> bytes | None:
        self._ledger.begin()
        try:
            taken = self._ledger.taken(table, row_id)
            self._ledger.commit()
        except BaseException:
            self._ledger.rollback()
            raise
        if taken is not None:
            self._wake(())
        return taken

    def alone(self, work: Callable[[], Answer]) -> Future[Answer]:
        """Queue work that must run in the writer's thread, outside any transaction."""
        future: Future[Answer] = Future()
        self._enter(Alone(future, work), future)
        return future

    def look(self, *, told: bool = False) -> Future[None]:
        """Fold what other processes stored meanwhile; `told`: they said that something changed."""
        return self.alone(lambda: self._look(told=told))

    def close(self) -> None:
        """Finish what is queued, then end the thread. Not to be called from `on_published`."""
        with self._door:
            if not self._closed:
                self._closed = True
                self._queue.put(Stop())
        self._thread.join()

    def _enter(self, job: Job[StateT] | Alone, future: Future[Answer]) -> None:
        # From here on it cannot be cancelled: a phone that hangs up has still sent its report.
        future.set_running_or_notify_cancel()
        with self._door:
            if not self._closed:
                self._queue.put(job)
                return
        future.set_exception(StoreClosed())

    def _run(self) -> None:
        while True:
            jobs, then = self._drain()
            if jobs:
                self._settle(jobs)
            if isinstance(then, Alone):
                then.run()
            elif isinstance(then, Stop):
                return

    def _drain(self) -> tuple[Sequence[Job[StateT]], Alone | Stop | None]:
        """Wait for work; return the next transaction's jobs and what must follow it."""
        jobs: list[Job[StateT]] = []
        job = self._queue.get()
        while not isinstance(job, Alone | Stop):
            jobs.append(job)
            if len(jobs) == MAX_BATCH:
                return jobs, None
            try:
                job = self._queue.get_nowait()
            except queue.Empty:
                return jobs, None
        return jobs, job

    def _settle(self, jobs: Sequence[Job[StateT]]) -> None:
        try:
            entries, changed = self._transact(jobs)
        except Exception as fault:  # noqa: BLE001 - nothing may end this thread
            self._ledger.rollback()
            if not isinstance(fault, BookIsReadOnly):
                _log.exception("a transaction of %d requests was not stored", len(jobs))
            for job in jobs:
                job.fail(fault)
            return
        for job in jobs:
            job.acknowledge()
        if changed:
            self._wake(entries)

    def _transact(self, jobs: Sequence[Job[StateT]]) -> tuple[Sequence[Entry], bool]:
        """Store and publish `jobs`; return the new entries and whether anything changed."""
        self._ledger.begin()
        self._catch_up()
        batch = Batch(
            reading=self._reading,
            head=self._head,
            at_ms=self._clock(),
            stored=self._ledger.stored,
        )
        for job in jobs:
            job.settle(batch)
        rows, head = batch.finish()
        self._ledger.append(rows)
        self._ledger.change(batch.changes)
        self._ledger.commit()
        self._head = head
        return [row.entry for row in rows], bool(rows or batch.changes)

    def _catch_up(self) -> None:
        """Fold what is stored beyond the head.

        Another process wrote it, or a commit that reached the disk but reported a failure.
        """
        rows = list(self._ledger.rows(self._head.seq))
        if rows:
            replayed = replay(self._reading, self._head, rows)
            self._head = replayed.head
            self._read_only = replayed.stopped
            self._wake([row.entry for row in rows if row.entry.seq <= self._head.seq])
        if self._read_only is not None:
            raise BookIsReadOnly(self._read_only)

    def _look(self, *, told: bool) -> None:
        known = self._head.seq
        with contextlib.suppress(BookIsReadOnly):
            self._catch_up()
        if told and self._head.seq == known:
            # Only side tables changed, or what is meant came with an earlier look.
            self._wake(())

    def _wake(self, entries: Sequence[Entry]) -> None:
        if self._on_published is None:
            return
        try:
            self._on_published(self._head.state, entries)
        except Exception:  # noqa: BLE001 - nothing may end this thread
            # What is stored is stored; a listener's fault must not stop the writer.
            _log.exception("a listener failed after %d entries were published", len(entries))
