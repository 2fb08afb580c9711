"""The clock of a heat: started ahead, stopped with one touch, ruled on, and shown the same."""

from typing import Any

import msgspec
import pytest

from callroom.actions import day, day_clock
from callroom.model import Role, ScoreReport
from callroom.views.heat_clock import floor_clock
from callroom.views.timetable import Audience
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token, result_for

HEAT = "w3-1"  # in the hall, lifts
FIRST = "w1-1"  # in the hall, for time


def press(book: FakeBook, role: Role, heat: str, do: str, **fields: str) -> Any:
    data = {"form_token": form_token(role), "do": do, **fields}
    with client_of(book, role) as client:
        return client.post(f"/heat/{heat}/clock", data=data, follow_redirects=False)


def started(heat: str = FIRST) -> FakeBook:
    """The example day with a heat's clock past nought by a minute."""
    book = example_book()
    assert book.state.plan is not None
    for team in book.state.plan.heat(heat).teams:
        book.do(DIRECTOR, day.mark_arrived(heat, team))
    assert press(book, "crew", heat, "start").status_code == 303
    book.set_now((book.state.heat_run(heat).started_ms or 0) + 60_000)
    return book


def page(book: FakeBook, role: Role | None, path: str) -> str:
    with client_of(book, role) as client:
        return str(client.get(path).text)


def test_a_start_lies_ahead_by_the_countdown_of_the_workout() -> None:
    book = example_book()
    assert book.state.plan is not None
    now_ms = book.now_ms()
    for team in book.state.plan.heat(FIRST).teams:
        book.do(DIRECTOR, day.mark_arrived(FIRST, team))
    press(book, "crew", FIRST, "start")
    assert book.state.event is not None
    countdown_s = book.state.event.workout("w1").countdown_s
    assert book.state.heat_run(FIRST).started_ms == now_ms + countdown_s * 1000


def test_pressing_start_twice_is_pressing_it_once() -> None:
    book = example_book()
    assert book.state.plan is not None
    for team in book.state.plan.heat(FIRST).teams:
        book.do(DIRECTOR, day.mark_arrived(FIRST, team))
    statuses = []
    for later_ms in (0, 300):
        book.set_now(book.now_ms() + later_ms)
        statuses.append(press(book, "crew", FIRST, "start", key="one page").status_code)
    assert statuses == [303, 303]
    assert book.state.heat_run(FIRST).started_ms == book.now_ms() - 300 + 10_000


def test_the_halls_clock_has_the_whole_clock_in_it() -> None:
    book = started()
    text = page(book, None, "/clock/hall")
    face = floor_clock(book.state, "hall").face
    assert face is not None
    assert f"&#34;zero_ms&#34;:{face.zero_ms}" in text
    assert "Time is up" in text


def test_crew_stops_with_one_touch_and_cannot_rule() -> None:
    book = started()
    assert press(book, "crew", FIRST, "stop:Somebody is hurt").status_code == 303
    stop = book.state.heat_run(FIRST).stop
    assert stop is not None
    assert (stop.at_ms, stop.reason) == (book.now_ms(), "Somebody is hurt")
    text = page(book, "crew", f"/heat/{FIRST}/clock")
    assert "The head judge rules what counts." in text
    assert 'value="rule"' not in text
    refused = press(book, "crew", FIRST, "rule", ruling="as_at_stop", reason="so be it")
    assert refused.status_code == 403


def test_the_head_judge_is_led_from_the_heat_to_the_ruling() -> None:
    book = started()
    press(book, "crew", FIRST, "stop:Kit has failed")
    assert "Rule what counts" in page(book, "head_judge", f"/judge/heat/{FIRST}")
    assert book.state.plan is not None
    first, *others = book.state.plan.heat(FIRST).teams
    press(book, "head_judge", FIRST, "rule", ruling="rerun", counts="better",
          reason="the bar broke", **{f"team-{first}": "yes"})  # fmt: skip
    (rerun,) = book.state.reruns[f"w1/{first}"]
    assert (rerun.counts, rerun.reason) == ("better", "the bar broke")
    assert not any(f"w1/{team}" in book.state.reruns for team in others)
    press(book, "crew", FIRST, "rerun")
    (rerun,) = book.state.reruns[f"w1/{first}"]
    assert rerun.started_ms is not None
    assert rerun.started_ms > book.now_ms()
    shown = floor_clock(book.state, "hall")
    assert shown.reruns == (book.state.teams[first].name,)
    assert shown.face is not None
    assert shown.face.zero_ms == rerun.started_ms


