"""A pad on a workout that is amended: it turns to the new one, or says that it counts the old."""

import pytest
from msgspec.structs import replace
from playwright.sync_api import BrowserContext, expect

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.model import Heat
from tests.pad.conftest import Hall, Pad

pytestmark = pytest.mark.browser


def shorten(hall: Hall, heat: Heat) -> None:
    """Take a minute off the cap of a heat's workout."""
    event, plan = hall.book.state.event, hall.book.state.plan
    assert event is not None
    assert plan is not None
    workout = event.workout(heat.workout)
    parts = tuple(replace(part, cap_s=part.cap_s - 60) for part in workout.parts)
    asked = ask.amend_workout(
        replace(workout, parts=parts),
        what="A minute less.",
        why="the hall is too hot",
        decided_by="head_judge",
        from_heat=heat.id,
    )
    hall.book.ask_now(AT_THE_KEYBOARD, asked, key="amend")


def test_a_pad_that_counted_nothing_turns_to_the_amended_workout(
    hall: Hall, phone: BrowserContext
) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    with pad.page.expect_event("load", timeout=15_000):
        shorten(hall, heat)
    pad.page.wait_for_selector(".pad-head")
    hall.begin(heat)
    pad.count(2)
    pad.hand_in()
    pad.until_delivered()
    assert hall.book.state.unplaced == {}
    assert [result.work for result in hall.results(pad.ref())] == [2]


def test_a_pad_in_the_middle_says_so_and_what_it_sends_is_kept_for_the_head_judge(
    hall: Hall, phone: BrowserContext
) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    pad.count(3)
    shorten(hall, heat)
    pad.until(".pad-answer", "The workout was amended")
    assert pad.shown() == (3, 3)
    pad.hand_in()
    pad.until_delivered()
    (kept,) = hall.book.state.unplaced.values()
    assert kept.unplaced == "workout_amended"
    pad.press("Open it as it is now")
    expect(pad.page.locator(".pad-answer")).to_have_count(0)
    pad.page.wait_for_selector(".pad-head")
    assert pad.shown() == (0, 0)
