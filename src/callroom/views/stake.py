"""What is at stake in a division: what each team needs next, and its chances of the podium."""

import msgspec

from callroom.model import Division, Event, NotFound, State
from callroom.scoring import division_scores, standings_of
from callroom.scoring.needs import Need, next_needs
from callroom.views.chances import PlayedChances, TeamChances
from callroom.views.embargo import as_public
from callroom.views.page_head import PageHead, page_head
from callroom.views.standings import part_name
from callroom.views.timetable import Audience, WorkoutTitle, workout_title

TARGETS = (1, 2, 3)


class TeamStake(msgspec.Struct, frozen=True, kw_only=True):
    """One team: its place now (None: none yet) and what it needs for each of `TARGETS`."""

    team: str
    name: str
    place: int | None
    needs: tuple[Need, ...]


class PartTitle(msgspec.Struct, frozen=True, kw_only=True):
    """A scored part by its workout, with its own name where the workout has several."""

    workout: WorkoutTitle
    part_name: str


class Stake(msgspec.Struct, frozen=True, kw_only=True):
    """What is at stake in a division.

    Attributes
    ----------
    next
        The first part that does not count yet; None: nothing is to come, or places alone do
        not say what points it brings.
    racing
        How many teams take a place in it.
    teams
        What each needs there, by the standings.
    chances
        Teams that were among the first three in some play, the likeliest first; without a
        first result, and where points hang on results, there are none.
    never
        How many teams were in no play among them.
    """

    head: PageHead
    division: Division
    next: PartTitle | None
    racing: int
    teams: tuple[TeamStake, ...]
    chances: tuple[TeamChances, ...]
    never: int
    played: PlayedChances | None
    to_come: tuple[PartTitle, ...]


def stake(
    state: State, division_id: str, audience: Audience, played: PlayedChances | None = None
) -> Stake:
    """Return what is at stake in a division; NotFound without an event or such a division.

    `played` are the chances; they must be of the State as `audience` may see it.
    """
    if state.event is None:
        raise NotFound("book.no_event")
    seen = as_public(state) if audience.public else state
    event = state.event
    scored = division_scores(seen, division_id)
    told = next_needs(scored, TARGETS)
    places = {row.team: row.place for row in standings_of(scored).rows}
    by_team: dict[str, list[Need]] = {}
    for need in told.needs if told is not None else ():
        by_team.setdefault(need.team, []).append(need)
    chances = played.teams if played is not None else ()
    likely = tuple(one for one in chances if one.podium)
    return Stake(
        head=page_head(state),
        division=event.division(division_id),
        next=_title(event, (told.workout, told.part), audience) if told is not None else None,
        racing=told.teams if told is not None else 0,
        teams=tuple(
            TeamStake(
                team=team,
                name=state.teams[team].name,
                place=places[team],
                needs=tuple(needs),
            )
            for team, needs in by_team.items()
        ),
        chances=likely,
        never=len(chances) - len(likely),
        played=played,
        to_come=tuple(_title(event, name, audience) for name in (played.to_come if played else ())),
    )


def _title(event: Event, name: tuple[str, str], audience: Audience) -> PartTitle:
    workout = event.workout(name[0])
    number = workout.parts.index(workout.part(name[1])) + 1
    return PartTitle(
        workout=workout_title(event, workout, audience),
        part_name=part_name(workout, number, audience),
    )
