"""A book on disk: settings, opening, reading, refusing."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path
from urllib.parse import quote, urlsplit

import pytest

from callroom.journal import PEOPLE
from callroom.journal.store import (
    AskedReadOnly,
    BookIsReadOnly,
    BookMissing,
    Damaged,
    FileInTheWay,
    NewerBook,
    NotABook,
    NotStored,
    NotWritten,
    StoreClosed,
)
from callroom.journal.stores import SqliteStore, create_book, open_book, schema
from callroom.model.person import Person
from tests.journal.counting import (
    READING,
    START_MS,
    Counted,
    Tally,
    count,
    saying,
)
from tests.journal.disk import WAIT_S, mode_of, opened, verified
from tests.journal.memory import Held

pytestmark = pytest.mark.store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "gala day #1 ?.book"


@pytest.fixture
def store(path: Path) -> Iterator[SqliteStore[Tally]]:
    store = opened(path)
    yield store
    store.close()


def setting(store: SqliteStore[Tally], name: str) -> object:
    """A setting of the very connection that writes, asked in the thread that uses it."""
    assert store._writing is not None
    writing = store._writing
    return writing.writer.alone(
        lambda: writing.connection.execute(f"PRAGMA {name}").fetchone()[0]
    ).result(WAIT_S)


def test_every_commit_of_the_writer_waits_for_the_disk(store: SqliteStore[Tally]) -> None:
    assert setting(store, "synchronous") == 2  # FULL
    assert setting(store, "fullfsync") == 1  # what FULL needs on macOS; elsewhere without effect
    assert setting(store, "checkpoint_fullfsync") == 1
    assert setting(store, "journal_mode") == "wal"
    assert setting(store, "secure_delete") == 1
    assert setting(store, "application_id") == schema.APPLICATION_ID
    assert setting(store, "user_version") == len(schema.STEPS)


def test_a_batch_is_one_immediate_transaction_answered_after_its_commit(
    store: SqliteStore[Tally],
) -> None:
    assert store._writing is not None
    happened: list[str] = []
    with Held(store.submit):
        store._writing.connection.set_trace_callback(
            lambda statement: happened.append(statement.split("(")[0].strip())
        )
        futures = [store.submit(count("1", reps)) for reps in range(3)]
        for future in futures:
            future.add_done_callback(lambda _: happened.append("answered"))
    for future in futures:
        future.result(WAIT_S)
    own = happened[happened.index("BEGIN IMMEDIATE") :]  # after the end of the held one
    assert [it for it in own if not it.startswith("SELECT")] == [
        "BEGIN IMMEDIATE", *["INSERT INTO journal"] * 3, "COMMIT", *["answered"] * 3,
    ]  # fmt: skip


def test_all_tables_are_strict_and_the_journal_is_append_only(
    store: SqliteStore[Tally], path: Path
) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    store.close()
    with closing(sqlite3.connect(path)) as connection:
        tables = connection.execute(
            "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' "
            "AND name NOT LIKE 'sqlite_%'"
        ).fetchall()
        assert {name for name, _ in tables} == {
            "journal", "meta", "people", "notes", "secrets", "drafts", "attachments", "outbox",
            "backups",
        }  # fmt: skip
        assert all(strict for _, strict in tables)
        for statement in ("DELETE FROM journal", "UPDATE journal SET actor = 'x'"):
            with pytest.raises(sqlite3.IntegrityError, match="only ever appended"):
                connection.execute(statement)


def test_a_book_is_its_owners_alone(store: SqliteStore[Tally], path: Path) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    assert mode_of(path) == 0o600
    assert mode_of(path.with_name(path.name + "-wal")) == 0o600


def test_a_full_disk_acknowledges_nobody_and_the_store_goes_on(
    store: SqliteStore[Tally], path: Path
) -> None:
    assert store._writing is not None
    writing = store._writing
    store.submit(count("1", 1)).result(WAIT_S)

    def limit(pages: int) -> int:
        ask = f"PRAGMA max_page_count = {pages}"
        return writing.writer.alone(
            lambda: int(writing.connection.execute(ask).fetchone()[0])
        ).result(WAIT_S)

    present = limit(1)  # SQLite answers with what is in use already
    big = saying(*[Counted(lane=f"lane {n}" * 20, reps=n) for n in range(400)], key="big")
    with Held(store.submit):
        futures = [store.submit(count("2", 2, key="small")), store.submit(big)]
    for future in futures:
        fault = future.exception(WAIT_S)
        assert isinstance(fault, NotStored)
        assert "full" in str(fault.facts["reason"])
    assert store.state == Tally(seq=1, counts={"1": 1})
    assert len(list(store.entries())) == 1
    limit(present + 10_000)
    assert not store.submit(count("2", 2, key="small")).result(WAIT_S).replayed
    assert len(store.submit(big).result(WAIT_S).entries) == 400
    assert store.state.seq == 402
    store.close()
    assert verified(path) == []


class Failing:
    """A connection whose next commits fail, before or after SQLite made them."""

    def __init__(self, real: sqlite3.Connection, *, after: bool) -> None:
        self._real = real
        self._after = after
        self.failures = 0

    def execute(self, statement: str, *values: Sequence[str | int]) -> sqlite3.Cursor:
        if statement == "COMMIT" and self.failures:
            self.failures -= 1
            if self._after:
                self._real.execute(statement)
            raise sqlite3.OperationalError("disk I/O error")
        return self._real.execute(statement, *values)

    def __getattr__(self, name: str) -> object:
        return getattr(self._real, name)


@pytest.mark.parametrize("after", [False, True])
def test_a_commit_made_to_fail_never_acknowledges(path: Path, after: bool) -> None:
    woken: list[int] = []
    store = opened(path, on_published=lambda state, _: woken.append(state.seq))
    assert store._writing is not None
    ledger = store._writing.writer._ledger
    failing = Failing(ledger._connection, after=after)  # type: ignore[attr-defined]
    ledger._connection = failing  # type: ignore[attr-defined]
    store.submit(count("1", 1)).result(WAIT_S)
    before = store.state

    with Held(store.submit):
        failing.failures = 2
        futures = [store.submit(count("1", n, key=f"k{n}")) for n in range(2, 20)]
    assert all(isinstance(future.exception(WAIT_S), NotStored) for future in futures)
    assert store.state is before
    assert woken == [1]

    again = [store.submit(count("1", n, key=f"k{n}")) for n in range(2, 20)]
    receipts = [future.result(WAIT_S) for future in again]
    assert {receipt.replayed for receipt in receipts} == {after}
    assert [entry.seq for entry in store.entries()] == list(range(1, 20))
    store.close()
    assert woken[-1] == 19
    assert verified(path) == []


def test_there_is_never_a_second_connection_that_can_write(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    modes: list[str] = []
    connect = sqlite3.connect

    def counting(name: str, **more: object) -> sqlite3.Connection:
        if Path(urlsplit(name).path).name == quote(path.name):
            modes.append(name.rsplit("mode=", 1)[1])
        return connect(name, **more)  # type: ignore[call-overload, no-any-return]

    create_book(path)
    monkeypatch.setattr(sqlite3, "connect", counting)
    store = opened(path)
    store.side(PEOPLE).put("p1", Person(name="Anna"))
    store.submit(count("1", 1)).result(WAIT_S)
    store.backup(tmp_path / "copy.book")
    store.backup(tmp_path / "shared.book", share=True)
    store.erase("p1")
    list(store.dump())
    list(store.entries())
    opened(path, writing=False).close()
    verified(path)
    store.close()
    assert modes.count("rw") == 1
    assert set(modes) == {"ro", "rw"}


# ---- opening ---------------------------------------------------------------------------------


def test_making_a_book_never_overwrites(path: Path) -> None:
    path.write_text("a shopping list")
    with pytest.raises(FileInTheWay):
        create_book(path)
    assert path.read_text() == "a shopping list"
    assert list(path.parent.iterdir()) == [path]


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(NotWritten):
        create_book(tmp_path / "nowhere" / "gala.book")
    with pytest.raises(BookMissing):
        open_book(tmp_path / "gala.book", READING, clock=lambda: START_MS)


@pytest.mark.parametrize("content", [b"", b"Dear diary, " * 1000])
def test_a_file_that_is_no_book_is_left_alone(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    with pytest.raises(NotABook):
        open_book(path, READING, clock=lambda: START_MS)
    assert path.read_bytes() == content


def test_another_programs_database_is_left_alone(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE songs (title TEXT)")
        connection.execute("PRAGMA user_version = 1")
    before = path.read_bytes()
    with pytest.raises(NotABook):
        open_book(path, READING, clock=lambda: START_MS)
    assert path.read_bytes() == before


def test_a_damaged_book_is_refused_plainly(path: Path) -> None:
    with closing(opened(path)) as store:
        store.submit(saying(*[Counted(lane=str(n), reps=n) for n in range(2000)])).result(WAIT_S)
    content = bytearray(path.read_bytes())
    content[4096 * 3 :] = b"\xa5" * (len(content) - 4096 * 3)
    path.write_bytes(content)
    with pytest.raises(Damaged) as refused:
        opened(path)
    assert refused.value.facts["path"] == str(path)
    # The lock was let go of again, so that a backup can be put in its place and opened.
    path.unlink()
    opened(path).close()


def test_reading_only_needs_no_lock_and_writes_nothing(
    store: SqliteStore[Tally], path: Path
) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    with closing(opened(path, writing=False)) as view:
        assert view.state == store.state
        assert isinstance(view.read_only, AskedReadOnly)
        fault = view.submit(count("1", 2)).exception(WAIT_S)
        assert isinstance(fault, BookIsReadOnly)
        with pytest.raises(BookIsReadOnly):
            view.erase("p1")


def test_a_closed_store_takes_nothing_and_is_one_file(path: Path) -> None:
    store = opened(path)
    store.close()
    assert isinstance(store.submit(count("1", 1)).exception(WAIT_S), StoreClosed)
    assert {other.name for other in path.parent.iterdir()} == {path.name, f"{path.name}-lock"}


def test_an_unknown_kind_opens_for_reading_as_it_stood_before(path: Path) -> None:
    with closing(opened(path)) as store:
        store.submit(count("1", 1)).result(WAIT_S)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(
            "INSERT INTO journal SELECT 2, at_ms, actor, device, 'newer', 0, 'lane.weighed', 1, "
            '\'{"lane":"1"}\', NULL, NULL, request, seal FROM journal'
        )
        connection.commit()
    with closing(opened(path)) as store:
        assert store.state == Tally(seq=1, counts={"1": 1})
        assert store.read_only is not None
        assert store.read_only.rule == "journal.kind_unknown"
        assert store.read_only.facts == {"seq": 2, "kind": "lane.weighed", "version": 1}
        fault = store.submit(count("1", 2)).exception(WAIT_S)
        assert isinstance(fault, BookIsReadOnly)
        assert fault.rule == "journal.kind_unknown"
        # The lock is free: nothing will be written.
        opened(path).close()


def test_a_newer_version_of_a_kind_opens_for_reading(path: Path) -> None:
    with closing(opened(path)) as store:
        store.submit(count("1", 1)).result(WAIT_S)
        store.submit(count("1", 2)).result(WAIT_S)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TRIGGER journal_no_update")
        connection.execute("UPDATE journal SET version = 9 WHERE seq = 2")
        connection.commit()
    with closing(opened(path)) as store:
        assert store.state.counts == {"1": 1}
        assert store.read_only is not None
        assert store.read_only.facts["known"] == 1


def test_an_entry_that_defeats_the_fold_opens_for_reading(path: Path) -> None:
    with closing(opened(path)) as store:
        store.submit(count("1", 1)).result(WAIT_S)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(
            "INSERT INTO journal SELECT 2, at_ms, actor, device, 'p', 0, 'poison', 1, "
            '\'{"text":""}\', NULL, NULL, request, seal FROM journal'
        )
        connection.commit()
    with closing(opened(path)) as store:
        assert store.read_only is not None
        assert store.read_only.rule == "journal.unfoldable"
        assert store.state.counts == {"1": 1}


def test_a_book_of_a_newer_layout_opens_for_reading(path: Path) -> None:
    with closing(opened(path)) as store:
        store.submit(count("1", 1)).result(WAIT_S)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 99")
    before = path.read_bytes()
    with closing(opened(path)) as store:
        assert store.state.counts == {"1": 1}
        assert isinstance(store.read_only, NewerBook)
        assert store.read_only.facts["found"] == 99
        assert isinstance(store.submit(count("1", 2)).exception(WAIT_S), BookIsReadOnly)
    assert path.read_bytes() == before


def test_a_newer_layout_without_a_journal_we_know_is_refused(path: Path) -> None:
    opened(path).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("ALTER TABLE journal RENAME TO entries")
        connection.execute("PRAGMA user_version = 99")
    with pytest.raises(NewerBook):
        opened(path)
