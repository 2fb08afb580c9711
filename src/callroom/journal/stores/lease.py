"""Who holds a book: a lock of the operating system, and where its server answers."""

import os
from pathlib import Path

import msgspec
from filelock import FileLock, Timeout

from callroom.journal.store.errors import BookInUse


class Lease(msgspec.Struct, frozen=True, kw_only=True):
    """Where the server of a running book answers on this machine, and the token it asks for.

    The file that holds it is readable by its owner only.
    """

    book: str
    port: int
    token: str


class Hold:
    """The lock of one open book. The system lets go of it if the process dies."""

    def __init__(self, book: Path) -> None:
        """Take the lock.

        Raises
        ------
        BookInUse
            If another process, or another store in this one, has the book.
        """
        self._book = book
        # No falling back to a mere file: it would outlive a crash and lock the director out.
        self._lock = FileLock(
            _beside(book, "lock"), timeout=0, thread_local=False, fallback_to_soft=False
        )
        try:
            self._lock.acquire()
        except Timeout as fault:
            lease = lease_of(book)
            raise BookInUse(book, lease.port if lease else None) from fault
        # Left by a process that died.
        self.withdraw()

    def announce(self, port: int, token: str) -> Lease:
        """Say where the server answers; `token` lets the owner's commands write through it."""
        self.withdraw()
        lease = Lease(book=str(self._book), port=port, token=token)
        # Made for the owner only before anything is in it.
        descriptor = os.open(
            _beside(self._book, "lease"), os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600
        )
        with os.fdopen(descriptor, "wb") as file:
            file.write(msgspec.json.encode(lease))
        return lease

    def withdraw(self) -> None:
        """The server answers no more."""
        _beside(self._book, "lease").unlink(missing_ok=True)

    def release(self) -> None:
        """Let go of the book."""
        self.withdraw()
        self._lock.release()


def lease_of(book: Path) -> Lease | None:
    """Return where the server of a book in use answers, or None if none says so.

    To be asked after :class:`BookInUse`: a file left by a crash is only removed by the
    next process that takes the book.
    """
    try:
        return msgspec.json.decode(_beside(book, "lease").read_bytes(), type=Lease)
    except (OSError, msgspec.MsgspecError):
        return None


def _beside(book: Path, end: str) -> Path:
    resolved = book.resolve()
    return resolved.with_name(f"{resolved.name}-{end}")
