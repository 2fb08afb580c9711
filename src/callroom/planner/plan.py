"""The plan of a day, from heats and their times."""

from collections.abc import Mapping, Sequence

import msgspec

from callroom.model.event import Event
from callroom.model.plan import Heat, LaneTeam, Plan
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.seeding import lanes_for
from callroom.planner.timetable import Placed


def plan_of(
    event: Event,
    heats: Sequence[HeatTeams],
    placed: Sequence[Placed],
    blank: Plan,
) -> Plan:
    """Return `blank` filled in: every heat with its floor, time, number and lanes.

    Parameters
    ----------
    event, heats, placed
        The event, who is in each heat, and where and when each is run; every heat once.
    blank
        A plan without heats: its revision, the digest of its inputs, what is proven.
    """
    places = {place.slot: place for place in placed}
    numbers: dict[str, int] = {}
    planned = []
    for heat in sorted(heats, key=lambda heat: (places[heat.id].start_s, heat.id)):
        numbers[heat.workout] = numbers.get(heat.workout, 0) + 1
        planned.append(_heat(event, heat, places[heat.id], numbers[heat.workout]))
    return msgspec.structs.replace(
        blank,
        heats=tuple(planned),
        pauses=event.wishes.pauses,
        finish_s=max((heat.end_s for heat in planned), default=0),
    )


def _heat(event: Event, heat: HeatTeams, place: Placed, number: int) -> Heat:
    workout = event.workout(heat.workout)
    lanes = _lanes(event, heat, place)
    return Heat(
        id=f"{workout.id}-{number}",
        workout=workout.id,
        floor=place.floor,
        number=number,
        start_s=place.start_s,
        end_s=place.start_s + workout.floor_s,
        lanes=tuple(
            LaneTeam(lane=lane, team=team)
            for team, lane in sorted(lanes.items(), key=lambda pair: pair[1])
        ),
    )


def _lanes(event: Event, heat: HeatTeams, place: Placed) -> Mapping[str, int]:
    floor = event.floor(place.floor)
    lanes = dict(
        lanes_for(
            heat.teams,
            floor,
            event.wishes.lane_pattern,
            seed=event.wishes.draw_seed,
            purpose=f"lanes {heat.id}",
        )
    )
    for lock in event.wishes.locks:
        here = lock.team in lanes and lock.workout in {"", heat.workout}
        if here and lock.lane is not None and lock.lane in floor.lane_numbers:
            _give(lanes, lock.team, lock.lane)
    return lanes


def _give(lanes: dict[str, int], team: str, lane: int) -> None:
    """Give a team a lane; whoever had it gets the team's own."""
    own = lanes[team]
    for other, taken in lanes.items():
        if taken == lane:
            lanes[other] = own
    lanes[team] = lane
