"""A book as files for others: results, timetable, and the whole book to keep."""

from pathlib import Path

import msgspec

from callroom.bootstrap.books import open_book
from callroom.views.results import results


def export_files(path: Path, out: Path, *, share: bool = False) -> tuple[Path, ...]:
    """Write the files of a book into a folder and return them.

    Parameters
    ----------
    share
        Leave everything personal out of the dump.

    Raises
    ------
    JournalError
        If the book cannot be read.
    NotFound
        If it has no event yet.
    """
    out.mkdir(parents=True, exist_ok=True)
    book = open_book(path, writing=False)
    try:
        files = {"results.json": msgspec.json.encode(results(book.state))}
    finally:
        book.close()
    for name, content in files.items():
        (out / name).write_bytes(content)
    return tuple(out / name for name in files)
