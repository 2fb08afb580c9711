"""Another laptop carries on: from a rolling copy, with nothing lost and never two at once."""

import asyncio
import os
import platform
from pathlib import Path
from typing import Any

import httpx
import msgspec
import pytest

from callroom.actions import day
from callroom.bootstrap.books import AT_THE_KEYBOARD, new_book, open_book
from callroom.bootstrap.carry_on import carry_on
from callroom.bootstrap.gathering import gather
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.standby_files import StandbyFiles
from callroom.bootstrap.standby_keeper import StandbyKeeper
from callroom.cli.rehearsal import Stage
from callroom.journal.store import FileInTheWay
from callroom.model import NotFound, Refusal
from tests.actions.day_building import report
from tests.bootstrap.day_books import day_book

pytestmark = pytest.mark.store


def entry(team: str, time_ms: int) -> bytes:
    """A score as a pad sends it."""
    data = msgspec.to_builtins(report("w1-1", team, time_ms))
    return msgspec.json.encode({"kind": "score.reported", "data": data, "basis": {}})


def send(url: str, token: str, key: str, body: bytes) -> httpx.Response:
    headers = {"Authorization": f"Bearer {token}", "Idempotency-Key": key}
    return httpx.post(f"{url}/entries", content=body, headers=headers)


def joined(book: OpenBook) -> str:
    """The token of a pad that joined."""
    code = book.doors.make_code("judge", "")
    return asyncio.run(book.doors.join(code, "lane 1", "here"))[1]


def scores(book: OpenBook) -> dict[str, Any]:
    return {sheet.team: sheet.counting.time_ms for sheet in book.state.sheets.values()
            if sheet.counting is not None}  # fmt: skip


