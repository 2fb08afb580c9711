"""Loading: the event, its teams, crew and kit, all at once or not at all."""

from callroom.actions.checks import LET_STAND, check_team_list
from callroom.actions.request import Asked, Request, propose
from callroom.actions.standards_check import check_standards
from callroom.journal.entries import bodies
from callroom.model import BadInput, CrewMember, Event, KitItem, State, Team, errors_among
from callroom.model.checking import check_event


def load(
    state: State,
    *,
    event: Event | None = None,
    teams: tuple[Team, ...] | None = None,
    crew: tuple[CrewMember, ...] | None = None,
    kit: tuple[KitItem, ...] | None = None,
) -> Request:
    """Return the request that brings a book to what the files say; None leaves a part alone.

    Teams and crew not in a new list stay; a team leaves by withdrawing, so that its
    scores are never lost by loading a shorter list.

    Raises
    ------
    BadInput
        With every fault of the event, the teams and the crew taken together.
    """
    after = event or state.event
    if after is not None:
        _need_sound(state, after, teams, crew)
    asked: list[Asked] = []
    if event is not None and event != state.event:
        asked.append(bodies.EventSet(event=event))
    asked += [bodies.TeamSet(team=team) for team in teams or () if state.teams.get(team.id) != team]
    asked += [
        bodies.CrewSet(member=member)
        for member in crew or ()
        if state.crew.get(member.person) != member
    ]
    if kit is not None and kit != state.kit:
        asked.append(bodies.KitSet(items=kit))
    return propose(*asked)


def _need_sound(
    state: State,
    event: Event,
    teams: tuple[Team, ...] | None,
    crew: tuple[CrewMember, ...] | None,
) -> None:
    all_teams = dict(state.teams) | {team.id: team for team in teams or ()}
    all_crew = dict(state.crew) | {member.person: member for member in crew or ()}
    # What the director has let stand is no reason to refuse a list that has nothing to do with it.
    stands = [
        one
        for one in check_team_list(state, event, state.teams, state.crew)
        if one.rule in LET_STAND
    ]
    of_teams = (
        one for one in check_team_list(state, event, all_teams, all_crew) if one not in stands
    )
    faults = errors_among((*check_event(event), *check_standards(event), *of_teams))
    if faults:
        raise BadInput(faults)
