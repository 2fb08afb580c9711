"""Everything that is wrong, or worth knowing, in a book as it stands."""

import difflib
from collections.abc import Iterator

from callroom.model import Event, Finding, State
from callroom.model.checking import check_event, check_teams
from callroom.planner.check import check_plan
from callroom.scoring.points import check_points
from callroom.standards import all_movements

_LIKE = 0.6


def check_book(state: State) -> tuple[Finding, ...]:
    """Return the findings about event, teams, crew, points and plan; none if all is sound."""
    event = state.event
    if event is None:
        return (Finding(rule="book.no_event", severity="error", subject="event"),)
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    found = [*check_event(event), *check_points(event)]
    found += _movements(event)
    found += check_teams(event, teams, tuple(state.crew.values()))
    if state.plan is None:
        found.append(Finding(rule="plan.none", severity="note", subject="plan"))
    else:
        found += check_plan(
            event, state.teams.values(), state.plan, withdrawn=state.team_status.keys()
        )
    return tuple(found)


def _movements(event: Event) -> Iterator[Finding]:
    """Find movements without a standard: cards, pads and kit lists know nothing about them."""
    library = [movement.id for movement in all_movements()]
    for workout in event.workouts:
        tasks = (task for part in workout.parts for block in part.blocks for task in block.tasks)
        for name in dict.fromkeys(task.movement for task in tasks):
            if name not in library:
                like = difflib.get_close_matches(name, library, n=1, cutoff=_LIKE)
                yield Finding(
                    rule="check.movement_unknown",
                    severity="warning",
                    subject=f"workouts.{workout.id}",
                    facts={"workout": workout.id, "movement": name, "like": (like or ["–"])[0]},
                )
