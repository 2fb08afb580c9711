"""Line-ups: who of a squad takes the floor in a workout, where that was changed on the day."""

from collections.abc import Iterable

from msgspec.structs import replace

from callroom.model.state import State
from callroom.model.team import Athlete, LinedUp, LineUp, Team


def line_up_key(workout: str, team: str) -> str:
    """Return the key of a line-up in the State."""
    return f"{workout}/{team}"


def as_entered(team: Team) -> tuple[LinedUp, ...]:
    """Return the line-up a team entered with."""
    return tuple(LinedUp(place=one.place, person=one.person) for one in team.on_floor)


def line_up_in(state: State, workout: str, team: Team) -> tuple[LinedUp, ...]:
    """Return who stands where in a workout: as decided for it, else as entered."""
    known = state.line_ups.get(line_up_key(workout, team.id))
    return known.places if known is not None else as_entered(team)


def team_in(state: State, workout: str, team: Team) -> Team:
    """Return a team as it takes the floor in a workout; whoever does not is a reserve."""
    if line_up_key(workout, team.id) not in state.line_ups:
        return team
    return lined_up(team, line_up_in(state, workout, team))


def lined_up(team: Team, places: Iterable[LinedUp]) -> Team:
    """Return a team with these places taken, and the rest of its squad in reserve.

    Everybody in reserve keeps a place name of the squad that nobody on the floor has: whoever
    makes room takes over that of whoever came in.
    """
    taken = {one.person: one.place for one in places}
    free = [one.place for one in team.athletes if one.place not in taken.values()]
    athletes: list[Athlete] = []
    waiting = [one for one in team.athletes if one.person not in taken]
    own = {one.person: one.place for one in waiting if one.place in free}
    left = iter([place for place in free if place not in own.values()])
    for one in team.athletes:
        if one.person in taken:
            athletes.append(replace(one, place=taken[one.person], reserve=False))
        else:
            athletes.append(replace(one, place=own.get(one.person) or next(left), reserve=True))
    return replace(team, athletes=tuple(athletes))


def substitutions(state: State, team: Team) -> int:
    """Return how many athletes came in for others, over the team's workouts in time order.

    Counted are those who stand in a workout and did not in the one before (before the first:
    as entered), so that coming back counts too. Common practice, no source.
    """
    before = {one.person for one in as_entered(team)}
    count = 0
    for heat in state.plan.day_of(team.id) if state.plan is not None else ():
        now = {one.person for one in line_up_in(state, heat.workout, team)}
        count += len(now - before)
        before = now
    return count


def at_their_smallest(state: State) -> Iterable[Team]:
    """Return every team as it is in the workout in which the fewest of it take the floor."""
    if not state.line_ups:
        return state.teams.values()
    known: dict[str, list[LineUp]] = {}
    for line_up in state.line_ups.values():
        known.setdefault(line_up.team, []).append(line_up)
    return tuple(_smallest(team, known.get(team.id, [])) for team in state.teams.values())


def _smallest(team: Team, known: list[LineUp]) -> Team:
    teams = [team, *(lined_up(team, one.places) for one in known)]
    return min(teams, key=lambda one: len(one.on_floor))
