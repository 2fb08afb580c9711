"""What waits in the writer's queue, each with the future that somebody is waiting on."""

from collections.abc import Callable, Sequence
from concurrent.futures import Future
from typing import Any, Generic, TypeVar

from callroom.journal.store.batch import Batch
from callroom.journal.store.errors import BookIsReadOnly, NotStored
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.side import SideWrite

StateT = TypeVar("StateT")


class Decide(Generic[StateT]):
    """A request to be decided."""

    def __init__(self, future: Future[Receipt], request: Request[StateT]) -> None:
        self._future = future
        self._request = request
        self._outcome: Receipt | Exception = Receipt()

    def settle(self, batch: Batch[StateT]) -> None:
        """Decide it in `batch`; whatever goes wrong is this request's own affair."""
        try:
            self._outcome = batch.settle(self._request)
        except Exception as refusal:  # noqa: BLE001 - goes back to whoever asked
            self._outcome = refusal

    def acknowledge(self) -> None:
        """Answer, now that the transaction is on disk."""
        if isinstance(self._outcome, Exception):
            self._future.set_exception(self._outcome)
        else:
            self._future.set_result(self._outcome)

    def fail(self, fault: Exception) -> None:
        """Answer that nothing was stored."""
        self._future.set_exception(_for_caller(fault))


class Change:
    """Changes of side tables."""

    def __init__(self, future: Future[None], changes: Sequence[SideWrite]) -> None:
        self._future = future
        self._changes = changes

    def settle(self, batch: Batch[Any]) -> None:
        """Put the changes into `batch`."""
        batch.change(self._changes)

    def acknowledge(self) -> None:
        """Answer, now that the transaction is on disk."""
        self._future.set_result(None)

    def fail(self, fault: Exception) -> None:
        """Answer that nothing was stored."""
        self._future.set_exception(_for_caller(fault))


class Alone:
    """Work between two transactions."""

    def __init__(self, future: Future[Any], work: Callable[[], Any]) -> None:
        self._future = future
        self._work = work

    def run(self) -> None:
        """Do the work and answer."""
        try:
            answer = self._work()
        except Exception as fault:  # noqa: BLE001 - goes back to whoever asked
            self._future.set_exception(fault)
        else:
            self._future.set_result(answer)


class Stop:
    """The last thing in the queue."""


Job = Decide[StateT] | Change


def _for_caller(fault: Exception) -> Exception:
    """Return an exception of its own for each caller: they are raised in different threads."""
    if isinstance(fault, BookIsReadOnly):
        return BookIsReadOnly(fault.cause)
    answer = NotStored(repr(fault))
    answer.__cause__ = fault
    return answer
