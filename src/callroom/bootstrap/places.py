"""Where a book is: in a file of this machine, or in a PostgreSQL database."""

from pathlib import Path

from callroom.journal.store.errors import FileOnly
from callroom.journal.stores.database import SCHEMES, Database, database_of

Place = Path | Database
"""A file, or a schema of a database."""


def place_of(given: str) -> Place:
    """Return where a book is, as it was given to a command.

    Raises
    ------
    BadAddress
        If it begins like the address of a database and is none.
    """
    in_database = given.partition("://")[0] in SCHEMES
    return database_of(given) if in_database else Path(given)


def file_of(place: Place) -> Path:
    """Return the file of a book that must be in one.

    Raises
    ------
    FileOnly
        If it is in a database.
    """
    if isinstance(place, Database):
        raise FileOnly(str(place))
    return place
