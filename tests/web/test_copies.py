"""Copies of the public pages: whole, alone, current, and without anybody's name."""

import asyncio
import re
import time
from collections.abc import Callable
from html import unescape
from pathlib import Path
from urllib.parse import unquote, urlsplit

import msgspec
import pytest

from callroom.actions import day
from callroom.actions.request import propose
from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.cli.rehearsal import Stage
from callroom.journal import NOTES, PEOPLE
from callroom.model.person import Note, Person
from callroom.web import WebSettings, make_app
from callroom.web.copies import Copier, CopyFolder, NotACopy
from callroom.web.copies.names import Names
from callroom.web.copies.rewriting import rewritten
from callroom.web.ports import Book
from tests.bootstrap.day_books import day_book
from tests.web.building import DIRECTOR, FakeBook, played_book

LINK = re.compile(r'(?:href|src)="([^"]*)"')
SIGN = "Zzyx"


def copier_of(book: Book, folder: Path) -> Copier:
    site = make_app(book, WebSettings())
    return Copier(site, site.house, CopyFolder(folder))


def copied(book: Book, folder: Path) -> None:
    """Write one copy of `book`."""
    asyncio.run(copier_of(book, folder).copy())


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of a day half-way."""
    made = tmp_path_factory.mktemp("copy")
    copied(played_book(6), made)
    return made


def pages_in(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.html")}


def test_every_link_leads_to_a_file_of_the_copy_and_nothing_asks_a_server(folder: Path) -> None:
    pages = pages_in(folder)
    teams = {f"team-T{number:02}.html" for number in range(1, 17)}
    assert teams | {"index.html", "timetable.html", "standings-open.html"} <= pages.keys()
    for name, text in pages.items():
        assert "data-live" not in text, name
        assert "<script" not in text, name
        assert "<form" not in text, name
        for link in LINK.findall(text):
            parts = urlsplit(unescape(link))
            if parts.scheme or not parts.path:
                continue
            assert (folder / unquote(parts.path)).is_file(), f"{name} leads to {link}"
    assert "board.html" not in pages
    assert (folder / "calendar.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")
    assert (folder / "team-T01-calendar.ics").is_file()


def test_each_page_says_when_it_was_made(folder: Path) -> None:
    for text in pages_in(folder).values():
        assert "Copy as of 10:47." in text


def test_a_score_changes_the_pages_it_is_on_and_no_others(tmp_path: Path) -> None:
    book = played_book(6)
    copier = copier_of(book, tmp_path)
    assert asyncio.run(copier.copy()) > 30
    assert asyncio.run(copier.copy()) == 0
    steady = (tmp_path / "workouts.html").stat().st_mtime_ns
    book.do(DIRECTOR, day.withdraw_team("T01", "hurt"))
    assert 0 < asyncio.run(copier.copy()) < 30
    assert (tmp_path / "workouts.html").stat().st_mtime_ns == steady
    assert "out" in (tmp_path / "index.html").read_text(encoding="utf-8")


def test_what_is_no_longer_public_goes_and_a_folder_that_vanished_comes_back(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "copy"
    folder.mkdir()
    book = played_book(2)
    copier = copier_of(book, folder)
    asyncio.run(copier.copy())
    assert (folder / "team-T05.html").is_file()
    # As after loading the event anew without that team.
    teams = {key: team for key, team in book.state.teams.items() if key != "T05"}
    book.state = msgspec.structs.replace(book.state, teams=teams, seq=book.state.seq + 1)
    asyncio.run(copier.copy())
    assert not (folder / "team-T05.html").exists()
    for path in folder.glob("*.html"):
        path.unlink()
    asyncio.run(copier.copy())
    assert (folder / "index.html").is_file()


def test_a_folder_with_other_things_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("my own page", encoding="utf-8")
    with pytest.raises(NotACopy):
        CopyFolder(tmp_path)
    assert (tmp_path / "index.html").read_text(encoding="utf-8") == "my own page"


def test_an_unreleased_workout_is_in_no_file(tmp_path: Path) -> None:
    book = FakeBook(played_book(2).state)
    copied(book, tmp_path)
    for path in (path for path in tmp_path.rglob("*") if path.is_file()):
        assert b"Heavy single" not in path.read_bytes(), path.name


@pytest.mark.store
def test_nothing_about_a_person_is_in_any_file(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    person = Person(name=f"{SIGN} Name", email=f"{SIGN}@example.org", phone=f"{SIGN} 112")
    planted = (
        PEOPLE.put("p1a", person),
        NOTES.put("p1a/medical", Note(text=f"{SIGN} is ill", at_ms=1, author="desk")),
    )
    book.ask_now(AT_THE_KEYBOARD, propose(), key="plant", beside=planted)
    book.ask_now(AT_THE_KEYBOARD, day.withdraw_team("T4", f"{SIGN} is hurt"), key="out")
    asyncio.run(book.doors.join(book.doors.make_code("judge", ""), f"{SIGN}'s phone", "here"))
    folder = tmp_path / "copy"
    copied(book, folder)
    book.close()
    assert SIGN in str((tmp_path / "day.book").read_bytes())
    files = [path for path in folder.rglob("*") if path.is_file()]
    assert len(files) > 10
    for path in files:
        assert SIGN.encode() not in path.read_bytes(), path.name


def test_names_of_files_are_plain_and_never_alike() -> None:
    names = Names()
    paths = ["/", "/team/T1", "/team/t1", "/team/../etc", "/team/a b", "/team/a-b", "/team/é",
             "/team/T1/calendar.ics", "/calendar.ics"]  # fmt: skip
    given = [names.of(path) for path in paths]
    assert given[0] == "index.html"
    assert given[7:] == ["team-T1-calendar.ics", "calendar.ics"]
    assert len({name.casefold() for name in given}) == len(given)
    assert all(re.fullmatch(r"[A-Za-z0-9_.-]+", name) for name in given)
    assert not [name for name in given if ".." in name or name.startswith(".")]
    assert [names.of(path) for path in paths] == given


def test_rewriting_keeps_words_and_marks_and_drops_only_what_leads_nowhere() -> None:
    page = (
        "<!doctype html><body><nav><a href='/'>Now</a><a href='/board'>Board</a></nav>"
        '<header class="masthead"></header><form><input name="x"><p>Gone</p></form>'
        "<p>Salt &amp; &#39;Sun&#39; <a href='/board'>as called</a> <br>"
        "<a href='/team/T1#w1'>T&lt;1&gt;</a></p><svg><path d='M0'/></svg></body>"
    )
    files = {"/": "index.html", "/team/T1": "team-T1.html"}
    assert rewritten(page, files.get, "<p>Notice</p>") == (
        '<!doctype html><body><nav><a href="index.html">Now</a></nav>'
        '<p>Notice</p><header class="masthead"></header>'
        "<p>Salt &amp; &#39;Sun&#39; <a>as called</a> <br>"
        '<a href="team-T1.html#w1">T&lt;1&gt;</a></p><svg><path d="M0"/></svg></body>'
    )


@pytest.mark.store
def test_while_a_book_is_served_its_copy_follows(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    folder = tmp_path / "copy"
    with Stage(book, copy_to=str(folder)):
        until(lambda: (folder / "callroom-copy.json").exists() and (folder / "index.html").exists())
    assert "T4" in (folder / "index.html").read_text(encoding="utf-8")
    book.close()


def until(done: Callable[[], bool]) -> None:
    """Wait for something that another thread does."""
    deadline_s = time.monotonic() + 30
    while not done():
        assert time.monotonic() < deadline_s
        time.sleep(0.02)
