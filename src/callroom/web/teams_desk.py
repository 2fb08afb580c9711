"""What the director does with one team: enter, change, move, accept, let go; and its link."""

from msgspec.structs import replace

from callroom.actions import day
from callroom.actions import entering as ask_entering
from callroom.actions.request import Request
from callroom.bootstrap.team_links import beside_people
from callroom.model import Athlete, Event, NotFound, Refusal, State, Team
from callroom.model.entering import next_team_id
from callroom.views.entry_form import form_places
from callroom.web.entering import basis_of, only_here
from callroom.web.forms.read_team import Filled
from callroom.web.forms.team_form import seated
from callroom.web.house import House
from callroom.web.visitor import Visitor


def team_of(state: State, team_id: str) -> Team:
    """Return a team that is in or waits; NotFound if there is none of that id."""
    enrolment = state.enrolments.get(team_id)
    team = state.teams.get(team_id) or (enrolment.team if enrolment is not None else None)
    if team is None:
        raise NotFound("team.unknown", team=team_id[:80])
    return team


async def enter_by_hand(house: House, visitor: Visitor, filled: Filled, key: str) -> str:
    """Store a new team as the director typed it; return its id. Sent twice, it is one team.

    The ids of its people rest on the form's key, by which a form that comes again is known.
    """
    async with house.entering:
        state = house.state
        for team in state.teams.values():
            if any(one.person in filled.people for one in team.athletes):
                return team.id
        team_id = next_team_id(set(state.teams) | set(state.enrolments))
        team = replace(filled.team, id=team_id)
        beside = beside_people(filled.people)
        if visitor.actor is not None:
            asked = ask_entering.enter_by_hand(team, {})
            await house.book.ask(visitor.actor, asked, key=key, beside=beside)
    return team_id


async def store_by_director(
    house: House, visitor: Visitor, filled: Filled, basis: dict[str, int], key: str
) -> None:
    """Store what the director changed about a team and its people, together."""
    team, state = filled.team, house.state
    beside = beside_people(filled.people, only_here(state, filled.gone, team.id))
    if visitor.actor is not None:
        asked = _set(state, team, basis)
        await house.book.ask(visitor.actor, asked, key=key, beside=beside)


def moved(state: State, event: Event, team: Team, division: str) -> Request:
    """Return the request that moves a team to another division, everybody in a place there.

    Raises
    ------
    Refusal
        If somebody would have no place.
    """
    places = form_places(event, event.division(division))
    held = seated(places, team.athletes)
    if len(held) < len(team.athletes):
        over = len(team.athletes) - len(held)
        raise Refusal("team.does_not_fit", team=team.id, count=over)
    athletes = tuple(
        Athlete(
            place=place.place,
            category=held[place.place].category,
            person=held[place.place].person,
            reserve=place.reserve,
        )
        for place in places
        if place.place in held
    )
    there = replace(team, division=division, athletes=athletes, entry_rank=None)
    return _set(state, there, basis_of(state, team.id))


def _set(state: State, team: Team, basis: dict[str, int]) -> Request:
    if team.id in state.teams:
        return ask_entering.enter_by_hand(team, basis)
    return ask_entering.revise(team, basis)


def decision(state: State, team_id: str, do: str, reason: str) -> Request | None:
    """Return the request that a button of a team's page makes; None if it is none of those."""
    if do == "accept":
        return ask_entering.accept(team_id)
    if do == "decline":
        return ask_entering.decline(team_id, reason)
    if do == "withdraw":
        return day.withdraw_team(team_id, reason)
    if do == "back" and team_id in state.team_status:
        return day.reinstate_team(team_id, state.team_status[team_id].since_seq, reason)
    if do == "back" and team_id in state.enrolments:
        return ask_entering.enter_by_hand(state.enrolments[team_id].team, basis_of(state, team_id))
    return None
