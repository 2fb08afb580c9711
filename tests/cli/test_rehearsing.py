"""A rehearsal plays the whole day through the real interface, on a copy that says so."""

import hashlib
from pathlib import Path

import pytest

from callroom.bootstrap.books import open_book
from tests.bootstrap.day_books import day_book
from tests.cli.running import Ran, callroom

pytestmark = pytest.mark.store


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small planned day."""
    path = tmp_path / "small.book"
    day_book(path).close()
    return path


def rehearsed(book: Path, seed: int) -> Ran:
    return callroom("rehearse", book, "--seed", str(seed), "--json")


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_the_book_stays_as_it_is_and_a_seed_repeats_its_day(book: Path) -> None:
    before = digest(book)
    first = rehearsed(book, 5)
    assert first.code == 0, first.err
    assert first.answer["refused"] == 0
    copy = Path(first.answer["book"])
    standings = callroom("standings", copy, "--json").out
    assert rehearsed(book, 5).code == 0
    assert callroom("standings", copy, "--json").out == standings
    assert rehearsed(book, 6).code == 0
    assert callroom("standings", copy, "--json").out != standings
    assert digest(book) == before
    assert callroom("verify", copy).code == 0


def test_the_copy_says_that_it_is_a_rehearsal_and_is_not_rehearsed_itself(book: Path) -> None:
    copy = Path(rehearsed(book, 5).answer["book"])
    opened = open_book(copy, writing=False)
    assert opened.state.rehearsal
    opened.close()
    refused = callroom("rehearse", copy)
    assert refused.code == 1
    assert copy.name in refused.err


def test_the_whole_day_is_played(book: Path) -> None:
    copy = Path(rehearsed(book, 5).answer["book"])
    opened = open_book(copy, writing=False)
    state = opened.state
    opened.close()
    assert state.plan is not None
    assert {state.heat_run(heat.id).stage for heat in state.plan.heats} == {"confirmed"}
    assert all(posting.final for posting in state.postings.values())
    assert len(state.sheets) == 4 * 3  # four teams, three scored parts
    assert not state.unplaced


def test_the_demonstration_plays_prints_and_counts_itself(tmp_path: Path) -> None:
    ran = callroom("demo", "--rehearse-only", "--out", tmp_path / "demo", "--json")
    assert ran.code == 0, ran.err
    said = ran.answer
    assert (said["teams"], said["heats"], said["refused"]) == (42, 35, 0)
    assert said["scores"] >= 42 * 6
    assert len(said["standings_sha256"]) == 64
    assert all(Path(name).is_file() for name in said["files"])
    endings = {Path(name).suffix for name in said["files"]}
    assert endings >= {".pdf", ".csv", ".xlsx", ".json", ".ics"}
    sheets = [Path(name) for name in said["files"] if name.endswith(".pdf")]
    assert len(sheets) >= 7
    assert all(sheet.read_bytes().startswith(b"%PDF") for sheet in sheets)


def test_a_dump_makes_the_same_book_again(book: Path, tmp_path: Path) -> None:
    copy = Path(rehearsed(book, 5).answer["book"])
    assert callroom("export", copy, "--out", tmp_path / "files").code == 0
    again = tmp_path / "again.book"
    assert callroom("new", again, "--from", tmp_path / "files" / "book.json").code == 0
    states = []
    for path in (copy, again):
        opened = open_book(path, writing=False)
        states.append(opened.state)
        opened.close()
    assert states[0] == states[1]
    assert callroom("verify", again).code == 0


def test_a_torn_dump_makes_no_book(book: Path, tmp_path: Path) -> None:
    assert callroom("export", book, "--out", tmp_path / "files").code == 0
    dump = tmp_path / "files" / "book.json"
    dump.write_bytes(dump.read_bytes()[:-200])
    ran = callroom("new", tmp_path / "torn.book", "--from", dump)
    assert ran.code == 2
    assert "book.json" in ran.err
    assert not (tmp_path / "torn.book").exists()
