"""Asking for a plan: from the State to the question the planner answers."""

from callroom.actions.digest import inputs_digest
from callroom.model import Refusal, State
from callroom.planner import Limits, PlanProgress, PlanReply, PlanRequest
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.prices import Option, Price
from callroom.planner.why_not import Line as MenuLine

__all__ = ["MenuLine", "Option", "PlanProgress", "PlanReply", "Price", "limits", "plan_request"]


def plan_request(state: State, limits: Limits | None = None) -> PlanRequest:
    """Return the question "plan this day" as the State stands, for the next revision.

    Raises
    ------
    Refusal
        If there is no event or no team to plan for.
    """
    if state.event is None:
        raise Refusal("book.no_event")
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    if not teams:
        raise Refusal("plan.no_teams")
    return PlanRequest(
        event=with_crew_judges(state.event, state.crew.values()),
        teams=teams,
        revision=1 if state.plan is None else state.plan.revision + 1,
        inputs_digest=inputs_digest(state),
        limits=limits or Limits(),
    )


def limits(seconds: int) -> Limits:
    """Return limits for somebody who waits `seconds` for a plan."""
    return Limits(work=max(seconds, 1), wall_s=max(seconds, 1), workers=2)
