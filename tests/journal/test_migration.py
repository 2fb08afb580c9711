"""Books of older layouts are brought up to date in one transaction, after a backup."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from callroom.journal import BACKUPS
from callroom.journal.store import Damaged, OlderBook
from callroom.journal.stores import opening, schema
from tests.journal.counting import count
from tests.journal.disk import WAIT_S, opened, verified

pytestmark = pytest.mark.store

SECOND = ("CREATE TABLE songs (title TEXT) STRICT", "INSERT INTO songs VALUES ('fanfare')")
BROKEN = ("CREATE TABLE tunes (title TEXT) STRICT", "INSERT INTO nowhere VALUES (1)")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "gala.book"
    with closing(opened(path)) as store:
        store.submit(count("1", 42)).result(WAIT_S)
    return path


def layout(path: Path) -> int:
    with closing(sqlite3.connect(path)) as connection:
        return int(connection.execute("PRAGMA user_version").fetchone()[0])


def test_an_older_book_is_kept_and_then_brought_up_to_date(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = layout(path)
    monkeypatch.setattr(opening, "STEPS", (*schema.STEPS, SECOND))
    with closing(opened(path)) as store:
        assert store.state.counts == {"1": 42}
        (kept,) = store.side(BACKUPS).all()
    assert layout(path) == before + 1
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT title FROM songs").fetchall() == [("fanfare",)]
    assert kept == str(path.with_name(f"gala.layout-{before}.book"))
    assert layout(Path(kept)) == before
    assert verified(Path(kept)) == verified(path) == []
    opened(path).close()  # nothing left to do
    assert len(list(path.parent.glob("*.book"))) == 2


def test_a_migration_that_fails_changes_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = layout(path)
    monkeypatch.setattr(opening, "STEPS", (*schema.STEPS, SECOND, BROKEN))
    for attempt in (1, 2):
        with pytest.raises(Damaged, match="nowhere"):
            opened(path)
        assert len(list(path.parent.glob("gala.layout-*.book"))) == attempt
    monkeypatch.undo()
    assert layout(path) == before
    with closing(opened(path)) as store:
        assert store.state.counts == {"1": 42}
    with closing(sqlite3.connect(path)) as connection:
        tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    assert not tables & {"songs", "tunes"}


def test_an_older_book_is_not_changed_by_who_may_only_read(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(opening, "STEPS", (*schema.STEPS, SECOND))
    before = path.read_bytes()
    with pytest.raises(OlderBook) as refused:
        opened(path, writing=False)
    assert refused.value.facts["known"] == len(schema.STEPS) + 1
    assert path.read_bytes() == before
