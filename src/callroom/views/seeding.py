"""Seeding from results as the director sees it before accepting: who would stand where."""

import msgspec

from callroom.model import Event, Finding, Heat, State
from callroom.model.wishes import OrderRule
from callroom.planner.seeding.reseed import Reseeding
from callroom.scoring import division_standings
from callroom.views.timetable import CREW, HeatSlot, WorkoutTitle, heat_slot, workout_title


class SeededTeam(msgspec.Struct, frozen=True, kw_only=True):
    """A team in the heat it would be in; `from_heat` is the number of the one it comes from.

    `place` is its place in the standings (None: none); `moved`: heat or lane differ.
    """

    lane: int
    name: str
    place: int | None
    from_heat: int
    from_lane: int
    moved: bool


class SeededHeat(msgspec.Struct, frozen=True, kw_only=True):
    """A heat that would change, with its teams by lane."""

    slot: HeatSlot
    teams: tuple[SeededTeam, ...]


class Seeding(msgspec.Struct, frozen=True, kw_only=True):
    """One workout of one division, and what its standings would change there.

    `awaited` and `begun` say why it cannot be accepted yet, or any more; `findings` what the
    plan's check would find that it does not find now.
    """

    workout: WorkoutTitle
    division: str
    division_name: str
    rule: OrderRule
    heats: tuple[SeededHeat, ...]
    awaited: tuple[WorkoutTitle, ...]
    begun: tuple[HeatSlot, ...]
    findings: tuple[Finding, ...]
    moved: int
    ready: bool


def seeding(state: State, event: Event, one: Reseeding, findings: tuple[Finding, ...]) -> Seeding:
    """Return what the standings would change in a workout, with what the check finds then."""
    places = {row.team: row.place for row in division_standings(state, one.division).rows}
    was = {place.team: (heat.number, place.lane) for heat in one.before for place in heat.lanes}
    heats = tuple(_heat(state, heat, places, was) for heat in one.after)
    waiting = dict.fromkeys(workout for workout, _ in one.awaited)
    begun = [heat for heat in state.plan.heats if heat.id in one.begun] if state.plan else []
    return Seeding(
        workout=workout_title(event, event.workout(one.workout), CREW),
        division=one.division,
        division_name=event.division(one.division).name,
        rule=one.rule,
        heats=heats,
        awaited=tuple(workout_title(event, event.workout(name), CREW) for name in waiting),
        begun=tuple(heat_slot(state, heat) for heat in begun),
        findings=findings,
        moved=sum(team.moved for heat in heats for team in heat.teams),
        ready=one.ready,
    )


def _heat(
    state: State,
    heat: Heat,
    places: dict[str, int | None],
    was: dict[str, tuple[int, int]],
) -> SeededHeat:
    return SeededHeat(
        slot=heat_slot(state, heat),
        teams=tuple(
            SeededTeam(
                lane=place.lane,
                name=state.teams[place.team].name,
                place=places.get(place.team),
                from_heat=was.get(place.team, (heat.number, place.lane))[0],
                from_lane=was.get(place.team, (heat.number, place.lane))[1],
                moved=was.get(place.team) != (heat.number, place.lane),
            )
            for place in heat.lanes
        ),
    )
