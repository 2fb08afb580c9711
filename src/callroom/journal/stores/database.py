"""Where a book in PostgreSQL is: ``postgresql://USER@HOST/DATABASE/BOOK``."""

import re
from urllib.parse import unquote, urlsplit, urlunsplit

import msgspec

from callroom.journal.store.errors import BadAddress

SCHEMES = ("postgresql", "postgres")
_PASSWORD = re.compile(r"(://[^:/@]*):[^@/]*(?=@)")
_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,47}")


class Database(msgspec.Struct, frozen=True):
    """A book in a database.

    Attributes
    ----------
    server
        What the client library connects with, without the book.
    book
        The name of the book, which is the name of its schema.
    """

    server: str
    book: str

    @property
    def name(self) -> str:
        """The book's name, as a file has one."""
        return self.book

    @property
    def channel(self) -> str:
        """The channel on which writers of the book tell each other that something is new."""
        return f"callroom_{self.book}"

    def __str__(self) -> str:
        """Where the book is, without a password: it is shown and logged."""
        parts = urlsplit(self.server)
        user = f"{parts.username}@" if parts.username else ""
        port = f":{parts.port}" if parts.port else ""
        place = f"{user}{parts.hostname or ''}{port}"
        return urlunsplit((parts.scheme, place, f"{parts.path}/{self.book}", "", ""))


def database_of(given: str) -> Database:
    """Read the address of a book.

    Raises
    ------
    BadAddress
        If it is not ``postgresql://USER@HOST/DATABASE/BOOK``, with what a book may be called.
    """
    parts = urlsplit(given)
    path = unquote(parts.path).strip("/").split("/")
    if parts.scheme not in SCHEMES or len(path) != 2 or not path[0] or not _NAME.fullmatch(path[1]):
        raise BadAddress(_PASSWORD.sub(r"\1", given))
    server = urlunsplit((parts.scheme, parts.netloc, f"/{path[0]}", parts.query, ""))
    return Database(server=server, book=path[1])
