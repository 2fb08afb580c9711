"""Copies: consistent while the book is written, never over another file, fit to be shared."""

import threading
from contextlib import closing
from pathlib import Path

import pytest

from callroom.journal import (
    ATTACHMENTS,
    BACKUPS,
    DRAFTS,
    META,
    NOTES,
    OUTBOX,
    PEOPLE,
    SECRETS,
    Attachment,
    BackupMade,
)
from callroom.journal.store import FileInTheWay, NotWritten
from callroom.model.person import Note, Person
from tests.journal.counting import START_MS, Counted, count, saying
from tests.journal.disk import WAIT_S, bytes_beside, mode_of, opened, verified

pytestmark = pytest.mark.store

MARKS = {
    PEOPLE.name: b"Zebedee Quillfeather",
    NOTES.name: b"knee taped since spring",
    SECRETS.name: b"hash-of-the-passphrase",
    DRAFTS.name: b"draft-of-a-letter",
    ATTACHMENTS.name: b"scan-of-the-waiver",
    OUTBOX.name: b"message-waiting",
    BACKUPS.name: b"a-backup-made-earlier",
}
"""A text in each personal table that must not be found in a shared copy."""


def fill_side_tables(path: Path) -> None:
    with closing(opened(path)) as store:
        store.write(
            PEOPLE.put("p1", Person(name=MARKS["people"].decode())),
            NOTES.put("p1/1", Note(text=MARKS["notes"].decode(), author="desk", at_ms=START_MS)),
            SECRETS.put("passphrase", MARKS["secrets"]),
            DRAFTS.put("letter", MARKS["drafts"]),
            ATTACHMENTS.put(
                "p1/waiver",
                Attachment(name="w.png", media_type="image/png", content=MARKS["attachments"]),
            ),
            OUTBOX.put("1", MARKS["outbox"]),
            BACKUPS.put(
                "/a-backup-made-earlier.book", BackupMade(at_ms=START_MS, seq=0, share=False)
            ),
            META.put("venue", "http://10.0.0.5"),
        ).result(WAIT_S)
        store.submit(count("1", 42)).result(WAIT_S)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "gala.book"
    fill_side_tables(path)
    return path


def test_a_backup_is_the_whole_book_in_one_file(path: Path, tmp_path: Path) -> None:
    dest = tmp_path / "copy" / "copy.book"
    dest.parent.mkdir()
    with closing(opened(path)) as store:
        made = store.backup(dest)
        assert made == BackupMade(at_ms=START_MS, seq=1, share=False)
        assert store.side(BACKUPS).get(str(dest)) == made
        state, entries = store.state, list(store.entries())
    assert [other.name for other in dest.parent.iterdir()] == ["copy.book"]
    assert mode_of(dest) == 0o600
    assert verified(dest) == []
    with closing(opened(dest)) as copy:
        assert copy.state == state
        assert list(copy.entries()) == entries
        assert copy.side(PEOPLE).get("p1") == Person(name=MARKS["people"].decode())
        assert copy.side(SECRETS).get("passphrase") == MARKS["secrets"]


def test_a_backup_made_while_writing_holds_one_moment(path: Path, tmp_path: Path) -> None:
    """Every request stores a pair of entries and a note of it; a copy holds all three or none."""
    stop = threading.Event()
    with closing(opened(path)) as store:

        def write() -> None:
            number = 0
            while not stop.is_set():
                number += 1
                pair = saying(Counted(lane="a", reps=number), Counted(lane="b", reps=number))
                store.submit(pair).result(WAIT_S)
                store.write(META.put("number", str(number))).result(WAIT_S)

        writers = threading.Thread(target=write)
        writers.start()
        copies = [tmp_path / f"copy-{n}.book" for n in range(8)]
        made = [store.backup(copy, share=bool(n % 2)) for n, copy in enumerate(copies)]
        stop.set()
        writers.join(WAIT_S)
    assert made[0].seq < made[-1].seq, "nothing was written meanwhile"
    for copy, told in zip(copies, made, strict=True):
        assert verified(copy) == []
        with closing(opened(copy)) as store:
            assert store.state.seq == told.seq
            counts = store.state.counts
            assert counts.get("a") == counts.get("b")
            noted = int(store.side(META).get("number") or "0")
            assert counts.get("a", 0) - noted in {0, 1}


def test_a_shared_copy_holds_nothing_personal(path: Path, tmp_path: Path) -> None:
    dest, whole = tmp_path / "shared.book", tmp_path / "whole.book"
    with closing(opened(path)) as store:
        assert store.backup(dest, share=True).share
        store.backup(whole)
        state = store.state
    for table, mark in MARKS.items():
        assert mark in bytes_beside(whole), table
        assert mark not in dest.read_bytes(), table
    assert verified(dest) == []
    with closing(opened(dest)) as copy:
        assert copy.state == state
        assert copy.side(META).get("venue") == "http://10.0.0.5"
        assert copy.side(PEOPLE).all() == {}


@pytest.mark.parametrize("share", [False, True])
def test_an_existing_file_is_only_replaced_when_forced(
    path: Path, tmp_path: Path, share: bool
) -> None:
    dest = tmp_path / "copy.book"
    dest.write_text("last year's results")
    with closing(opened(path)) as store:
        with pytest.raises(FileInTheWay):
            store.backup(dest, share=share)
        assert dest.read_text() == "last year's results"
        assert store.side(BACKUPS).get(str(dest)) is None
        store.backup(dest, share=share, force=True)
    assert verified(dest) == []


def test_a_book_is_never_replaced_by_its_own_copy(path: Path, tmp_path: Path) -> None:
    (tmp_path / "link.book").symlink_to(path)
    with closing(opened(path)) as store:
        for dest in (path, tmp_path / "link.book"):
            with pytest.raises(FileInTheWay):
                store.backup(dest, force=True)
        store.submit(count("1", 43)).result(WAIT_S)
    with closing(opened(path)) as store:
        assert store.state.counts == {"1": 43}


def test_a_backup_that_fails_leaves_nothing_behind(path: Path, tmp_path: Path) -> None:
    with closing(opened(path)) as store:
        with pytest.raises(NotWritten):
            store.backup(tmp_path / "nowhere" / "copy.book")
        folder = tmp_path / "folder.book"
        folder.mkdir()
        (folder / "inside").touch()
        with pytest.raises(NotWritten):
            store.backup(folder, force=True)
    assert not [other for other in tmp_path.iterdir() if other.name.startswith(".")]


def test_a_book_can_be_copied_by_who_may_only_read(path: Path, tmp_path: Path) -> None:
    with closing(opened(path)) as store, closing(opened(path, writing=False)) as view:
        view.backup(tmp_path / "copy.book")
        assert str(tmp_path / "copy.book") not in store.side(BACKUPS).all()
    assert verified(tmp_path / "copy.book") == []