def test_a_rerun_in_a_held_lane_shares_the_start_of_the_heat_beside_it() -> None:
    book = started()
    press(book, "crew", FIRST, "stop:Kit has failed")
    press(book, "head_judge", FIRST, "rule", ruling="rerun", reason="the bar broke")
    assert book.state.plan is not None
    for team in book.state.plan.heat("w1-2").teams:
        book.do(DIRECTOR, day.mark_arrived("w1-2", team))
    press(book, "crew", "w1-2", "start")
    press(book, "crew", FIRST, "rerun", **{"with": "w1-2"})
    zero_ms = book.state.heat_run("w1-2").started_ms
    started_ms = {rerun.started_ms for all_of in book.state.reruns.values() for rerun in all_of}
    assert started_ms == {zero_ms}


def test_a_credit_is_given_to_whom_it_is_due() -> None:
    book = started()
    press(book, "crew", FIRST, "stop:The clock or the start was wrong")
    assert book.state.plan is not None
    team = book.state.plan.heat(FIRST).teams[0]
    press(book, "head_judge", FIRST, "rule", ruling="credit", credit="9", reason="held up",
          **{f"team-{team}": "yes"})  # fmt: skip
    credited = {key: sheet.penalties for key, sheet in book.state.sheets.items()}
    assert {key: given[0].seconds for key, given in credited.items()} == {f"w1/a/{team}/1": -9}
    assert "−9 s" in page(book, "head_judge", f"/judge/score/w1/a/{team}/1")


@pytest.mark.parametrize("do", ["", "dance", "rule"])
def test_a_button_that_does_not_exist_does_nothing(do: str) -> None:
    book = started()
    before = len(book.entries)
    assert press(book, "head_judge", FIRST, do).status_code == 422
    assert len(book.entries) == before


def stages(book: FakeBook) -> tuple[str, str | None]:
    shown = floor_clock(book.state, "hall")
    return shown.stage, shown.slot.id if shown.slot is not None else None


def test_a_floor_shows_what_matters_most() -> None:
    book = example_book()
    assert stages(book) == ("waiting", FIRST)
    book.do(DIRECTOR, day.call_heat(FIRST))
    assert stages(book) == ("called", FIRST)
    book = started()
    assert stages(book) == ("running", FIRST)
    book.do(DIRECTOR, day.finish_heat(FIRST))
    assert stages(book) == ("finished", FIRST)
    book.do(DIRECTOR, day.call_heat("w1-2"))
    assert stages(book) == ("called", "w1-2")
    book = started()
    book.do(DIRECTOR, day_clock.stop_heat(FIRST, book.now_ms(), "alarm"))
    book.do(DIRECTOR, day.call_heat("w1-2"))
    assert stages(book) == ("stopped", FIRST)


def test_a_rerun_is_over_on_the_clock_when_its_score_is_in() -> None:
    book = started()
    press(book, "crew", FIRST, "stop:Kit has failed")
    assert book.state.plan is not None
    heat = book.state.plan.heat(FIRST)
    place = heat.lanes[0]
    press(book, "head_judge", FIRST, "rule", ruling="rerun", reason="why",
          **{f"team-{place.team}": "yes"})  # fmt: skip
    press(book, "crew", FIRST, "rerun")
    assert stages(book)[0] == "running"
    report = ScoreReport(
        heat=FIRST, workout="w1", part="a", team=place.team, lane=place.lane, source="pad",
        result=result_for("time", 1), attempt=2,
    )  # fmt: skip
    book.do(DIRECTOR, day.report_score(report))
    assert stages(book)[0] == "ruled"


def test_the_public_reads_no_part_of_a_workout_that_is_not_released() -> None:
    book = example_book()
    state, event = book.state, book.state.event
    assert event is not None
    assert state.plan is not None
    hidden = next(workout for workout in event.workouts if workout.release_s is not None)
    named = msgspec.structs.replace(
        hidden, parts=tuple(msgspec.structs.replace(part, name="Secret") for part in hidden.parts)
    )
    workouts = tuple(named if one is hidden else one for one in event.workouts)
    book.state = msgspec.structs.replace(
        state, event=msgspec.structs.replace(event, workouts=workouts)
    )
    heat = next(heat for heat in state.plan.heats if heat.workout == hidden.id)
    for team in heat.teams:
        book.do(DIRECTOR, day.mark_arrived(heat.id, team))
    book.do(DIRECTOR, day.start_heat(heat.id, book.now_ms()))
    seen = floor_clock(book.state, heat.floor, Audience(public=True))
    assert seen.face is not None
    assert {span.name for span in seen.face.spans} == {""}
