"""The clock of a heat by the trade's rule: never paused; stopped, started anew, or ruled on."""

import pytest

from callroom.actions import day as ask
from callroom.actions import day_clock as clock
from callroom.model import NotAllowed, Penalty, Refusal, SheetRef, milliseconds
from callroom.scoring import division_standings
from tests.actions.day_building import (
    EVENT,
    HEAD_JUDGE,
    JUDGE,
    Day,
    loaded_day,
    report,
)

HEAT = "w1-1"
START_MS = milliseconds(EVENT.starts_at)


def running_day() -> Day:
    day = loaded_day()
    day.ask(HEAD_JUDGE, clock.start_clock(day.state, HEAT, day.at_ms))
    return day


def stopped_day(after_s: int = 72) -> Day:
    day = running_day()
    zero_ms = day.state.heat_run(HEAT).started_ms
    assert zero_ms is not None
    day.at_ms = zero_ms + after_s * 1000
    day.ask(HEAD_JUDGE, clock.stop_heat(HEAT, day.at_ms, "a rig came loose"))
    return day


def rule(day: Day, ruling: str, **more: object) -> None:
    assert day.state.plan is not None
    heat = day.state.plan.heat(HEAT)
    day.ask(HEAD_JUDGE, clock.rule_on_stop(day.state, heat, ruling, "no fault of theirs", **more))  # type: ignore[arg-type]


@pytest.mark.parametrize("ruling", ["as_at_stop", "rerun", "credit"])
def test_whoever_never_came_to_a_stopped_heat_did_not_start(ruling: str) -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, ask.mark_no_show(HEAT, "T2"))
    day.ask(HEAD_JUDGE, clock.start_clock(day.state, HEAT, START_MS + 3_600_000))
    day.at_ms = START_MS + 3_700_000
    day.ask(HEAD_JUDGE, clock.stop_heat(HEAT, day.at_ms, "a rig came loose"))
    assert not day.state.sheets
    rule(day, ruling, **({"credit_s": 20} if ruling == "credit" else {}))
    told = day.state.sheets["w1/a/T2/1"].counting
    assert told is not None
    assert told.outcome == "did_not_start"
    assert not day.state.sheets["w1/a/T2/1"].penalties
    assert "w1/T2" not in day.state.reruns
    assert ("w1/T1" in day.state.reruns) == (ruling == "rerun")


def test_whoever_never_came_may_be_let_run_again_by_name() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, ask.mark_no_show(HEAT, "T2"))
    day.ask(HEAD_JUDGE, clock.start_clock(day.state, HEAT, START_MS + 3_600_000))
    day.at_ms = START_MS + 3_700_000
    day.ask(HEAD_JUDGE, clock.stop_heat(HEAT, day.at_ms, "a rig came loose"))
    rule(day, "rerun", teams=("T2",))
    assert "w1/T2" in day.state.reruns
    assert "w1/a/T2/1" not in day.state.sheets


def test_a_start_is_agreed_a_countdown_ahead() -> None:
    day = running_day()
    assert day.state.heat_run(HEAT).started_ms == day.at_ms + 10_000


def test_a_stop_ends_the_clock_and_waits_for_a_ruling() -> None:
    day = stopped_day()
    run = day.state.heat_run(HEAT)
    assert run.stage == "finished"
    assert run.stop is not None
    assert (run.stop.at_ms, run.stop.reason, run.stop.ruling) == (
        day.at_ms,
        "a rig came loose",
        None,
    )
    for team in ("T1", "T2"):
        day.ask(JUDGE, ask.report_score(report(HEAT, team, 60_000)))
    with pytest.raises(Refusal, match="stop_not_ruled"):
        day.ask(HEAD_JUDGE, ask.confirm_heat(HEAT, {}))
    rule(day, "as_at_stop")
    day.ask(HEAD_JUDGE, ask.confirm_heat(HEAT, {}))
    ruled = day.state.heat_run(HEAT).stop
    assert ruled is not None
    assert (ruled.ruling, ruled.ruled_for) == ("as_at_stop", "no fault of theirs")


def test_a_stop_needs_a_reason_and_a_clock_past_nought() -> None:
    day = running_day()
    with pytest.raises(Refusal, match="stop_in_countdown"):
        day.ask(HEAD_JUDGE, clock.stop_heat(HEAT, day.at_ms + 9_999, "false start"))
    with pytest.raises(Refusal, match="no_reason"):
        day.ask(HEAD_JUDGE, clock.stop_heat(HEAT, day.at_ms + 12_000, " "))
    with pytest.raises(Refusal, match="not_running"):
        day.ask(HEAD_JUDGE, clock.stop_heat("w1-2", day.at_ms, "fire alarm"))


