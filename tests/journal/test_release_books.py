"""A book of every release is kept in `books/` and must open, fold and verify for ever."""

import shutil
from contextlib import closing
from pathlib import Path

import pytest

from callroom.journal import Codec, Reading, verify
from callroom.journal.entries.kinds import KINDS
from callroom.journal.fold import EventFolder
from callroom.journal.stores import inspected, open_book
from callroom.model import State
from tests.journal.counting import START_MS

pytestmark = pytest.mark.store

BOOKS = sorted((Path(__file__).parent / "books").glob("*.book"))


@pytest.mark.parametrize("kept", BOOKS, ids=lambda kept: kept.stem)
def test_the_book_of_a_release_opens(kept: Path, tmp_path: Path) -> None:
    path = tmp_path / kept.name
    shutil.copy(kept, path)
    reading = Reading(codec=Codec(KINDS), folder=EventFolder(), empty=State())
    with closing(open_book(path, reading, clock=lambda: START_MS)) as store:
        assert store.read_only is None
        assert store.state.event is not None
        assert store.state_at(store.state.seq) == store.state
    with inspected(path) as book:
        assert verify(book, reading) == []
