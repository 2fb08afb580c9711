"""What may be forgotten: side tables, and erasing a person to the last byte."""

from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from callroom.journal import (
    ATTACHMENTS,
    DRAFTS,
    META,
    NOTES,
    OUTBOX,
    PEOPLE,
    SECRETS,
    Attachment,
)
from callroom.journal.store import BadRequest
from callroom.model.person import Note, Person
from tests.journal.counting import START_MS, count
from tests.journal.disk import WAIT_S, bytes_beside, opened, verified

pytestmark = pytest.mark.store

ANNA = Person(
    name="Anna Körner",
    email="anna@example.org",
    phone="+49 30 1234567",
    birth_date=date(1990, 2, 28),
    emergency_contact="Jo, +49 30 7654321",
    waiver="signed at the desk 2026-05-01",
    medical_note="asthma; inhaler in the bag",
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "gala.book"


def test_people_notes_and_the_other_side_tables(path: Path) -> None:
    waiver = Attachment(name="w.png", media_type="image/png", content=b"\x89PNG\x00\xff")
    with closing(opened(path)) as store:
        store.side(PEOPLE).put("p1", Person(name="Anna"))
        store.side(PEOPLE).put("p1", ANNA)
        store.side(NOTES).put("p1/1", Note(text="taped", author="desk", at_ms=START_MS))
        store.side(NOTES).put("p10/1", Note(text="fine", author="desk", at_ms=START_MS))
        store.side(SECRETS).put("token", b"\x00\x01\xff")
        store.side(DRAFTS).put("plan", b"{}")
        store.side(ATTACHMENTS).put("p1/waiver", waiver)
        store.side(OUTBOX).put("1", b"hello")
        store.side(META).put("venue", "http://10.0.0.5")
    with closing(opened(path)) as store:
        assert store.side(PEOPLE).get("p1") == ANNA
        assert store.side(PEOPLE).get("p2") is None
        assert store.side(PEOPLE).all() == {"p1": ANNA}
        assert list(store.side(NOTES).all("p1/")) == ["p1/1"]
        assert list(store.side(NOTES).all()) == ["p1/1", "p10/1"]
        assert store.side(SECRETS).get("token") == b"\x00\x01\xff"
        assert store.side(DRAFTS).get("plan") == b"{}"
        assert store.side(ATTACHMENTS).get("p1/waiver") == waiver
        assert store.side(OUTBOX).all() == {"1": b"hello"}
        store.side(OUTBOX).delete("1")
        store.side(OUTBOX).delete("1")
        assert store.side(OUTBOX).all() == {}
        with pytest.raises(BadRequest):
            store.side(PEOPLE).put("p1", Person(name=7))  # type: ignore[arg-type]
        assert store.side(PEOPLE).get("p1") == ANNA


def personal_bytes(number: int) -> list[bytes]:
    return [f"{what} of person {number:03}!".encode() for what in ("name", "note", "draft", "scan")]


def store_person(path: Path, numbers: range) -> None:
    with closing(opened(path)) as store:
        for number in numbers:
            name, note, draft, scan = (text.decode() for text in personal_bytes(number))
            store.write(
                PEOPLE.put(f"p{number}", Person(name=name, medical_note="x" * 300)),
                NOTES.put(f"p{number}/1", Note(text=note, author="desk", at_ms=START_MS)),
                DRAFTS.put(f"p{number}/form", draft.encode()),
                ATTACHMENTS.put(
                    f"p{number}/scan",
                    # Longer than a page, so that it has overflow pages of its own.
                    Attachment(name="w", media_type="image/png", content=scan.encode() * 1000),
                ),
            ).result(WAIT_S)
            store.submit(count("1", number)).result(WAIT_S)


def test_erasing_a_person_removes_every_byte(path: Path) -> None:
    store_person(path, range(60))
    with closing(opened(path)) as store:
        # Changed and moved about, so that older copies of the rows were in pages since reused.
        for number in (7, 30, 59):
            name = personal_bytes(number)[0].decode()
            store.side(PEOPLE).put(f"p{number}", Person(name=name, medical_note="y" * 3000))
        erased = [store.erase(f"p{number}") for number in (7, 30, 59)]
        assert [(one.rows, one.complete) for one in erased] == [(4, True)] * 3
        kept = bytes_beside(path)  # while the book is open: its log is read as well
        for number in (7, 30, 59):
            for text in personal_bytes(number):
                assert text not in kept
        for text in personal_bytes(8):
            assert text in kept
        assert store.side(PEOPLE).get("p7") is None
        assert store.side(NOTES).all("p7/") == {}
        assert store.side(PEOPLE).get("p8") is not None
    assert verified(path) == []


def test_a_person_whose_id_begins_alike_is_not_touched(path: Path) -> None:
    store_person(path, range(1, 12))
    with closing(opened(path)) as store:
        assert store.erase("p1").rows == 4
        assert list(store.side(NOTES).all("p1")) == ["p10/1", "p11/1"]
        assert store.erase("p1").rows == 0


def test_erasing_tells_which_backups_still_hold_the_person(path: Path, tmp_path: Path) -> None:
    store_person(path, range(2))
    with closing(opened(path)) as store:
        store.backup(tmp_path / "whole.book")
        store.backup(tmp_path / "shared.book", share=True)
        assert store.erase("p0").backups == (str(tmp_path / "whole.book"),)
    assert personal_bytes(0)[0] in (tmp_path / "whole.book").read_bytes()


def test_an_old_view_that_is_still_open_is_told_and_erasing_again_completes(path: Path) -> None:
    store_person(path, range(3))
    with closing(opened(path)) as store:
        reading = store.dump()
        next(reading)
        store._writing.connection.execute("PRAGMA busy_timeout = 0")  # type: ignore[union-attr]
        first = store.erase("p0")
        assert (first.rows, first.complete) == (4, False)
        assert store.side(PEOPLE).get("p0") is None
        reading.close()
        again = store.erase("p0")
        assert (again.rows, again.complete) == (0, True)
        assert personal_bytes(0)[0] not in bytes_beside(path)


def test_erasing_while_others_write(path: Path) -> None:
    store_person(path, range(3))
    with closing(opened(path)) as store:
        futures = [store.submit(count("1", n, key=f"while-{n}")) for n in range(50)]
        assert store.erase("p1").complete
        futures += [store.submit(count("1", n, key=f"while-{n}")) for n in range(50, 60)]
        assert not any(future.result(WAIT_S).replayed for future in futures)
    assert verified(path) == []
