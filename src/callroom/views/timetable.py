"""The day by floor and time: what the drawn timetable, the call board and the pages share."""

from collections.abc import Iterable
from typing import Literal

import msgspec

from callroom.model import Event, Floor, Heat, Pause, State, Workout
from callroom.model.state import HeatStage
from callroom.views.masthead import Masthead, masthead, published


class Audience(msgspec.Struct, frozen=True, kw_only=True):
    """For whom a view is made: the crew sees all, the public what is released by `now_s`.

    `now_s` counts from the day's start [s] and may be negative; None means long before, so
    that a workout with a release time stays hidden.
    """

    public: bool = False
    now_s: int | None = None

    def may_see(self, workout: Workout) -> bool:
        """Whether the workout's name, text, work and loads may be shown."""
        if not self.public or workout.release_s is None:
            return True
        return self.now_s is not None and self.now_s >= workout.release_s


CREW = Audience()


class WorkoutTitle(msgspec.Struct, frozen=True, kw_only=True):
    """A workout as it may be named: its number in the event's order, and its name.

    The name is empty before the release, and `release_s` then says when it comes.
    """

    id: str
    number: int
    name: str
    release_s: int | None = None


class LanePlace(msgspec.Struct, frozen=True, kw_only=True):
    """A team in a lane."""

    lane: int
    team: str
    name: str
    division: str
    withdrawn: bool = False


class HeatSlot(msgspec.Struct, frozen=True, kw_only=True):
    """A heat with its times [s from the day's start]: report, walk-on, clock, end.

    `warm_up_s` and `briefing_s` are when those begin; None where none is wished.
    """

    id: str
    number: int
    workout: WorkoutTitle
    floor: str
    report_s: int
    start_s: int
    clock_s: int
    end_s: int
    places: tuple[LanePlace, ...]
    divisions: tuple[str, ...]
    stage: HeatStage = "waiting"
    warm_up_s: int | None = None
    briefing_s: int | None = None


class PauseSlot(msgspec.Struct, frozen=True, kw_only=True):
    """Something pinned in the day [s from the day's start]: lunch, a briefing, the awards."""

    id: str
    name: str
    start_s: int
    end_s: int


class FloorDay(msgspec.Struct, frozen=True, kw_only=True):
    """One floor's day: heats in time order, and the pauses that rest this floor."""

    id: str
    name: str
    lanes: int
    outdoor: bool
    heats: tuple[HeatSlot, ...]
    pauses: tuple[PauseSlot, ...]


class Timetable(msgspec.Struct, frozen=True, kw_only=True):
    """The whole day; `first_s` and `last_s` bound everything in it [s from the day's start].

    Every heat warms up for `warm_up_s`, and then is briefed for `briefing_s` [s].
    """

    masthead: Masthead
    floors: tuple[FloorDay, ...]
    pauses: tuple[PauseSlot, ...]
    first_s: int
    last_s: int
    audience: Literal["crew", "public"]
    warm_up_s: int = 0
    briefing_s: int = 0


def workout_title(event: Event, workout: Workout, audience: Audience) -> WorkoutTitle:
    """Return a workout's title as this audience may see it."""
    number = event.workouts.index(workout) + 1
    if audience.may_see(workout):
        return WorkoutTitle(id=workout.id, number=number, name=workout.name)
    return WorkoutTitle(id=workout.id, number=number, name="", release_s=workout.release_s)


def heat_slot(state: State, heat: Heat, audience: Audience = CREW) -> HeatSlot:
    """Return a heat as shown; the walk-on and the countdown come before its clock."""
    event, _ = published(state)
    workout, wishes = event.workout(heat.workout), event.wishes
    places = tuple(_lane_place(state, event, lane.lane, lane.team) for lane in heat.lanes)
    return HeatSlot(
        id=heat.id,
        number=heat.number,
        workout=workout_title(event, workout, audience),
        floor=heat.floor,
        report_s=heat.start_s - event.report_ahead_s(workout),
        start_s=heat.start_s,
        clock_s=heat.start_s + workout.walk_on_s + workout.countdown_s,
        end_s=heat.end_s,
        places=places,
        divisions=tuple(dict.fromkeys(place.division for place in places)),
        stage=state.heat_run(heat.id).stage,
        warm_up_s=heat.start_s - wishes.warm_up_s - wishes.briefing_s if wishes.warm_up_s else None,
        briefing_s=heat.start_s - wishes.briefing_s if wishes.briefing_s else None,
    )


def timetable(state: State, audience: Audience = CREW) -> Timetable:
    """Return the day by floor, floors in the event's order, heats in the order of time.

    For the public a workout not yet released keeps its number and times, nothing else.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    event, plan = published(state)
    floors = tuple(_floor_day(state, floor, audience) for floor in event.floors)
    pauses = pause_slots(plan.pauses)
    slots = [(heat.start_s, heat.end_s) for heat in plan.heats]
    slots += [(pause.start_s, pause.end_s) for pause in pauses]
    return Timetable(
        masthead=masthead(state),
        floors=floors,
        pauses=pauses,
        first_s=min((start_s for start_s, _ in slots), default=0),
        last_s=max((end_s for _, end_s in slots), default=0),
        audience="public" if audience.public else "crew",
        warm_up_s=event.wishes.warm_up_s,
        briefing_s=event.wishes.briefing_s,
    )


def _floor_day(state: State, floor: Floor, audience: Audience) -> FloorDay:
    _, plan = published(state)
    heats = sorted(
        (heat for heat in plan.heats if heat.floor == floor.id),
        key=lambda heat: (heat.start_s, heat.id),
    )
    resting = (pause for pause in plan.pauses if not pause.floors or floor.id in pause.floors)
    return FloorDay(
        id=floor.id,
        name=floor.name,
        lanes=floor.lanes,
        outdoor=floor.outdoor,
        heats=tuple(heat_slot(state, heat, audience) for heat in heats),
        pauses=pause_slots(resting),
    )


def pause_slots(pauses: Iterable[Pause]) -> tuple[PauseSlot, ...]:
    """Return pauses as shown, in time order."""
    return tuple(
        PauseSlot(
            id=pause.id,
            name=pause.name,
            start_s=pause.start_s,
            end_s=pause.start_s + pause.length_s,
        )
        for pause in sorted(pauses, key=lambda pause: (pause.start_s, pause.id))
    )


def _lane_place(state: State, event: Event, lane: int, team_id: str) -> LanePlace:
    team = state.teams.get(team_id)
    if team is None:
        return LanePlace(lane=lane, team=team_id, name=team_id, division="", withdrawn=True)
    return LanePlace(
        lane=lane,
        team=team_id,
        name=team.name,
        division=event.division(team.division).name,
        withdrawn=team_id in state.team_status,
    )
