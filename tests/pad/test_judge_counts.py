"""A judge counts a lane on a phone; what was counted is what the book holds."""

import pytest
from playwright.sync_api import BrowserContext, expect

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.model.steps import total_counts
from tests.pad.conftest import Hall, Pad

pytestmark = pytest.mark.browser


def test_a_finish_with_no_reps_and_a_signature(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w1")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.until(".pad-clock", ":")
    pad.count(3)
    pad.press("+10")
    pad.until(".pad-total", "13")
    pad.press("Undo")
    pad.until(".pad-here", "3")
    pad.press("No-rep")
    pad.press("Why")
    pad.page.click(".pad-why button >> nth=0")
    event = hall.book.state.event
    assert event is not None
    part = event.workout("w1").part("a")
    team = hall.book.state.teams[pad.team]
    for _ in range(40):
        if "All done" in (pad.page.text_content(".pad-task") or ""):
            break
        before = pad.page.text_content(".pad-total") or ""
        pad.page.wait_for_timeout(750)
        pad.press("Set done")
        expect(pad.page.locator(".pad-total")).not_to_have_text(before)
    assert pad.shown()[1] == total_counts(part, event.division(team.division))
    pad.press("Finish")
    pad.hand_in()
    pad.until_delivered()
    (result,) = hall.results(pad.ref())
    assert result.outcome == "finished"
    assert result.time_ms is not None
    assert 5_000 <= result.time_ms < 60_000
    assert result.tiebreak_ms is not None
    assert result.tiebreak_ms <= result.time_ms
    report = hall.book.state.sheets[pad.ref().key].reports[0].report
    assert sum(given.count for given in report.no_reps) == 2
    assert len({given.reason for given in report.no_reps}) == 2
    assert report.signed


def test_a_finger_that_bounces_fills_one_set_only(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w1")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.page.get_by_role("button", name="Set done").dblclick()
    pad.until(".pad-task", "wall-ball")
    pad.count()
    pad.until(".pad-here", "1")
    assert pad.shown() == (1, 41)


def test_the_cap_hands_in_the_count(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w1")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.press("Set done")
    pad.count(2)
    pad.press("More")
    pad.press("Time is up: hand in the count")
    pad.press("Hand in")
    pad.until_delivered()
    (result,) = hall.results(pad.ref())
    assert (result.outcome, result.work) == ("capped", 42)


def test_the_whole_count_can_be_typed(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.press("More")
    pad.page.fill(".pad-more .pad-load", "57")
    pad.press("Set the whole count")
    pad.until(".pad-total", "57")
    pad.hand_in()
    pad.until_delivered()
    (result,) = hall.results(pad.ref())
    assert (result.outcome, result.work) == ("worked", 57)


def test_lifts_good_and_not(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w3")
    pad = Pad(phone.new_page(), heat)
    pad.page.fill(".pad-load", "abc")
    pad.press("Good lift")
    assert pad.page.locator(".pad-lifts li").count() == 0
    for load, call in (("60", "Good lift"), ("62,5", "No lift")):
        pad.page.fill(".pad-load", load)
        pad.press(call)
        pad.until(".pad-lifts li", f"{load[:2]}")
    pad.page.click(".pad-strands button >> nth=1")
    pad.page.fill(".pad-load", "80")
    pad.press("Good lift")
    pad.hand_in()
    pad.until_delivered()
    (result,) = hall.results(pad.ref())
    assert [(lift.task, str(lift.mass.amount), lift.good) for lift in result.lifts] == [
        ("women", "60", True),
        ("women", "62.5", False),
        ("men", "80", True),
    ]


def test_two_parts_are_counted_and_handed_in_each(hall: Hall, phone: BrowserContext) -> None:
    event = hall.book.state.event
    assert event is not None
    workout = next(workout for workout in event.workouts if len(workout.parts) > 1)
    heat = hall.first_heat(workout.id)
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    for index, part in enumerate(workout.parts):
        pad.page.click(f".pad-parts button >> nth={index}")
        pad.press("More")
        pad.press("Did not start")
        pad.press("Hand in")
        pad.press("Hand in")
        pad.page.wait_for_selector(f".pad-sent li.delivered >> nth={index}")
        (result,) = hall.results(pad.ref(part.id))
        assert result.outcome == "did_not_start"


def test_distance_faults_hand_overs_and_a_start_that_did_not_count(
    hall: Hall, phone: BrowserContext
) -> None:
    heat = hall.first_heat("w4")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.until(".pad-clock", ":")
    pad.count()
    pad.until(".pad-here", "100")
    hall.book.ask_now(AT_THE_KEYBOARD, ask.restart_heat(heat.id, "the clock was late"), key="back")
    pad.press("Begin from nought")
    pad.until(".pad-total", "Total 0")

    at_ms = hall.clock.now_ms() - 30_000
    hall.book.ask_now(AT_THE_KEYBOARD, ask.start_heat(heat.id, at_ms), key="again")
    pad.until(".pad-clock", "0:")
    pad.press("A")
    pad.until(".pad-mind", "A has it")
    pad.count(2)
    pad.until(".pad-here", "200")
    pad.press("Back to the mark")
    pad.until(".pad-fault", "Back to the mark at 200 m")
    pad.press("B")
    pad.until(".pad-mind", "B has it · hand-overs: 1")
    pad.press("More")
    pad.press("Another judge takes over")
    pad.press("More")
    pad.page.get_by_label("The time, like 7:32").fill("7:32")
    pad.press("Set the time")
    pad.until(".pad-clock", "7:32")
    pad.press("Hand in")
    pad.page.get_by_label("Initials, may stay empty").fill("ab")
    pad.press("Hand in")
    pad.until_delivered()

    (kept,) = hall.book.state.sheets[pad.ref().key].reports
    assert kept.report.result.time_ms == 452_000
    assert kept.report.signed
    assert [(mark.does, mark.n, mark.said) for mark in kept.report.log] == [
        ("object", 0, "A"), ("count", 1, ""), ("count", 1, ""), ("no_rep", 0, ""),
        ("object", 0, "B"), ("judge", 0, ""), ("finish", 0, ""),
    ]  # fmt: skip
    notes = hall.book.state.lane_notes[pad.ref().key]
    assert [note.note.what for note in notes] == ["object", "no_rep", "object", "judge", "finish"]
    # The initials are a person's: beside the journal, not in it.
    (line,) = hall.book.history(pad.ref(), heat.id)
    assert line.signed == "ab"
    assert all(b'"ab"' not in entry.data for entry in hall.book.store.entries())
