"""Another laptop carries on by one command."""

from pathlib import Path

import pytest

from callroom.bootstrap.books import open_book
from callroom.bootstrap.standby_keeper import StandbyKeeper
from tests.bootstrap.day_books import day_book
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
