"""Everything that is wrong, or worth knowing, in a book as it stands."""

from callroom.actions.standards_check import check_standards
from callroom.model import Finding, State
from callroom.model.checking import check_event, check_teams
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.scoring.points import check_points


def check_book(state: State) -> tuple[Finding, ...]:
    """Return the findings about event, teams, crew, points and plan; none if all is sound.

    Where the judges of the crew list are all there are, they are counted anew: whoever left it
    since the plan was made is missing in it.
    """
    event = state.event
    if event is None:
        return (Finding(rule="book.no_event", severity="error", subject="event"),)
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    found = [*check_event(event), *check_points(event)]
    found += check_standards(event)
    found += check_teams(event, teams, tuple(state.crew.values()))
    if state.plan is None:
        found.append(Finding(rule="plan.none", severity="note", subject="plan"))
    else:
        judged = with_crew_judges(event, state.crew.values())
        found += check_plan(
            judged, state.teams.values(), state.plan, withdrawn=state.team_status.keys()
        )
    return tuple(found)
