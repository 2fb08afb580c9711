"""What is kept of the results: book, certificates, press text, an archive without a server."""

import re
from pathlib import Path

import pytest

from callroom.actions import day
from callroom.model.person import Person
from callroom.views.results_book import results_book
from callroom.views.story import story
from callroom.views.story_picture import story_svg
from callroom.views.timetable import CREW
from callroom.web.archive import write_archive
from tests.paper.reading import pages_of
from tests.web.building import DIRECTOR, FakeBook, client_of, played_book

NETWORK = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}


@pytest.fixture(scope="module")
def late() -> FakeBook:
    """Almost all of the day over; somebody's name is known."""
    whole = played_book(0)
    assert whole.state.plan is not None
    heats = len(whole.state.plan.heats) - 2
    book = played_book(heats, confirm=heats)
    athlete = book.state.teams["T13"].athletes[0].person
    book.beside["people"] = {athlete: Person(name="Zora Sample")}
    return book


def test_a_story_ends_where_the_standings_do(late: FakeBook) -> None:
    for table, told in zip(
        results_book(late.state, CREW, "").tables,
        results_book(late.state, CREW, "").stories,
        strict=True,
    ):
        assert told.teams == tuple(row.team for row in table.rows)
        assert len(told.steps) == table.counted
        assert told.steps[-1].places == {row.team: row.place for row in table.rows}
        assert {len(told.course(team)) for team in told.teams} == {len(told.steps)}


def test_every_line_of_the_picture_ends_in_the_row_of_its_team(late: FakeBook) -> None:
    told = story(late.state, "pairs", CREW)
    svg = story_svg(told, rows_wide=16)
    ends = [(int(x), int(y)) for x, y in re.findall(r'<circle cx="(\d+)" cy="(\d+)"', svg)]
    last = max(x for x, _ in ends)
    assert sorted(y for x, y in ends if x == last) == [13, 39, 65, 91]
    assert story_svg(story(played_book(0).state, "pairs", CREW), rows_wide=16) == ""


def test_the_book_names_the_winners_and_carries_the_seal(late: FakeBook) -> None:
    with client_of(late, "director") as client:
        pdf = client.get("/director/results/book.pdf").content
        page = client.get("/director/results").text
        press = client.get("/director/results/press.txt").text
    cover, *divisions = pages_of(pdf)
    assert "Provisional" in cover
    assert f"Entry {late.state.seq}, seal seal-of-{late.state.seq}" in cover
    assert len(divisions) == 2
    assert "Up Hill Both Ways" in cover
    assert "Not final yet" in page
    assert "1st Up Hill Both Ways" in press
    assert "NOT FOR PRINT" in press
    assert "Zora" not in press + page + "".join((cover, *divisions))


def test_what_is_posted_as_final_is_final() -> None:
    book = played_book(0)
    assert book.state.plan is not None
    heats = len(book.state.plan.heats) - 2
    book = played_book(heats, confirm=heats)
    before = results_book(book.state, CREW, "")
    assert not before.final
    with client_of(book, "director") as client:
        book.do(DIRECTOR, day.post_standings("pairs", final=True))
        page = client.get("/director/results").text
    assert "Pairs" not in page.split("Not final yet:")[1].split(".")[0]


def test_certificates_have_names_only_where_nobody_reads_along(late: FakeBook) -> None:
    path = "/director/results/certificates.pdf"
    with client_of(late, "director") as client:
        whole = pages_of(client.get(path).content)
        one = pages_of(client.get(f"{path}?team=T13").content)
        assert client.get(f"{path}?team=T99").status_code == 404
    assert len(whole) == 16
    assert len(one) == 1
    assert "Zora Sample" in one[0]
    assert any("1st place of 4 teams" in page for page in whole)
    for role in ("desk", "head_judge"):
        with client_of(late, role) as client:
            assert client.get(path).status_code == 403


def test_the_archive_opens_from_a_folder_and_names_nobody(late: FakeBook, tmp_path: Path) -> None:
    assert write_archive(late, tmp_path / "kept") > 20
    start = (tmp_path / "kept" / "index.html").read_text(encoding="utf-8")
    assert "Kept for later, as of 2026-11-14." in start
    everything = b"".join(
        path.read_bytes() for path in (tmp_path / "kept").rglob("*") if path.is_file()
    )
    assert b"Zora" not in everything
    assert b"Up Hill Both Ways" in everything


def test_the_lessons_are_a_page_and_a_report(late: FakeBook) -> None:
    with client_of(late, "director") as client:
        page = client.get("/director/lessons").text
        report = pages_of(client.get("/director/lessons.pdf").content)
    assert "<svg" in page
    assert "Told apart" in page
    assert "Most at once" in page
    assert "label of judge-1" in page
    whole = " ".join(" ".join(report).split())
    for title in (
        "How late the floors ran",
        "How well each workout separated",
        "final order",
        "The kit",
    ):
        assert title in whole
    assert "label of judge-1" in whole
    with client_of(late, "head_judge") as client:
        assert client.get("/director/lessons").status_code == 403
