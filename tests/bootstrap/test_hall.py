"""A hosted book goes to the hall and comes back whole; two that both went on are never merged."""

from pathlib import Path

import httpx
import pytest

from callroom.actions import check_in, day
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.hall import HallKeeping, bring_back_to, let_in, take
from callroom.bootstrap.open_book import OpenBook
from callroom.cli.rehearsal import Stage
from callroom.model import BadInput, Refusal
from tests.bootstrap.day_books import day_book
from tests.bootstrap.test_carrying_on import entry, joined, send

pytestmark = pytest.mark.store


def gone(tmp_path: Path) -> tuple[OpenBook, Path]:
    """A hosted book that went to the hall, and the file that it gave out."""
    hosted = day_book(tmp_path / "hosted.book")
    hosted.ask_now(AT_THE_KEYBOARD, check_in.take_book(), key="take")
    (tmp_path / "hall").mkdir()
    file = tmp_path / "hall" / "day.book"
    HallKeeping(hosted).copy(file)
    return hosted, file


def run_a_heat(path: Path, key: str) -> None:
    book = open_book(path)
    book.ask_now(AT_THE_KEYBOARD, day.call_heat("w1-1"), key=key)
    book.close()


def test_the_book_goes_to_the_hall_and_comes_back_with_what_happened_there(tmp_path: Path) -> None:
    hosted, file = gone(tmp_path)
    hosted.close()
    assert take(file).generation == 2
    run_a_heat(file, "call")
    back = bring_back_to(tmp_path / "hosted.book", file)
    assert back.generation == 3
    again = open_book(tmp_path / "hosted.book", writing=False)
    assert again.state.away is None
    assert again.state.heat_run("w1-1").stage == "called"
    # Whoever erases a person is told that they are in there as well.
    kept = tmp_path / "hosted.generation-1.book"
    assert kept.exists()
    assert str(kept) in again.backups()
    again.close()
    # The hall goes on although its book was brought back: that is another book now.
    run_on = open_book(file)
    run_on.ask_now(AT_THE_KEYBOARD, day.set_desk(double_entry=True), key="late")
    run_on.close()
    with pytest.raises(Refusal, match=r"hall\.two_books"):
        bring_back_to(tmp_path / "hosted.book", file)


def test_of_two_laptops_that_took_one_file_the_second_is_refused(tmp_path: Path) -> None:
    hosted, file = gone(tmp_path)
    hosted.close()
    other = tmp_path / "other" / "day.book"
    take(file, other)
    take(file)
    run_a_heat(file, "here")
    run_a_heat(other, "there")
    bring_back_to(tmp_path / "hosted.book", file)
    with pytest.raises(Refusal, match=r"hall\.two_books"):
        bring_back_to(tmp_path / "hosted.book", other)


def test_a_book_that_stayed_after_all_takes_none_back(tmp_path: Path) -> None:
    hosted, file = gone(tmp_path)
    take(file)
    run_a_heat(file, "call")
    hosted.ask_now(AT_THE_KEYBOARD, check_in.keep_book(), key="keep")
    with pytest.raises(Refusal, match=r"hall\.two_books"):
        HallKeeping(hosted).bring_back(file)
    hosted.close()
    assert let_in(tmp_path / "hosted.book") is None


def test_what_cannot_be_brought_back_is_said(tmp_path: Path) -> None:
    hosted, file = gone(tmp_path)
    keeping = HallKeeping(hosted)
    with pytest.raises(Refusal, match=r"hall\.nothing_new"):
        keeping.bring_back(file)
    damaged = tmp_path / "damaged.book"
    content = bytearray(file.read_bytes())
    at = content.index(b"book.taken")
    content[at : at + 4] = b"kook"
    damaged.write_bytes(content)
    with pytest.raises(BadInput):
        keeping.bring_back(damaged)
    hosted.ask_now(AT_THE_KEYBOARD, check_in.keep_book(), key="keep")
    with pytest.raises(Refusal, match=r"hall\.not_taken"):
        keeping.copy(tmp_path / "copy.book")
    hosted.close()
    plain = day_book(tmp_path / "plain.book")
    plain.close()
    with pytest.raises(Refusal, match=r"hall\.not_taken"):
        take(tmp_path / "plain.book")
    take(file)
    with pytest.raises(Refusal, match=r"hall\.taken_already"):
        take(file)


def test_a_frozen_server_answers_pads_so_that_they_keep_what_they_have(tmp_path: Path) -> None:
    hosted = day_book(tmp_path / "hosted.book")
    token = joined(hosted)
    hosted.ask_now(AT_THE_KEYBOARD, check_in.take_book(), key="take")
    with Stage(hosted) as stage:
        answer = send(stage.url, token, "one", entry("T1", 300_000))
        page = httpx.get(f"{stage.url}/timetable", headers={"accept": "text/html"})
    hosted.close()
    assert answer.status_code == 503
    assert "taken to the hall" in answer.json()["sentence"]
    assert "This event was taken to the hall." in page.text
