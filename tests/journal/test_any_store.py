"""What a store promises, asked of a book in a file and of one in a database alike."""

import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from callroom.journal import DRAFTS, NOTES, PEOPLE
from callroom.journal.store import (
    AskedReadOnly,
    BookIsReadOnly,
    FileInTheWay,
    KeyConflict,
    StoreClosed,
)
from callroom.journal.store.side import ATTACHMENTS, Attachment
from callroom.model import Stale
from callroom.model.person import Note, Person
from tests.journal.counting import START_MS, Tally, confirm, count, publish
from tests.journal.databases import AnyStore, Kept, KeptInDatabase, KeptInFile, server
from tests.journal.disk import WAIT_S
from tests.journal.memory import Held

pytestmark = pytest.mark.store

__all__ = ["server"]  # the fixture


UNREADABLE = """
INSERT INTO journal SELECT 2, at_ms, actor, device, 'newer', 0, 'KIND', 1, '{"text":""}',
NULL, NULL, request, seal FROM journal
"""


@pytest.fixture(params=["file", "database"])
def kept(request: pytest.FixtureRequest, tmp_path: Path) -> Kept:
    if request.param == "file":
        return KeptInFile(tmp_path / "gala day #1 ?.book")
    return KeptInDatabase(request.getfixturevalue("server"))


@pytest.fixture
def store(kept: Kept) -> Iterator[AnyStore]:
    store = kept.open()
    yield store
    store.close()


def test_what_was_stored_is_there_when_opened_again(store: AnyStore, kept: Kept) -> None:
    store.submit(count("1", 42, key="k")).result(WAIT_S)
    confirmed = store.submit(confirm("1")).result(WAIT_S)
    state, entries = store.state, list(store.entries())
    store.close()
    with closing(kept.open()) as again:
        assert again.state == state == Tally(seq=2, counts={"1": 42}, confirmed={"1": 2})
        assert list(again.entries()) == entries
        assert entries[-1:] == list(confirmed.entries)
        assert again.submit(count("1", 42, key="k")).result(WAIT_S).replayed
        assert again.submit(count("2", 7)).result(WAIT_S).entries[0].seq == 3
    assert kept.verified() == []


