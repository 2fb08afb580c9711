"""What changed in the running plan, as everyone reads it, without what is not released."""

from msgspec.structs import replace

from callroom.model import LaneTeam, Plan, PlanRepair, State
from callroom.views.plan_news import plan_news
from callroom.views.timetable import CREW, Audience
from tests.views.building import example_state

PUBLIC = Audience(public=True, now_s=0)


def repaired(change: Plan, state: State) -> State:
    assert state.plan is not None
    after = replace(change, revision=state.plan.revision + 1)
    repair = PlanRepair(
        revision=after.revision, seq=99, at_ms=1, why="the bus was late", before=state.plan
    )
    return replace(state, plan=after, repairs={str(after.revision): repair})


def moved(state: State, heat_id: str, by_s: int) -> State:
    plan = state.plan
    assert plan is not None
    heats = tuple(
        replace(heat, start_s=heat.start_s + by_s, end_s=heat.end_s + by_s)
        if heat.id == heat_id
        else heat
        for heat in plan.heats
    )
    return repaired(replace(plan, heats=heats), state)


def test_a_moved_heat_is_told_with_its_teams_and_what_was() -> None:
    state = moved(example_state(), "w1-1", 600)
    (news,) = plan_news(state, PUBLIC)
    (heat,) = news.heats
    assert (heat.start_s - (heat.was_s or 0), heat.closed, news.why) == (
        600,
        False,
        "the bus was late",
    )
    assert not any(team.moved for team in heat.teams)


def test_a_workout_that_is_not_released_is_not_named_to_the_public() -> None:
    state = moved(example_state(), "w3-1", 600)
    (hidden,) = plan_news(state, PUBLIC)
    (told,) = plan_news(state, CREW)
    assert hidden.heats[0].workout.name == ""
    assert told.heats[0].workout.name != ""


def test_teams_that_changed_their_lane_and_heats_that_are_closed_are_marked() -> None:
    state = example_state()
    plan = state.plan
    assert plan is not None
    first, second = plan.heats[0], plan.heats[1]
    team = first.lanes[0].team
    joined = replace(second, lanes=(*second.lanes, LaneTeam(lane=99, team=team)))
    state = repaired(replace(plan, heats=(joined, *plan.heats[2:])), state)
    (news,) = plan_news(state, CREW)
    assert {heat.number: heat.closed for heat in news.heats} == {1: True, 2: False}
    marked = [one for heat in news.heats for one in heat.teams if one.moved]
    assert [one.id for one in marked] == [team]


def test_a_plan_published_anew_has_no_news() -> None:
    state = moved(example_state(), "w1-1", 600)
    assert state.plan is not None
    anew = replace(state, plan=replace(state.plan, revision=9))
    assert plan_news(anew, CREW) == ()
    assert plan_news(State(), CREW) == ()
