"""An open book asks the rules, keeps the answer on disk and tells whoever watches."""

import asyncio
from pathlib import Path

import pytest

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book, verify_book
from callroom.model import Refusal, State
from tests.actions.day_building import HEAD_JUDGE, JUDGE, report
from tests.bootstrap.day_books import day_book

pytestmark = pytest.mark.store


def test_what_was_asked_is_there_after_opening_again(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    book.ask_now(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)), key="r1")
    told = book.state
    book.close()
    again = open_book(tmp_path / "day.book")
    assert again.state == told
    again.close()
    assert verify_book(tmp_path / "day.book") == []


def test_the_same_key_counts_once(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    asked = ask.report_score(report("w1-1", "T1", 300_000))
    first = book.ask_now(JUDGE, asked, key="r1")
    second = book.ask_now(JUDGE, asked, key="r1")
    assert (first.replayed, second.replayed) == (False, True)
    assert first.seqs == second.seqs
    (sheet,) = book.state.sheets.values()
    assert len(sheet.reports) == 1
    book.close()


def test_of_two_people_who_confirm_one_heat_one_does(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    for team in ("T1", "T2"):
        book.ask_now(JUDGE, ask.report_score(report("w1-1", team, 300_000)), key=team)
    futures = [
        book.submit(HEAD_JUDGE, ask.confirm_heat("w1-1", {}), key=f"confirm-{number}")
        for number in range(8)
    ]
    faults = [future.exception() for future in futures]
    assert faults.count(None) == 1
    refused = [fault for fault in faults if isinstance(fault, Refusal)]
    assert {fault.rule for fault in refused} == {"heat.already_confirmed"}
    assert len(refused) == 7
    book.close()


def test_watchers_hear_of_every_published_state(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    heard: list[int] = []

    def fail(_state: State) -> None:
        raise RuntimeError("a listener that fails")

    book.watch(fail)
    end = book.watch(lambda state: heard.append(state.seq))
    book.ask_now(HEAD_JUDGE, ask.call_heat("w1-1"), key="call")
    end()
    book.ask_now(HEAD_JUDGE, ask.call_heat("w1-2"), key="call-2")
    assert heard == [book.state.seq - 1]
    book.close()


def test_asking_from_a_loop_does_not_stall_it(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")

    async def many() -> list[int]:
        asked = [
            book.ask(JUDGE, ask.mark_arrived("w1-1", team), key=f"{team}-{number}")
            for team in ("T1", "T2")
            for number in range(20)
        ]
        return [seq for outcome in await asyncio.gather(*asked) for seq in outcome.seqs]

    seqs = asyncio.run(many())
    assert len(set(seqs)) == 40
    assert set(book.state.heat_run("w1-1").arrived) == {"T1", "T2"}
    book.close()


def test_a_book_opened_to_look_at_writes_nothing(tmp_path: Path) -> None:
    day_book(tmp_path / "day.book").close()
    before = (tmp_path / "day.book").read_bytes()
    book = open_book(tmp_path / "day.book", writing=False)
    with pytest.raises(Exception, match="read_only"):
        book.ask_now(AT_THE_KEYBOARD, ask.call_heat("w1-1"), key="call")
    book.close()
    assert (tmp_path / "day.book").read_bytes() == before


def test_a_draft_is_on_disk_until_it_is_let_go(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    book.keep_draft("workout/w1", b"one")
    book.keep_draft("workout/w2", b"two")
    book.keep_draft("other/x", b"three")
    book.close()
    again = open_book(tmp_path / "day.book")
    assert again.drafts("workout/") == {"workout/w1": b"one", "workout/w2": b"two"}
    again.keep_draft("workout/w1", None)
    assert set(again.drafts("workout/")) == {"workout/w2"}
    again.close()
