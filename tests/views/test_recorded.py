"""Which results of a day a forecast may be held against."""

import pytest

from callroom.actions import day as ask
from callroom.actions.day_clock import give_credit
from callroom.model import Result, SheetRef, milliseconds
from callroom.views.recorded import Recorded, nothing_recorded, recorded
from tests.actions.day_building import EVENT, HEAD_JUDGE, JUDGE, Day, loaded_day, report

START_MS = milliseconds(EVENT.starts_at)


def day_with(*results: tuple[str, Result], finish: bool = True) -> Day:
    day = loaded_day()
    for heat, start_s in (("w1-1", 70), ("w1-2", 1270)):
        day.ask(HEAD_JUDGE, ask.start_heat(heat, START_MS + start_s * 1000))
    for team, result in results:
        heat = "w1-1" if team in {"T1", "T2"} else "w1-2"
        day.ask(JUDGE, ask.report_score(report(heat, team, 1, result=result)))
    if finish:
        for heat in ("w1-1", "w1-2"):
            day.ask(HEAD_JUDGE, ask.finish_heat(heat))
    return day


def finished(time_ms: int, *, modified: bool = False, medical_stop: bool = False) -> Result:
    return Result(outcome="finished", time_ms=time_ms, modified=modified, medical_stop=medical_stop)


def of_w1(day: Day) -> Recorded:
    (one,) = [one for one in recorded(day.state) if one.workout == "w1"]
    return one


CAPPED = Result(outcome="capped", work=40)


def test_finishers_by_whole_seconds_and_those_the_cap_stopped() -> None:
    day = day_with(("T1", finished(300_900)), ("T2", CAPPED), ("T3", finished(250_000)))
    one = of_w1(day)
    assert (one.part, one.division, one.values, one.stopped) == ("a", "pairs", (250, 300), 1)


@pytest.mark.parametrize(
    "result",
    [
        finished(200_000, modified=True),
        Result(outcome="capped", work=3, medical_stop=True),
        Result(outcome="did_not_start"),
    ],
)
def test_what_is_not_the_work_as_forecast_is_left_out(result: Result) -> None:
    one = of_w1(day_with(("T1", finished(300_000)), ("T2", result)))
    assert (one.values, one.stopped) == ((300,), 0)


def test_a_heat_under_way_two_reports_and_re_runs_do_not_count_yet() -> None:
    assert not recorded(day_with(("T1", finished(300_000)), finish=False).state)
    day = day_with(("T1", finished(300_000)), ("T1", finished(301_000)), ("T3", finished(1000)))
    assert of_w1(day).values == (1,)
    day.ask(HEAD_JUDGE, ask.grant_rerun("w1", "T3", "better", "a plate slid off"))
    assert not recorded(day.state) or of_w1(day).values == ()


def test_time_that_was_lost_and_credited_is_not_counted() -> None:
    day = day_with(("T1", finished(300_000)))
    day.ask(
        HEAD_JUDGE, give_credit(SheetRef(workout="w1", part="a", team="T1"), 20, "a fallen bar")
    )
    day.ask(
        HEAD_JUDGE,
        ask.give_penalty(SheetRef(workout="w1", part="a", team="T1"), "over the line", seconds=5),
    )
    assert of_w1(day).values == (280,)


def test_what_nobody_has_done_is_known_too() -> None:
    day = day_with(("T1", finished(300_000)))
    waiting = nothing_recorded(EVENT, recorded(day.state))
    assert [(one.workout, one.part) for one in waiting] == [("w2", "a"), ("w2", "b")]
