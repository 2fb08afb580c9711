"""Everything that is wrong, or worth knowing, in a book as it stands."""

from collections.abc import Mapping

import msgspec

from callroom.actions.standards_check import check_standards
from callroom.model import CrewMember, Event, Finding, State, Team
from callroom.model.checking import check_event, check_teams
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.scoring.points import check_points

LET_STAND = frozenset({"team.name_twice", "division.too_many_teams"})
"""Rules that a file must keep and the director may let be: two teams entered under one name, or
one let in beyond the limit, are no fault of the book."""


def check_book(state: State) -> tuple[Finding, ...]:
    """Return the findings about event, teams, crew, points and plan; none if all is sound.

    Where the judges of the crew list are all there are, they are counted anew: whoever left it
    since the plan was made is missing in it.
    """
    event = state.event
    if event is None:
        return (Finding(rule="book.no_event", severity="error", subject="event"),)
    found = [*check_event(event), *check_points(event)]
    found += check_standards(event)
    found += map(_let_stand, check_team_list(state, event, state.teams, state.crew))
    if state.plan is None:
        found.append(Finding(rule="plan.none", severity="note", subject="plan"))
    else:
        judged = with_crew_judges(event, state.crew.values())
        found += check_plan(
            judged, state.teams.values(), state.plan, withdrawn=state.team_status.keys()
        )
    return tuple(found)


def check_team_list(
    state: State,
    event: Event,
    teams: Mapping[str, Team],
    crew: Mapping[str, CrewMember],
) -> tuple[Finding, ...]:
    """Return the findings about teams that have not left, and about crew with all teams known."""
    members = tuple(crew.values())
    staying = tuple(team for team in teams.values() if team.id not in state.team_status)
    of_teams = check_teams(event, staying, ())
    of_crew = (
        one
        for one in check_teams(event, tuple(teams.values()), members)
        if one.subject.startswith("crew.")
    )
    return (*of_teams, *of_crew)


def _let_stand(finding: Finding) -> Finding:
    if finding.rule in LET_STAND:
        return msgspec.structs.replace(finding, severity="warning")
    return finding
