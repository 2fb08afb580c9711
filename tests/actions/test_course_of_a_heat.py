"""A heat is called, started, finished; never before its published time without everyone."""

import pytest

from callroom.actions import day as ask
from callroom.model import Refusal, milliseconds
from tests.actions.day_building import EVENT, HEAD_JUDGE, loaded_day

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
