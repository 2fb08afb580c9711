"""Copies of a book, consistent while it is in use: whole, or fit to be shared."""

from contextlib import closing
from pathlib import Path

import msgspec

from callroom.journal.store.errors import FileInTheWay, NotWritten
from callroom.journal.store.seal import Seal
from callroom.journal.store.side import SHARED_TABLES, BackupMade
from callroom.journal.stores import rows
from callroom.journal.stores.connections import connect_new, connect_reader, damage_named
from callroom.journal.stores.durable import whole_file
from callroom.journal.stores.layout import migrate


def copy_book(
    book: Path, dest: Path, *, at_ms: int, share: bool = False, force: bool = False
) -> BackupMade:
    """Write a copy of `book` to `dest`, which holds one moment of it.

    Parameters
    ----------
    at_ms
        The time to note with the copy [ms since 1970, UTC].
    share
        Leave out everything personal. Those tables are never read for such a copy, so
        nothing of them can be in its bytes.
    force
        Whether an existing file may be replaced; never the book itself.

    Raises
    ------
    FileInTheWay, NotWritten, Damaged
        If the copy could not be made; nothing is left at `dest`.
    """
    if dest.resolve() == book.resolve():
        raise FileInTheWay(dest)
    try:
        with whole_file(dest, force=force) as part, damage_named(book):
            seq = _copy_shared(book, part) if share else _copy_whole(book, part)
    except OSError as fault:
        raise NotWritten(dest, str(fault)) from fault
    return BackupMade(at_ms=at_ms, seq=seq, share=share)


class Ending(msgspec.Struct, frozen=True, kw_only=True):
    """How a copy ends: the seal over its last entry (None: no entry), and when that was stored.

    `damage` is what SQLite finds wrong with it; empty: nothing.
    """

    seal: Seal | None
    at_ms: int
    damage: str


def ending_of(copy: Path) -> Ending:
    """Return how a copy ends, read from its own bytes."""
    with closing(connect_reader(copy)) as connection:
        found = connection.execute(
            "SELECT seq, seal, at_ms FROM journal ORDER BY seq DESC LIMIT 1"
        ).fetchone()
        said = [str(line) for (line,) in connection.execute("PRAGMA quick_check(3)")]
    damage = "; ".join(line for line in said if line != "ok")
    if found is None:
        return Ending(seal=None, at_ms=0, damage=damage)
    seq, seal, at_ms = found
    return Ending(seal=Seal(seq, seal or b""), at_ms=at_ms, damage=damage)


def _copy_whole(book: Path, part: Path) -> int:
    with closing(connect_reader(book)) as source, closing(connect_new(part)) as target:
        source.backup(target)
        # The copy is one file by itself, whatever the state of the book's side files.
        target.execute("PRAGMA journal_mode=DELETE")
        return rows.last_seq(target)


def _copy_shared(book: Path, part: Path) -> int:
    with closing(connect_new(part)) as target:
        migrate(target)
        target.execute("ATTACH ? AS book", (f"{book.absolute().as_uri()}?mode=ro",))
        target.execute("BEGIN")
        for table in ("journal", *SHARED_TABLES):
            target.execute(f"INSERT INTO main.{table} SELECT * FROM book.{table}")  # noqa: S608
        target.execute("COMMIT")
        target.execute("DETACH book")
        return rows.last_seq(target)


def copy_before_migration(book: Path, found: int, *, at_ms: int) -> tuple[Path, BackupMade]:
    """Keep the book as it is, beside it, under a name that is still free."""
    for number in range(1, 1000):
        mark = f".layout-{found}" + (f"-{number}" if number > 1 else "")
        dest = book.with_name(f"{book.stem}{mark}{book.suffix}")
        if not dest.exists():
            return dest, copy_book(book, dest, at_ms=at_ms)
    raise NotWritten(book, "a thousand older copies are in the way")