def test_before_the_first_score_a_stopped_heat_may_start_anew() -> None:
    day = stopped_day()
    day.ask(HEAD_JUDGE, ask.restart_heat(HEAT, "nobody had moved"))
    run = day.state.heat_run(HEAT)
    assert (run.stage, run.started_ms, run.stop) == ("called", None, None)


def test_with_scores_in_a_start_is_not_taken_back() -> None:
    day = stopped_day()
    day.ask(JUDGE, ask.report_score(report(HEAT, "T1", 60_000)))
    with pytest.raises(Refusal, match="has_scores"):
        day.ask(HEAD_JUDGE, ask.restart_heat(HEAT, "again"))


def test_a_stop_is_ruled_on_once_and_by_the_head_judge() -> None:
    day = stopped_day()
    assert day.state.plan is not None
    heat = day.state.plan.heat(HEAT)
    with pytest.raises(NotAllowed):
        day.ask(JUDGE, clock.rule_on_stop(day.state, heat, "as_at_stop", "so be it"))
    rule(day, "as_at_stop")
    with pytest.raises(Refusal, match="nothing_to_rule"):
        rule(day, "as_at_stop")


def test_all_run_again_and_no_score_of_the_stopped_run_is_awaited() -> None:
    day = stopped_day()
    rule(day, "rerun")
    for team in ("T1", "T2"):
        (rerun,) = day.state.reruns[f"w1/{team}"]
        assert (rerun.attempt, rerun.counts, rerun.started_ms) == (2, "replaces", None)
    assert day.state.plan is not None
    day.ask(
        HEAD_JUDGE, clock.start_reruns(day.state, day.state.plan.heat(HEAT), day.at_ms + 10_000)
    )
    assert day.state.reruns["w1/T1"][0].started_ms == day.at_ms + 10_000
    for team, time_ms in (("T1", 300_000), ("T2", 310_000)):
        day.ask(JUDGE, ask.report_score(report(HEAT, team, time_ms, attempt=2)))
    day.ask(HEAD_JUDGE, ask.confirm_heat(HEAT, {}))
    with pytest.raises(Refusal, match="none_waits"):
        clock.start_reruns(day.state, day.state.plan.heat(HEAT), day.at_ms)


def test_where_the_better_counts_the_stopped_run_is_awaited_too() -> None:
    day = stopped_day()
    rule(day, "rerun", counts="better", teams=("T2",))
    assert "w1/T1" not in day.state.reruns
    for team, attempt in (("T1", 1), ("T2", 2)):
        day.ask(JUDGE, ask.report_score(report(HEAT, team, 300_000, attempt=attempt)))
    with pytest.raises(Refusal, match="not_ready"):
        day.ask(HEAD_JUDGE, ask.confirm_heat(HEAT, {}))


def test_a_credit_comes_off_the_time_and_can_be_taken_back() -> None:
    day = stopped_day()
    for team, time_ms in (("T1", 300_000), ("T2", 295_000)):
        day.ask(JUDGE, ask.report_score(report(HEAT, team, time_ms)))
    rule(day, "credit", teams=("T1",), credit_s=12)
    sheet = day.state.sheets["w1/a/T1/1"]
    (credit,) = sheet.penalties
    assert credit == Penalty(seq=credit.seq, reason="no fault of theirs", seconds=-12)
    rows = division_standings(day.state, "pairs").part("w1", "a").rows
    assert [row.score.time_ms for row in rows][:2] == [288_000, 295_000]
    ref = SheetRef(workout="w1", part="a", team="T1")
    day.ask(HEAD_JUDGE, ask.lift_penalty(ref, credit.seq, "it ran on after all"))
    assert day.state.sheets["w1/a/T1/1"].penalties == ()


@pytest.mark.parametrize("seconds", [0, -3, 601])
def test_a_credit_has_bounds(seconds: int) -> None:
    ref = SheetRef(workout="w1", part="a", team="T1")
    with pytest.raises(Refusal, match="out_of_range"):
        loaded_day().ask(HEAD_JUDGE, clock.give_credit(ref, seconds, "a bar was loaded wrong"))


def test_a_rerun_does_not_start_ungranted_or_scored() -> None:
    day = stopped_day()
    rule(day, "rerun", teams=("T1",))
    assert day.state.plan is not None
    again = clock.start_reruns(day.state, day.state.plan.heat(HEAT), day.at_ms)
    day.ask(JUDGE, ask.report_score(report(HEAT, "T1", 300_000, attempt=2)))
    with pytest.raises(Refusal, match="scored_already"):
        day.ask(HEAD_JUDGE, again)
    with pytest.raises(Refusal, match="not_granted"):
        loaded_day().ask(HEAD_JUDGE, again)
