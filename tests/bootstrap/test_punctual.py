"""How likely a plan is to be kept: against the awards, with slack where it is wanted."""

import pytest
from msgspec.structs import replace

from callroom.bootstrap.punctual import awards_s, punctual_day
from callroom.model import Refusal, State
from tests.views.building import example_state

STATE = example_state()


def test_the_day_shall_be_over_when_the_awards_begin() -> None:
    plan = STATE.plan
    assert plan is not None
    assert awards_s(plan) == next(one.start_s for one in plan.pauses if one.id == "awards")
    assert awards_s(replace(plan, pauses=())) == plan.finish_s


def test_chances_are_told_for_every_heat_and_slack_makes_the_end_likelier() -> None:
    plan = STATE.plan
    assert plan is not None
    day = punctual_day(STATE, end_s=plan.finish_s, wanted_percent=90)
    assert {one.heat for one in day.report.heats} == {heat.id for heat in plan.heats}
    assert day.by_forecast
    assert day.report.end_kept_permille < 900
    assert day.promised is not None
    assert day.promised.finish_s > plan.finish_s
    assert {heat.id: heat.lanes for heat in day.promised.heats} == {
        heat.id: heat.lanes for heat in plan.heats
    }
    late = punctual_day(STATE, day.promised, end_s=day.promised.finish_s, wanted_percent=90)
    assert late.report.end_kept_permille > day.report.end_kept_permille
    assert day.places
    assert day.places[0].saved_s >= day.places[-1].saved_s


def test_the_same_question_has_the_same_answer() -> None:
    assert punctual_day(STATE) == punctual_day(STATE)


def test_without_a_plan_nothing_can_be_said() -> None:
    with pytest.raises(Refusal):
        punctual_day(State())
    with pytest.raises(Refusal):
        punctual_day(replace(STATE, plan=None))
