"""What times say on pages: which day of an event they are on, warm-up and briefing before a heat."""

import re

import pytest
from msgspec.structs import replace

from callroom.model import EventDay
from callroom.paper.phrases import said_ahead
from callroom.paper.timetables import floors_payload, overview_payload
from callroom.views.timetable import timetable
from callroom.views.wording import ENGLISH
from callroom.views.work_wording import speech_of
from tests.views.building import HOUR, example_state
from tests.web.building import FakeBook, client_of, example_book

PUBLIC = ("/timetable", "/board", "/team/{team}")
CREW = ("/floor/hall", "/director/plan", "/director/repair", "/desk", "/judge")


def book_with(**wishes: object) -> FakeBook:
    book = example_book()
    event = book.state.event
    assert event is not None
    changed = replace(event, wishes=replace(event.wishes, **wishes))
    book.state = replace(book.state, event=changed)
    return book


def two_days() -> FakeBook:
    """The example event, taken to be two days with a night after its third hour."""
    return book_with(
        days=(
            EventDay(id="sat", name="Saturday", opens_s=0, closes_s=3 * HOUR),
            EventDay(id="sun", name="Sunday", opens_s=7 * HOUR + 1800, closes_s=20 * HOUR),
        )
    )


def page(book: FakeBook, path: str) -> str:
    assert book.state.plan is not None
    team = book.state.plan.heats[0].teams[0]
    with client_of(book, "director") as client:
        answer = client.get(path.format(team=team))
        assert answer.status_code == 200, path
        text: str = answer.text
    return text


@pytest.mark.parametrize("path", [*PUBLIC, *CREW])
def test_times_name_their_day_where_there_are_several(path: str) -> None:
    named = re.findall(r'<span class="day-name">(\w+)</span>', page(two_days(), path))
    bare = page(example_book(), path)
    assert 'class="day-name"' not in bare
    assert set(named) <= {"Saturday", "Sunday"}
    assert named or "<time" not in bare


def test_both_days_stand_in_the_timetable_and_pictures_stay_narrow() -> None:
    text = page(two_days(), "/timetable")
    assert {"Saturday", "Sunday"} <= set(re.findall(r'class="day-name">(\w+)<', text))
    drawn = "".join(re.findall(r"<text.*?</text>", text, re.DOTALL))
    assert drawn
    assert "Saturday" not in drawn
    heights = [int(one) for one in re.findall(r'<svg class="drawn" height="(\d+)"', text)]
    assert len(heights) == 2, "each day is a picture of its own"
    whole = re.findall(r'<svg class="drawn" height="(\d+)"', page(example_book(), "/timetable"))
    assert len(whole) == 1
    assert text.count('class="heat-box') == page(example_book(), "/timetable").count("heat-box")


AHEAD = {"warm_up_s": 15 * 60, "briefing_s": 5 * 60}


@pytest.mark.parametrize("path", ["/timetable", "/team/{team}", "/floor/hall", "/board"])
def test_warm_up_and_briefing_are_told_with_their_times(path: str) -> None:
    text = page(book_with(**AHEAD), path)
    assert re.search(r"warm-up <time[^>]*>\d\d:\d\d</time> · briefing <time", text)
    assert "warm-up" not in page(example_book(), path)


def test_the_report_time_is_never_behind_the_warm_up() -> None:
    state = book_with(warm_up_s=40 * 60, briefing_s=5 * 60).state
    for heat in timetable(state).floors[0].heats:
        assert heat.report_s == heat.warm_up_s == heat.start_s - 45 * 60
        assert heat.briefing_s == heat.start_s - 5 * 60


def test_drawn_timetables_say_what_comes_before_every_heat() -> None:
    state = book_with(**AHEAD).state
    assert state.event is not None
    view, speech = timetable(state), speech_of(state.event, {})
    said = "Before every heat: warm-up from 20:00 before its start, briefing from 5:00."
    assert said_ahead(view, ENGLISH) == said
    assert overview_payload(view, speech)["ahead"] == said
    pages = floors_payload(view, 216, speech)["pages"]
    assert isinstance(pages, list)
    assert all(one["before"].startswith(said) for one in pages)
    assert said_ahead(timetable(example_state()), ENGLISH) == ""
