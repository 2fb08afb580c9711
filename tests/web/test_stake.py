"""What is at stake, as everyone may see it."""

import re
from html import escape

from callroom.actions.verdicts import set_embargo
from callroom.bootstrap.chances import podium_chances
from callroom.views.chances import in_hundred
from callroom.views.stake import stake
from callroom.views.timetable import Audience
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book
from tests.web.test_podium import finished_book, finished_state

PUBLIC = Audience(public=True, now_s=24 * 3600)


def before_the_last_workout() -> FakeBook:
    """Every heat over but those of the last workout, of which nothing was reported."""
    from msgspec.structs import replace

    state = finished_state()
    sheets = {key: one for key, one in state.sheets.items() if one.workout != "w5"}
    return FakeBook(replace(state, sheets=sheets))


def test_the_page_says_what_is_needed_and_what_is_likely() -> None:
    book = before_the_last_workout()
    with client_of(book) as client:
        page = client.get("/standings/open/stake").text
        assert 'href="/standings/open/stake"' in client.get("/standings/open").text
    assert "Needed in Sandbag relay" in page
    assert "sure with" in page
    assert "A guess, and no part of any result." in page
    shares = re.findall(r'<rect class="(first|second|third)" x="([\d.]+)%" width="([\d.]+)%"', page)
    assert shares
    assert all(float(left) + float(width) <= 100.1 for _, left, width in shares)
    leader = stake(book.state, "open", PUBLIC).teams[0].name
    assert escape(leader) in page


def test_with_nothing_to_come_nothing_is_said() -> None:
    with client_of(finished_book()) as client:
        page = client.get("/standings/open/stake").text
    assert "Nothing is to come" in page


def test_before_a_result_counts_there_are_needs_and_no_chances() -> None:
    with client_of(example_book()) as client:
        page = client.get("/standings/open/stake").text
    assert "Needed in Long haul" in page
    assert "Chances of the podium" not in page


def test_what_is_kept_back_is_to_come_for_the_public() -> None:
    book = finished_book()
    book.do(DIRECTOR, set_embargo("w5", hidden=True))
    told = stake(book.state, "open", PUBLIC)
    assert told.next is not None
    assert told.next.workout.id == "w5"
    assert stake(book.state, "open", Audience()).next is None


def test_the_same_state_gives_the_same_chances() -> None:
    state = before_the_last_workout().state
    found = podium_chances(state, "open", draws=200)
    assert found is not None
    assert found == podium_chances(state, "open", draws=200)
    assert found.to_come == (("w5", "a"),)
    assert 950 <= sum(team.places[0] for team in found.teams) <= 1200


def test_a_share_is_never_rounded_to_none_or_all() -> None:
    assert [in_hundred(share) for share in (0, 4, 10, 499, 995, 1000)] == [
        "0",
        "<1",
        "1",
        "50",
        ">99",
        "100",
    ]


def test_an_unknown_division_is_not_found() -> None:
    with client_of(example_book()) as client:
        assert client.get("/standings/nobody/stake").status_code == 404
