"""Files that are there whole or not at all."""

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from callroom.journal.store.errors import FileInTheWay


@contextmanager
def whole_file(path: Path, *, force: bool = False) -> Iterator[Path]:
    """Offer an empty file beside `path` to be filled; put it in place when that went well.

    The file is readable by its owner only, since a book holds medical notes. If filling
    it fails, nothing is left behind.

    Raises
    ------
    FileInTheWay
        If `path` exists and `force` is false.
    """
    _refuse_existing(path, force=force)
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    try:
        yield part
        _sync(part)
        _refuse_existing(path, force=force)
        part.replace(path)
        _sync_folder(path.parent)
    finally:
        for leftover in (part, *(part.with_name(part.name + end) for end in _SQLITE_ENDS)):
            leftover.unlink(missing_ok=True)


_SQLITE_ENDS = ("-journal", "-wal", "-shm")


def _refuse_existing(path: Path, *, force: bool) -> None:
    if path.exists() and not force:
        raise FileInTheWay(path)


def _sync(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _sync_folder(folder: Path) -> None:
    """Make the new name itself durable; Windows does that with the file."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
