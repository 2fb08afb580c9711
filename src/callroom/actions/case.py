"""The case a rule decides: the State, who asks, when, and what they propose."""

import msgspec

from callroom.actions.request import Request
from callroom.model import Actor, Event, Heat, Plan, Refusal, State, Team


class Case(msgspec.Struct, frozen=True, kw_only=True):
    """Everything a rule may look at. `now_ms` comes from the clock bootstrap supplies [ms, UTC]."""

    state: State
    actor: Actor
    request: Request
    now_ms: int

    @property
    def event(self) -> Event:
        """The event; refused if the book has none yet."""
        if self.state.event is None:
            raise Refusal("book.no_event")
        return self.state.event

    @property
    def plan(self) -> Plan:
        """The plan; refused if none is published."""
        if self.state.plan is None:
            raise Refusal("plan.none")
        return self.state.plan

    def heat(self, heat_id: str) -> Heat:
        """Return a heat of the plan; refused if there is none."""
        try:
            return self.plan.heat(heat_id)
        except KeyError:
            raise Refusal("heat.unknown", heat=heat_id) from None

    def team(self, team_id: str) -> Team:
        """Return a team; refused if there is none."""
        team = self.state.teams.get(team_id)
        if team is None:
            raise Refusal("team.unknown", team=team_id)
        return team

    def need_division(self, division_id: str) -> None:
        """Refuse if the event has no such division."""
        if division_id not in {division.id for division in self.event.divisions}:
            raise Refusal("division.unknown", division=division_id)

    def need_part(self, workout_id: str, part_id: str) -> None:
        """Refuse if the event has no such workout or part."""
        try:
            self.event.workout(workout_id).part(part_id)
        except KeyError:
            raise Refusal("part.unknown", workout=workout_id, part=part_id) from None


def need_reason(reason: str) -> None:
    """Refuse a decision that must give its reason and does not."""
    if not reason.strip():
        raise Refusal("decision.no_reason")
