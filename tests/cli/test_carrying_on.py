"""Another laptop carries on by one command."""

import json
import subprocess
import sys
import time
from pathlib import Path

import pytest

from callroom.actions.day import call_heat
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.places import file_of
from callroom.bootstrap.standby_files import StandbyFiles
from callroom.bootstrap.standby_keeper import StandbyKeeper
from tests.bootstrap.day_books import day_book
from tests.bootstrap.test_carrying_on import entry, joined, scores, send
from tests.cli.running import callroom

pytestmark = pytest.mark.store


def test_the_command_makes_the_book_and_says_its_last_entry(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    note = StandbyKeeper(book, tmp_path).copy_now()
    book.close()
    to = tmp_path / "second" / "day.book"
    ran = callroom("carry-on", tmp_path, "--to", to, "--no-serve", "--json")
    assert ran.code == 0, ran.err
    assert (ran.answer["seq"], ran.answer["seal"]) == (note.seq, note.seal)
    assert ran.answer["path"] == str(to)
    second = open_book(to, writing=False)
    assert second.state.generation == 2
    second.close()
    again = callroom("carry-on", tmp_path, "--to", tmp_path / "third.book", "--no-serve")
    assert again.code == 1
    assert "carries on with this copy already" in again.err


def test_a_laptop_whose_copy_was_taken_does_not_serve_again(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    book = day_book(path)
    StandbyKeeper(book, tmp_path).copy_now()
    book.close()
    to = tmp_path / "second.book"
    assert callroom("carry-on", tmp_path, "--to", to, "--no-serve").code == 0
    ran = callroom("serve", path, "--port", "0", "--no-browser", "--keep", tmp_path)
    assert ran.code == 1
    assert "carries on with this book" in ran.err


def test_a_laptop_that_is_killed_while_it_serves_is_followed_by_another(tmp_path: Path) -> None:
    """The whole drill with real processes: nothing here waits but for what must have happened."""
    book = day_book(tmp_path / "day.book")
    token = joined(book)
    book.close()
    (tmp_path / "stick").mkdir()
    words = ["serve", tmp_path / "day.book", "--port", "0", "--no-browser", "--json"]
    first = subprocess.Popen(
        [sys.executable, "-m", "callroom", *map(str, words), "--keep", str(tmp_path / "stick")],
        stdout=subprocess.PIPE,
    )
    try:
        assert first.stdout is not None
        url = json.loads(b"".join(iter(first.stdout.readline, b"}\n")) + b"}")["url"]
        seq = send(url, token, "one", entry("T1", 300_000)).json()["seqs"][0]
        files = StandbyFiles.for_book(tmp_path / "stick", file_of(book.path))
        while (note := files.note()) is None or note.seq < seq:
            assert first.poll() is None
            time.sleep(0.05)
    finally:
        first.kill()
        first.communicate()
    to = tmp_path / "second.book"
    ran = callroom("carry-on", tmp_path / "stick", "--to", to, "--no-serve", "--json")
    assert ran.code == 0, ran.err
    second = open_book(to, writing=False)
    assert scores(second) == {"T1": 300_000}
    second.close()


def test_what_the_other_laptop_has_alone_is_brought_over(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    StandbyKeeper(book, tmp_path).copy_now()
    book.ask_now(AT_THE_KEYBOARD, call_heat("w1-1"), key="call")
    book.close()
    second = tmp_path / "second.book"
    assert callroom("carry-on", tmp_path, "--to", second, "--no-serve").code == 0
    ran = callroom("gather", second, tmp_path / "day.book", "--json")
    assert ran.code == 0, ran.err
    assert ran.answer == {"reports": 0, "decisions": {"heat.called": 1}}
    assert "heat.called, 1" in callroom("gather", second, tmp_path / "day.book").err
