"""A heat is called, started, finished; never before its published time without everyone."""

import pytest

from callroom.actions import day as ask
from callroom.journal.entries import bodies
from callroom.model import Refusal, milliseconds
from callroom.views.board import board_heat
from tests.actions.day_building import DIRECTOR, EVENT, HEAD_JUDGE, JUDGE, loaded_day

START_MS = milliseconds(EVENT.starts_at)


def test_a_heat_goes_through_its_stages() -> None:
    day = loaded_day()
    stages = []
    for request in (
        ask.call_heat("w1-1"),
        ask.start_heat("w1-1", START_MS + 70_000),
        ask.finish_heat("w1-1"),
    ):
        day.ask(HEAD_JUDGE, request)
        stages.append(day.state.heat_run("w1-1").stage)
    assert stages == ["called", "started", "finished"]
    assert day.state.heat_run("w1-1").started_ms == START_MS + 70_000


def test_no_heat_starts_early_unless_all_are_present() -> None:
    day = loaded_day()
    early = START_MS + 1200_000 - 1
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, ask.start_heat("w1-2", early))
    assert refused.value.rule == "heat.early"
    assert refused.value.facts["missing"] == "Team 3, Team 4"
    for team in ("T3", "T4"):
        day.ask(HEAD_JUDGE, ask.mark_arrived("w1-2", team))
    day.ask(HEAD_JUDGE, ask.start_heat("w1-2", early))


def test_a_heat_starts_once_and_may_be_started_anew_with_a_reason() -> None:
    day = loaded_day()
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS))
    with pytest.raises(Refusal, match="already_started"):
        day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 1))
    with pytest.raises(Refusal, match="no_reason"):
        day.ask(HEAD_JUDGE, ask.restart_heat("w1-1", ""))
    day.ask(HEAD_JUDGE, ask.restart_heat("w1-1", "the clock was not seen"))
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 60_000))
    assert day.state.heat_run("w1-1").started_ms == START_MS + 60_000


@pytest.mark.parametrize("early", ["finish", "restart"])
def test_what_has_not_started_cannot_end(early: str) -> None:
    day = loaded_day()
    request = ask.finish_heat("w1-1") if early == "finish" else ask.restart_heat("w1-1", "why")
    with pytest.raises(Refusal, match="not_running"):
        day.ask(HEAD_JUDGE, request)


def test_an_unknown_heat_is_named() -> None:
    with pytest.raises(Refusal) as refused:
        loaded_day().ask(HEAD_JUDGE, ask.call_heat("w7-1"))
    assert refused.value.facts == {"heat": "w7-1"}


def test_lanes_are_ready_until_the_clock_runs_or_the_start_did_not_count() -> None:
    day = loaded_day()
    seen = day.state.subjects.get("heat:w1-1", 0)
    day.ask(JUDGE, ask.mark_lane_ready("w1-1", 3))
    day.ask(JUDGE, ask.mark_lane_ready("w1-1", 2))
    day.ask(JUDGE, ask.mark_lane_ready("w1-1", 2))
    assert day.state.heat_run("w1-1").ready == (2, 3)
    # A start that is being pressed rests on the heat: a lane that is ready leaves it alone.
    assert day.state.subjects.get("heat:w1-1", 0) == seen
    assert board_heat(day.state, day.state.plan.heat("w1-1")).not_ready == ()  # type: ignore[union-attr]
    day.ask(JUDGE, ask.mark_lane_ready("w1-1", 3, ready=False))
    assert board_heat(day.state, day.state.plan.heat("w1-1")).not_ready == (3,)  # type: ignore[union-attr]
    day.tell(DIRECTOR, bodies.HeatStarted(heat="w1-1", at_ms=day.at_ms))
    day.ask(JUDGE, ask.mark_lane_ready("w1-1", 3))
    assert day.state.heat_run("w1-1").ready == (2,)
    day.ask(HEAD_JUDGE, ask.restart_heat("w1-1", "the clock was not seen"))
    assert day.state.heat_run("w1-1").ready == ()
