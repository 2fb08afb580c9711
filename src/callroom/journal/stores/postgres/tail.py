"""Hearing what other processes wrote: a connection that listens, and a look every second."""

import logging
import threading
import time
from collections.abc import Callable

import psycopg
from psycopg import sql

from callroom.journal.store.errors import DatabaseFault
from callroom.journal.stores.database import Database
from callroom.journal.stores.postgres.connections import Connection, connect

LOOK_EVERY_S = 1.0
"""Also without news: a message may be lost with the connection that carried it."""

_FIRST_WAIT_S, _LONGEST_WAIT_S = 0.1, 5.0

_log = logging.getLogger("callroom.journal")


class Tail:
    """Calls `look` whenever another process may have written, in a thread of its own.

    Parameters
    ----------
    look
        Reads what is new; its argument says whether another process said there is something.
    own
        The server's number of the connection this process writes with.
    """

    def __init__(
        self, database: Database, look: Callable[[bool], object], own: Callable[[], int]
    ) -> None:
        self._database = database
        self._look = look
        self._own = own
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._run, name="journal-tail", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Listen no more."""
        self._ended.set()
        self._thread.join()

    def _run(self) -> None:
        wait_s = _FIRST_WAIT_S
        while not self._ended.is_set():
            try:
                with connect(self._database) as connection:
                    self._listen(connection)
                    # What was written while nobody listened is in the journal.
                    self._look(True)
                    wait_s = _FIRST_WAIT_S
                    self._hear(connection)
            except (DatabaseFault, psycopg.Error) as fault:
                _log.warning("not listening to %s just now: %s", self._database, fault)
                self._ended.wait(wait_s)
                wait_s = min(2 * wait_s, _LONGEST_WAIT_S)

    def _listen(self, connection: Connection) -> None:
        connection.execute(sql.SQL("LISTEN {}").format(sql.Identifier(self._database.channel)))

    def _hear(self, connection: Connection) -> None:
        looked_s = time.monotonic()
        while not self._ended.is_set():
            told = False
            for news in connection.notifies(timeout=LOOK_EVERY_S / 4, stop_after=1):
                told = told or news.pid != self._own()
            if told or time.monotonic() - looked_s >= LOOK_EVERY_S:
                looked_s = time.monotonic()
                self._look(told)
