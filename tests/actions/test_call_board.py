"""Teams checked at the call board, walking on, and what can be taken back."""

import pytest

from callroom.actions import day as ask
from callroom.actions.end_heat import end_heat
from callroom.model import NotAllowed, Refusal, Result, State, milliseconds
from callroom.model.course import HeatStep, all_present, heat_step, unchecked
from tests.actions.day_building import EVENT, HEAD_JUDGE, JUDGE, Day, loaded_day, report

START_MS = milliseconds(EVENT.starts_at)
HEAT = "w1-1"


def step(state: State, heat: str = HEAT) -> HeatStep:
    assert state.plan is not None
    return heat_step(state, state.plan.heat(heat))


def test_a_heat_goes_through_all_its_steps() -> None:
    day = loaded_day()
    steps = [step(day.state)]
    for request in (
        ask.call_heat(HEAT),
        ask.mark_arrived(HEAT, "T1"),
        ask.mark_no_show(HEAT, "T2"),
        ask.send_on_floor(HEAT),
        ask.start_heat(HEAT, START_MS + 70_000),
        ask.finish_heat(HEAT),
        ask.report_score(report(HEAT, "T1", 300_000)),
        ask.report_score(report(HEAT, "T2", 310_000)),
        ask.confirm_heat(HEAT, {}),
    ):
        day.ask(HEAD_JUDGE, request)
        steps.append(step(day.state))
    assert steps == [
        "waiting",
        "called",
        "called",
        "checked",
        "on_floor",
        "running",
        "finished",
        "finished",
        "scored",
        "confirmed",
    ]


def test_a_team_is_here_or_missing_or_still_awaited() -> None:
    day = loaded_day()
    heat = day.state.plan.heat(HEAT) if day.state.plan is not None else None
    assert heat is not None
    day.ask(JUDGE, ask.mark_no_show(HEAT, "T1"))
    assert (day.state.heat_run(HEAT).no_shows, unchecked(day.state, heat)) == (("T1",), ("T2",))
    day.ask(JUDGE, ask.mark_arrived(HEAT, "T1"))
    assert (day.state.heat_run(HEAT).arrived, day.state.heat_run(HEAT).no_shows) == (("T1",), ())
    seen = day.state.subjects[f"heat:{HEAT}"]
    day.ask(JUDGE, ask.mark_arrived(HEAT, "T1"))
    assert day.state.subjects[f"heat:{HEAT}"] == seen
    day.ask(JUDGE, ask.await_team(HEAT, "T1"))
    assert day.state.heat_run(HEAT).arrived == ()
    assert unchecked(day.state, heat) == ("T1", "T2")


def test_a_team_that_left_is_not_waited_for() -> None:
    day = loaded_day()
    heat = day.state.plan.heat(HEAT) if day.state.plan is not None else None
    assert heat is not None
    day.ask(HEAD_JUDGE, ask.withdraw_team("T2", "hurt"))
    day.ask(JUDGE, ask.mark_arrived(HEAT, "T1"))
    assert all_present(day.state, heat)
    day.ask(HEAD_JUDGE, ask.withdraw_team("T1", "hurt too"))
    assert not all_present(day.state, heat)


def test_nobody_walks_on_before_the_published_time_unless_all_are_here() -> None:
    day = loaded_day()
    day.at_ms = START_MS + 1_100_000
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, ask.send_on_floor("w1-2"))
    assert refused.value.rule == "heat.early"
    assert refused.value.facts["early_s"] == 100
    day.ask(HEAD_JUDGE, ask.mark_arrived("w1-2", "T3"))
    day.ask(HEAD_JUDGE, ask.mark_no_show("w1-2", "T4"))
    with pytest.raises(Refusal, match=r"heat\.early"):
        day.ask(HEAD_JUDGE, ask.send_on_floor("w1-2"))
    day.ask(HEAD_JUDGE, ask.mark_arrived("w1-2", "T4"))
    day.ask(HEAD_JUDGE, ask.send_on_floor("w1-2"))
    run = day.state.heat_run("w1-2")
    assert (run.stage, run.called_ms, run.on_floor_ms) == ("called", day.at_ms, day.at_ms)


def test_a_walk_on_and_a_call_can_be_taken_back_one_after_the_other() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, ask.call_heat(HEAT))
    day.ask(HEAD_JUDGE, ask.send_on_floor(HEAT))
    with pytest.raises(Refusal, match="on_floor_already"):
        day.ask(HEAD_JUDGE, ask.send_on_floor(HEAT))
    day.ask(HEAD_JUDGE, ask.step_back(HEAT))
    assert step(day.state) == "called"
    day.ask(HEAD_JUDGE, ask.step_back(HEAT))
    assert step(day.state) == "waiting"
    with pytest.raises(Refusal, match="nothing_to_take_back"):
        day.ask(HEAD_JUDGE, ask.step_back(HEAT))
    day.ask(HEAD_JUDGE, ask.start_heat(HEAT, START_MS))
    with pytest.raises(Refusal, match="nothing_to_take_back"):
        day.ask(HEAD_JUDGE, ask.step_back(HEAT))
    with pytest.raises(Refusal, match="already_started"):
        day.ask(HEAD_JUDGE, ask.send_on_floor(HEAT))


def test_a_judge_checks_teams_but_sends_nobody_on() -> None:
    day = loaded_day()
    day.ask(JUDGE, ask.mark_no_show(HEAT, "T1"))
    for request in (ask.send_on_floor(HEAT), ask.step_back(HEAT)):
        with pytest.raises(NotAllowed):
            day.ask(JUDGE, request)


def running_without(*teams: str) -> Day:
    day = loaded_day()
    for team in teams:
        day.ask(HEAD_JUDGE, ask.mark_no_show("w2-1", team))
    day.ask(HEAD_JUDGE, ask.start_heat("w2-1", START_MS + 3_600_000))
    return day


def test_whoever_was_missing_at_the_end_did_not_start_in_any_part() -> None:
    day = running_without("T2")
    day.ask(HEAD_JUDGE, end_heat(day.state, "w2-1"))
    assert day.state.heat_run("w2-1").stage == "finished"
    absent = Result(outcome="did_not_start")
    told = {key: sheet.counting for key, sheet in day.state.sheets.items()}
    assert told == {"w2/a/T2/1": absent, "w2/b/T2/1": absent}


def test_whoever_has_a_score_or_came_after_all_is_left_alone() -> None:
    day = running_without("T1", "T2")
    day.ask(JUDGE, ask.report_score(report("w2-1", "T1", 300_000)))
    day.ask(JUDGE, ask.mark_arrived("w2-1", "T2"))
    day.ask(HEAD_JUDGE, end_heat(day.state, "w2-1"))
    assert set(day.state.sheets) == {"w2/a/T1/1", "w2/b/T1/1"}
    scored = day.state.sheets["w2/a/T1/1"].counting
    assert scored is not None
    assert scored.outcome == "finished"
