"""Free lanes for a team that came late, as they are offered to the director and taken."""

import msgspec

from callroom.actions.late_team import LateLanes, give_lanes, late_lanes
from callroom.actions.request import Request
from callroom.model import Stale, State
from callroom.views.timetable import CREW, WorkoutTitle, workout_title
from callroom.web.house import House


class LaneOffered(msgspec.Struct, frozen=True, kw_only=True):
    """A free lane in a heat, which starts at [s from the day's start]."""

    workout: WorkoutTitle
    heat: str
    number: int
    start_s: int
    floor: str
    lane: int


class LanesOffer(msgspec.Struct, frozen=True, kw_only=True):
    """What is offered: the lanes in time order, and the workouts that it misses."""

    lanes: tuple[LaneOffered, ...] = ()
    missed: tuple[WorkoutTitle, ...] = ()

    @property
    def shown(self) -> str:
        """What tells one offer from another."""
        return ",".join(f"{one.heat}:{one.lane}" for one in self.lanes)


def lanes_offered(house: House, team_id: str) -> LanesOffer:
    """Return the free lanes for a team that the plan has no heat for; it may take a second."""
    state = house.state
    return _offer(state, team_id, late_lanes(state, team_id, house.book.now_ms()))


def take_lanes(house: House, team_id: str, shown: str) -> Request:
    """Return the request that gives a team the lanes that were shown; Stale if they are others."""
    state = house.state
    found = late_lanes(state, team_id, house.book.now_ms())
    if found is None or _offer(state, team_id, found).shown != shown:
        raise Stale("check_in.other_lanes", team=team_id)
    return give_lanes(state, found, house.words.gettext("A team that came late"))


def _offer(state: State, team_id: str, found: LateLanes | None) -> LanesOffer:
    event = state.event
    if found is None or event is None:
        return LanesOffer()
    lanes = tuple(
        LaneOffered(
            workout=workout_title(event, event.workout(heat.workout), CREW),
            heat=heat.id,
            number=heat.number,
            start_s=heat.start_s,
            floor=event.floor(heat.floor).name,
            lane=heat.lane_of(team_id) or 0,
        )
        for heat in found.heats
    )
    missed = tuple(workout_title(event, event.workout(one), CREW) for one in found.missed)
    return LanesOffer(lanes=lanes, missed=missed)