def test_racing_decisions_are_settled_once_on_disk(store: AnyStore, kept: Kept) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    barrier = threading.Barrier(6)
    outcomes: list[BaseException | None] = []

    def race(number: int) -> None:
        barrier.wait(WAIT_S)
        asked = confirm("1") if number % 2 else publish(0)
        outcomes.append(store.submit(asked).exception(WAIT_S))

    threads = [threading.Thread(target=race, args=(number,)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(WAIT_S)
    assert outcomes.count(None) == 2
    assert [type(outcome) for outcome in outcomes].count(Stale) == 4
    assert [entry.kind for entry in store.entries(after=1)].count("lane.confirmed") == 1
    assert store.state.revision == 1
    assert kept.verified() == []


def test_entries_are_read_by_range_and_state_as_it_once_stood(
    store: AnyStore,
) -> None:
    with Held(store.submit):
        futures = [store.submit(count("1", reps)) for reps in range(1201)]
    for future in futures:
        future.result(WAIT_S)
    assert [entry.seq for entry in store.entries()] == list(range(1, 1202))
    assert [entry.seq for entry in store.entries(after=499, upto=1003)] == list(range(500, 1004))
    assert store.state_at(700) == Tally(seq=700, counts={"1": 699})
    assert store.state_at(0) == Tally()
    assert store.state_at(10**9) == store.state


def test_readers_do_not_stop_the_writer_nor_see_what_is_not_committed(
    store: AnyStore,
) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    reading = store.dump()
    next(reading)  # a read transaction is open now
    store.submit(count("1", 2)).result(WAIT_S)
    assert sum(table == "journal" for table, _ in reading) <= 1
    assert store.state.counts == {"1": 2}


def test_the_seal_of_an_entry_is_that_of_its_transaction(store: AnyStore) -> None:
    with Held(store.submit):
        futures = [store.submit(count("1", n)) for n in range(3)]
    for future in futures:
        future.result(WAIT_S)
    seals = [store.seal_at(seq) for seq in (1, 2, 3)]
    assert seals[0] is not None
    assert seals == [seals[0]] * 3
    assert seals[0].seq == 3
    assert store.seal_at(4) is None


def test_a_key_used_again_with_other_content_is_a_conflict(store: AnyStore) -> None:
    store.submit(count("1", 1, key="k")).result(WAIT_S)
    assert isinstance(store.submit(count("1", 2, key="k")).exception(WAIT_S), KeyConflict)
    assert store.state.counts == {"1": 1}


def test_side_tables_keep_change_and_forget(store: AnyStore) -> None:
    people = store.side(PEOPLE)
    people.put("p1", Person(name="Zoë Ørsted 🏋"))
    people.put("p10", Person(name="Ten"))
    people.put("p1", Person(name="Zoë Ørsted", phone="1"))
    assert people.get("p1") == Person(name="Zoë Ørsted", phone="1")
    assert list(people.all()) == ["p1", "p10"]
    picture = Attachment(name="a.png", media_type="image/png", content=bytes(range(256)))
    store.side(ATTACHMENTS).put("p1/a", picture)
    assert store.side(ATTACHMENTS).get("p1/a") == picture
    people.delete("p10")
    people.delete("p10")
    assert people.get("p10") is None


def test_what_is_taken_is_taken_once(store: AnyStore, kept: Kept) -> None:
    store.side(PEOPLE).put("p1", Person(name="Anna"))
    got: list[Person | None] = []
    threads = [
        threading.Thread(target=lambda: got.append(store.side(PEOPLE).take("p1"))) for _ in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(WAIT_S)
    assert [one for one in got if one is not None] == [Person(name="Anna")]
    assert store.side(PEOPLE).get("p1") is None
    assert store.submit(count("1", 1)).result(WAIT_S).entries[0].seq == 1
    assert kept.verified() == []


def test_erasing_takes_a_person_with_what_is_theirs_and_nobody_else(store: AnyStore) -> None:
    for person in ("p1", "p10"):
        store.side(PEOPLE).put(person, Person(name=person))
        store.side(NOTES).put(f"{person}/1", Note(text="x", author="desk", at_ms=START_MS))
    store.side(DRAFTS).put("load/teams", b"a list that may name them")
    store.side(DRAFTS).put("plan/1", b"a plan")
    erased = store.erase("p1")
    assert erased.rows == 3
    assert erased.complete
    assert list(store.side(PEOPLE).all()) == ["p10"]
    assert list(store.side(NOTES).all()) == ["p10/1"]
    assert list(store.side(DRAFTS).all()) == ["plan/1"]
    store.submit(count("1", 1)).result(WAIT_S)


def test_a_copy_is_a_file_with_the_same_journal(store: AnyStore, tmp_path: Path) -> None:
    store.side(PEOPLE).put("p1", Person(name="Anna"))
    for reps in range(30):
        store.submit(count("1", reps)).result(WAIT_S)
    made = store.backup(tmp_path / "copy.book")
    assert (made.seq, made.share) == (30, False)
    with pytest.raises(FileInTheWay):
        store.backup(tmp_path / "copy.book")
    store.backup(tmp_path / "copy.book", share=True, force=True)
    copy = KeptInFile(tmp_path / "copy.book")
    assert copy.verified() == []
    with closing(copy.open()) as other:
        assert other.state == store.state
        assert other.seal_at(30) == store.seal_at(30)
        assert other.side(PEOPLE).all() == {}


def test_a_dump_makes_the_same_book_on_either_side(
    kept: Kept, store: AnyStore, tmp_path: Path, server: str
) -> None:
    store.side(PEOPLE).put("p1", Person(name="Anna"))
    with Held(store.submit):
        futures = [store.submit(count("1", reps)) for reps in range(40)]
    for future in futures:
        future.result(WAIT_S)
    dump = list(store.dump())
    for other in (KeptInFile(tmp_path / "other.book"), KeptInDatabase(server)):
        other.load(dump)
        assert other.verified() == []
        with closing(other.open()) as again:
            assert list(again.dump()) == dump
            assert again.state == store.state
            assert again.submit(count("2", 1)).result(WAIT_S).entries[0].seq == 41
        with pytest.raises(FileInTheWay):
            other.load(dump)


def test_reading_only_writes_nothing(store: AnyStore, kept: Kept) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    with closing(kept.open(writing=False)) as view:
        assert view.state == store.state
        assert isinstance(view.read_only, AskedReadOnly)
        assert isinstance(view.submit(count("1", 2)).exception(WAIT_S), BookIsReadOnly)
        with pytest.raises(BookIsReadOnly):
            view.erase("p1")


def test_a_closed_store_takes_nothing(kept: Kept) -> None:
    store = kept.open()
    store.close()
    assert isinstance(store.submit(count("1", 1)).exception(WAIT_S), StoreClosed)


def test_the_journal_is_only_ever_appended_to(store: AnyStore, kept: Kept) -> None:
    store.submit(count("1", 1)).result(WAIT_S)
    for statement in ("DELETE FROM journal", "UPDATE journal SET actor = 'x'"):
        with pytest.raises(Exception, match="only ever appended"):
            kept.execute(statement)


@pytest.mark.parametrize(
    ("kind", "rule"),
    [("lane.weighed", "journal.kind_unknown"), ("poison", "journal.unfoldable")],
)
def test_an_entry_that_cannot_be_read_opens_for_reading_as_it_stood(
    kept: Kept, kind: str, rule: str
) -> None:
    with closing(kept.open()) as store:
        store.submit(count("1", 1)).result(WAIT_S)
    kept.execute(UNREADABLE.replace("KIND", kind))
    with closing(kept.open()) as store:
        assert store.state.counts == {"1": 1}
        assert store.read_only is not None
        assert store.read_only.rule == rule
        assert isinstance(store.submit(count("1", 2)).exception(WAIT_S), BookIsReadOnly)
