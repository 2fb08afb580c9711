"""Where books stand: a folder of this machine, and the books in it."""

from pathlib import Path

import msgspec

SUFFIX = ".book"


class BookOnShelf(msgspec.Struct, frozen=True, kw_only=True):
    """A book file, by its name."""

    name: str
    path: Path


def default_shelf() -> Path:
    """Return the folder that `callroom` alone looks into: ``Callroom`` in the user's home."""
    return Path.home() / "Callroom"


def books_on(shelf: Path) -> tuple[BookOnShelf, ...]:
    """Return the books in a folder by name; a folder that is not there has none."""
    if not shelf.is_dir():
        return ()
    return tuple(
        BookOnShelf(name=path.stem, path=path) for path in sorted(shelf.glob(f"*{SUFFIX}"))
    )
