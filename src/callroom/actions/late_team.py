"""A team that came late is given free lanes, exactly as the director saw them proposed."""

import msgspec

from callroom.actions.day_now import day_now
from callroom.actions.planned import repair_plan
from callroom.actions.request import Request
from callroom.model import Heat, Plan, State
from callroom.planner.repair.late_team import place_late


class LateLanes(msgspec.Struct, frozen=True, kw_only=True):
    """Free lanes for a team: the plan with them, and the heats it would run in, in time order.

    `missed` are workouts whose heats for its division have all begun.
    """

    plan: Plan
    heats: tuple[Heat, ...]
    missed: tuple[str, ...]


def late_lanes(state: State, team_id: str, now_ms: int) -> LateLanes | None:
    """Return free lanes for a team that the plan has no heat for; None if there are none.

    None as well for a team that has a heat, or is not in the event.
    """
    event, plan, team = state.event, state.plan, state.teams.get(team_id)
    if event is None or plan is None or team is None or team_id in state.team_status:
        return None
    if plan.day_of(team_id):
        return None
    found = place_late(event, state.teams.values(), plan, team, day_now(state, now_ms))
    if found is None:
        return None
    heats = found.plan.day_of(team_id)
    done = {heat.workout for heat in heats}
    others = {heat.workout for one in state.teams.values() if one.division == team.division
              for heat in plan.day_of(one.id)}  # fmt: skip
    missed = tuple(one.id for one in event.workouts if one.id in others - done)
    return LateLanes(plan=found.plan, heats=heats, missed=missed)


def give_lanes(state: State, found: LateLanes, why: str) -> Request:
    """Publish the plan with a late team in its free lanes."""
    before = state.plan if state.plan is not None else found.plan
    return repair_plan(before, found.plan, why)