def test_the_drill(tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    first = day_book(tmp_path / "day.book")
    token = joined(first)
    first.ask_now(AT_THE_KEYBOARD, day.start_heat("w1-1", first.now_ms()), key="start")
    with Stage(first) as stage:
        keeper = StandbyKeeper(first, stick, (stage.url,))
        assert send(stage.url, token, "one", entry("T1", 300_000)).status_code == 200
        keeper.copy_now()
        # Stored here, and not in the copy any more; and one that never arrived.
        assert send(stage.url, token, "two", entry("T2", 310_000)).status_code == 200
        with pytest.raises(Refusal) as served:
            carry_on(stick, tmp_path / "second" / "day.book")
        assert served.value.rule == "carry.still_served"
    first.close()  # the laptop is gone

    carried = carry_on(stick, tmp_path / "second" / "day.book")
    assert (carried.generation, carried.marked) == (2, True)
    second = open_book(carried.path)
    assert carried.seq == second.state.seq - 1
    assert scores(second) == {"T1": 300_000}
    with Stage(second) as stage:
        # The pad sends again whatever it still keeps: what is known counts once.
        kept = [("one", "T1", 300_000), ("two", "T2", 310_000)]
        said = [send(stage.url, token, key, entry(team, ms)).json() for key, team, ms in kept]
        assert [one["replayed"] for one in said] == [True, False]
    assert scores(second) == {"T1": 300_000, "T2": 310_000}
    second.close()


def test_what_the_first_laptop_took_last_is_brought_over_once(tmp_path: Path) -> None:
    first = day_book(tmp_path / "day.book")
    token = joined(first)
    with Stage(first) as stage:
        StandbyKeeper(first, tmp_path).copy_now()
        for key, team in (("one", "T1"), ("two", "T2")):
            assert send(stage.url, token, key, entry(team, 300_000)).status_code == 200
    first.ask_now(AT_THE_KEYBOARD, day.call_heat("w1-1"), key="call")
    first.close()
    second = tmp_path / "second.book"
    carry_on(tmp_path, second, although_served=True)
    found = gather(second, tmp_path / "day.book")
    assert found.reports == 2
    assert ("heat.called", 1) in found.decisions
    assert gather(second, tmp_path / "day.book").reports == 0
    book = open_book(second)
    assert scores(book) == {"T1": 300_000, "T2": 300_000}
    with Stage(book) as stage:
        # The pad sends again what it keeps: known already.
        assert send(stage.url, token, "two", entry("T2", 300_000)).json()["replayed"]
    book.close()


def test_books_of_two_events_are_not_mixed(tmp_path: Path) -> None:
    day_book(tmp_path / "day.book").close()
    new_book(tmp_path / "other.book")
    with pytest.raises(Refusal) as refused:
        gather(tmp_path / "day.book", tmp_path / "other.book")
    assert refused.value.rule == "event.another"


def test_two_laptops_never_carry_on_with_one_copy(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    StandbyKeeper(book, tmp_path).copy_now()
    carry_on(tmp_path, tmp_path / "second.book", address="http://192.168.1.21:8000")
    with pytest.raises(Refusal) as taken:
        carry_on(tmp_path, tmp_path / "third.book")
    assert taken.value.rule == "carry.taken"
    assert taken.value.facts["machine"] == platform.node()
    assert not (tmp_path / "third.book").exists()
    third = carry_on(tmp_path, tmp_path / "third.book", again=True)
    assert third.generation == 2
    book.close()


def test_the_first_laptop_takes_nothing_more_once_another_carries_on(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    with Stage(book) as stage, StandbyKeeper(book, tmp_path) as keeper:
        token = joined(book)
        keeper.copy_now()
        carry_on(tmp_path, tmp_path / "second.book", address="http://192.168.1.21:8000")
    # Leaving the keeper looks once more, and finds the mark.
    assert keeper.kept.taken is not None
    with pytest.raises(Refusal) as refused:
        book.ask_now(AT_THE_KEYBOARD, day.call_heat("w1-1"), key="late")
    assert refused.value.rule == "carry.superseded"
    assert refused.value.facts["address"] == "http://192.168.1.21:8000"
    with Stage(book) as stage:
        late = send(stage.url, token, "late", entry("T1", 300_000))
        # Not 4xx: a pad keeps what it has until it is led elsewhere.
        assert late.status_code == 503
        assert "carries on with this book" in late.json()["sentence"]
    with pytest.raises(Refusal):
        StandbyKeeper(book, tmp_path)
    book.close()


def test_a_copy_that_is_not_what_was_written_is_refused(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    StandbyKeeper(book, tmp_path).copy_now()
    book.close()
    files = StandbyFiles.found(tmp_path)
    raw = bytearray(files.copy.read_bytes())
    raw[len(raw) // 2] ^= 1
    files.copy.write_bytes(raw)
    with pytest.raises(Refusal) as refused:
        carry_on(tmp_path, tmp_path / "second.book")
    assert refused.value.rule == "carry.not_whole"
    assert not (tmp_path / "second.book").exists()


def test_what_cannot_be_carried_on_says_so(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match=r"carry\.no_copy"):
        carry_on(tmp_path)
    book = day_book(tmp_path / "day.book")
    keeper = StandbyKeeper(book, tmp_path)
    keeper.copy_now()
    with pytest.raises(FileInTheWay):
        carry_on(tmp_path, tmp_path / "day.book")
    (tmp_path / "other.book.standby").write_bytes(b"x")
    with pytest.raises(Refusal) as several:
        carry_on(tmp_path, tmp_path / "second.book")
    assert several.value.rule == "carry.several"
    book.close()


def test_a_folder_that_is_gone_does_not_disturb_the_book(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    with StandbyKeeper(book, tmp_path / "pulled-out") as keeper:
        book.ask_now(AT_THE_KEYBOARD, day.call_heat("w1-1"), key="call")
    assert keeper.kept.failing
    (tmp_path / "pulled-out").mkdir()
    with StandbyKeeper(book, tmp_path / "pulled-out") as keeper:
        pass
    assert not keeper.kept.failing
    assert keeper.kept.note is not None
    assert keeper.kept.note.seq == book.state.seq
    book.close()


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such bits")
def test_the_copy_is_for_its_owner_only(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    StandbyKeeper(book, tmp_path).copy_now()
    assert StandbyFiles.found(tmp_path).copy.stat().st_mode & 0o077 == 0
    second = carry_on(tmp_path, tmp_path / "second.book")
    assert second.path.stat().st_mode & 0o077 == 0
    book.close()
