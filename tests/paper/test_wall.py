"""Standings for the wall: every team, the appeal time, the seal; on the paper asked for."""

import msgspec
import pytest

from callroom.actions import day
from callroom.bootstrap.speech import speech_for
from callroom.model import NotFound, State, from_milliseconds
from callroom.paper import WallSize, wall_standings_pdf
from callroom.views.timetable import Audience
from callroom.views.wall import wall_standings
from tests.paper.reading import pages_of, size_mm
from tests.web.building import DIRECTOR, FakeBook, client_of, played_book

SEAL = "3fa9-01c2-77aa-0b0c-1234"
OUTSIDE = Audience(public=True)


def drawn(state: State, division: str = "", size: WallSize = "a4") -> bytes:
    view = wall_standings(state, OUTSIDE, SEAL, division)
    at = from_milliseconds(state.at_ms)
    return wall_standings_pdf(view, size=size, at=at, speech=speech_for(state))


def posted_book() -> FakeBook:
    book = played_book(8)
    book.do(DIRECTOR, day.post_standings("open"))
    return book


def test_each_division_has_its_page_with_every_team_the_appeal_time_and_the_seal() -> None:
    book = posted_book()
    pages = pages_of(drawn(book.state))
    assert len(pages) == 2
    for page, division in zip(pages, ("open", "pairs"), strict=True):
        teams = [team for team in book.state.teams.values() if team.division == division]
        assert all(team.name in page for team in teams)
        assert f"Entry {book.state.seq}, seal {SEAL}" in page
    assert "Posted at 11:15. Appeals until 11:30, by the captain, to the head judge." in pages[0]
    assert "Not posted yet" in pages[1]
    assert "Heavy single" not in "".join(pages)


@pytest.mark.parametrize(
    ("size", "sides"),
    [("a4", (297, 210)), ("a3", (420, 297)), ("us-letter", (279, 216)), ("us-tabloid", (432, 279))],
)
def test_it_comes_on_the_paper_asked_for(size: WallSize, sides: tuple[int, int]) -> None:
    assert size_mm(drawn(posted_book().state, "pairs", size)) == sides


def test_a_change_after_posting_is_said() -> None:
    book = posted_book()
    book.do(DIRECTOR, day.withdraw_team("T01", "hurt"))
    (page,) = pages_of(drawn(book.state, "open"))
    assert "Changed since then." in page


def test_each_page_of_a_long_division_names_it() -> None:
    book = posted_book()
    many = dict(book.state.teams)
    for number in range(40):
        copied = msgspec.structs.replace(many["T01"], id=f"X{number:02}", athletes=())
        many[copied.id] = copied
    state = msgspec.structs.replace(book.state, teams=many)
    pages = pages_of(drawn(state, "open"))
    assert len(pages) > 1
    for page in pages:
        assert "Open fours" in page
        assert SEAL in page


def test_no_division_of_that_name_no_sheet() -> None:
    with pytest.raises(NotFound):
        drawn(posted_book().state, "masters")
    without = msgspec.structs.replace(posted_book().state, plan=None)
    with pytest.raises(NotFound):
        drawn(without)


def test_the_head_judge_prints_it_and_nobody_else_on_the_floor() -> None:
    book = posted_book()
    with client_of(book, "head_judge") as client:
        answer = client.get("/judge/wall.pdf?division=pairs&size=a3")
        assert answer.status_code == 200
        assert f"seal-of-{book.state.seq}" in "".join(pages_of(answer.content))
    with client_of(book, "desk") as client:
        assert client.get("/judge/wall.pdf").status_code == 403
