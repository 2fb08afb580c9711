"""Sends what waits in the outbox, beside the pages, so that no page waits for a mail server."""

import asyncio
import logging
from collections.abc import Callable

from callroom.model import CallroomError
from callroom.web.ports import Book

Walk = Callable[[], None]

_log = logging.getLogger("callroom.web")


class Postman:
    """Goes when told to; what could not be sent waits in the outbox, where pages show it."""

    def __init__(self, book: Book) -> None:
        """Carry the letters of `book`."""
        self._book = book
        self._walks: set[asyncio.Task[None]] = set()

    def begin(self) -> None:
        """Go on with what an earlier server of this book left waiting."""
        self._set_out(self._look_after_and_go)

    def go(self) -> None:
        """Send what waits, soon; returns at once."""
        self._set_out(self._go)

    def _set_out(self, walk: Walk) -> None:
        task = asyncio.get_running_loop().create_task(asyncio.to_thread(_safely, walk))
        self._walks.add(task)
        task.add_done_callback(self._walks.discard)

    def _look_after_and_go(self) -> None:
        self._book.post.look_after()
        self._go()

    def _go(self) -> None:
        post, state = self._book.post, self._book.state
        if post.server is not None and not state.rehearsal and state.away is None:
            post.send_waiting()


def _safely(walk: Walk) -> None:
    try:
        walk()
    except CallroomError as fault:
        _log.warning("letters wait: %s", fault)
    except Exception:  # noqa: BLE001 - whatever it was, the pages are served all the same
        _log.exception("letters wait")
