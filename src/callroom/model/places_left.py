"""Room in divisions: how many places are left, who waits for one, and what a new form gets."""

from callroom.model.entering import Enrolment, Outcome
from callroom.model.state import State
from callroom.model.team import Team


def teams_in(state: State, division: str) -> tuple[Team, ...]:
    """Return the teams of a division that are in the event and have not left it."""
    return tuple(
        team
        for team in state.teams.values()
        if team.division == division and team.id not in state.team_status
    )


def places_left(state: State, division: str) -> int | None:
    """Return how many more teams a division takes, nought if it is over full; None: no limit."""
    limit = state.event.division(division).team_limit if state.event is not None else 0
    return max(0, limit - len(teams_in(state, division))) if limit else None


def waiting_in(state: State, division: str) -> tuple[Enrolment, ...]:
    """Return who waits in a division, in the order in which their forms came."""
    waiting = (
        one
        for one in state.enrolments.values()
        if one.status == "waiting" and one.team.division == division
    )
    return tuple(sorted(waiting, key=lambda one: one.seq))


def outcome_now(state: State, division: str) -> Outcome:
    """Return what becomes of the next form: in, or waiting behind others, for room or a yes."""
    if state.entering.accept_each or waiting_in(state, division):
        return "waiting"
    return "waiting" if places_left(state, division) == 0 else "in"
