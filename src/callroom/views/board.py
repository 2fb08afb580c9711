"""The call board: which heat is called, who has arrived, what is on the floor, what is next."""

import msgspec

from callroom.model import Heat, State, milliseconds
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import (
    CREW,
    Audience,
    HeatSlot,
    LanePlace,
    PauseSlot,
    heat_slot,
    pause_slots,
)

# How many finished heats stay in sight: enough to see what has just ended on every floor.
_DONE_SHOWN = 4
# Less than this is no news to anybody.
_LATE_FROM_S = 60


class BoardPlace(msgspec.Struct, frozen=True, kw_only=True):
    """A team in a lane, and whether it stands at the call board."""

    place: LanePlace
    arrived: bool


class BoardHeat(msgspec.Struct, frozen=True, kw_only=True):
    """A heat on the board.

    `touched_seq` is the last entry about it (0: none); `started_ms` the instant of its
    clock's zero and `finished_ms` when it ended [ms, UTC]; `cap_s` the length of its clock.
    """

    slot: HeatSlot
    floor: str
    places: tuple[BoardPlace, ...]
    cap_s: int
    touched_seq: int
    started_ms: int | None
    finished_ms: int | None

    @property
    def expected(self) -> int:
        """How many teams are still in the event."""
        return sum(not one.place.withdrawn for one in self.places)

    @property
    def arrived(self) -> int:
        """How many of them have arrived."""
        return sum(one.arrived and not one.place.withdrawn for one in self.places)


class FloorPace(msgspec.Struct, frozen=True, kw_only=True):
    """How late a floor runs [s], by the heat it started last; nought when on time."""

    id: str
    name: str
    late_s: int


class Board(msgspec.Struct, frozen=True, kw_only=True):
    """The call board of the whole event, every part in time order.

    `next` has the coming heats still waiting, a few for each floor; `later` counts the
    rest; `done` has the heats that ended last, the newest first. `pauses` are those of the
    whole event.
    """

    head: PageHead
    on_floor: tuple[BoardHeat, ...]
    called: tuple[BoardHeat, ...]
    next: tuple[BoardHeat, ...]
    later: int
    done: tuple[BoardHeat, ...]
    paces: tuple[FloorPace, ...]
    pauses: tuple[PauseSlot, ...]


def board(state: State, audience: Audience = CREW, next_per_floor: int = 2) -> Board:
    """Return the board; without a published plan it is empty."""
    heats = _in_time_order(state)
    waiting = [heat for heat in heats if state.heat_run(heat.id).stage == "waiting"]
    coming = _first_of_each_floor(waiting, next_per_floor)
    ended = [heat for heat in heats if state.heat_run(heat.id).stage in {"finished", "confirmed"}]
    ended.sort(key=lambda heat: state.heat_run(heat.id).finished_ms or 0, reverse=True)

    def shown(chosen: list[Heat]) -> tuple[BoardHeat, ...]:
        return tuple(board_heat(state, heat, audience) for heat in chosen)

    return Board(
        head=page_head(state),
        on_floor=shown([heat for heat in heats if state.heat_run(heat.id).stage == "started"]),
        called=shown([heat for heat in heats if state.heat_run(heat.id).stage == "called"]),
        next=shown(coming),
        later=len(waiting) - len(coming),
        done=shown(ended[:_DONE_SHOWN]),
        paces=floor_paces(state),
        pauses=pause_slots(
            pause for pause in (state.plan.pauses if state.plan else ()) if not pause.floors
        ),
    )


def board_heat(state: State, heat: Heat, audience: Audience = CREW) -> BoardHeat:
    """Return one heat as the board shows it."""
    run = state.heat_run(heat.id)
    slot = heat_slot(state, heat, audience)
    event = state.event
    return BoardHeat(
        slot=slot,
        floor=event.floor(heat.floor).name if event is not None else heat.floor,
        places=tuple(
            BoardPlace(place=place, arrived=place.team in run.arrived)
            for place in sorted(slot.places, key=lambda place: place.lane)
        ),
        cap_s=event.workout(heat.workout).clock_s if event is not None else 0,
        touched_seq=state.subjects.get(f"heat:{heat.id}", 0),
        started_ms=run.started_ms,
        finished_ms=run.finished_ms,
    )


def floor_paces(state: State) -> tuple[FloorPace, ...]:
    """Return how late each floor runs, judged by the clock of the heat it started last."""
    if state.event is None:
        return ()
    return tuple(
        FloorPace(id=floor.id, name=floor.name, late_s=_late_s(state, floor.id))
        for floor in state.event.floors
    )


def _late_s(state: State, floor_id: str) -> int:
    started = [
        (run.started_ms, heat)
        for heat in _in_time_order(state)
        if heat.floor == floor_id and (run := state.heat_run(heat.id)).started_ms is not None
    ]
    if not started or state.event is None:
        return 0
    started_ms, heat = max(started, key=lambda pair: pair[0] or 0)
    workout = state.event.workout(heat.workout)
    planned_s = heat.start_s + workout.walk_on_s + workout.countdown_s
    late_s = ((started_ms or 0) - milliseconds(state.event.instant(planned_s))) // 1000
    return late_s if late_s >= _LATE_FROM_S else 0


def _in_time_order(state: State) -> list[Heat]:
    heats = state.plan.heats if state.plan is not None else ()
    return sorted(heats, key=lambda heat: (heat.start_s, heat.floor, heat.id))


def _first_of_each_floor(heats: list[Heat], most: int) -> list[Heat]:
    taken: dict[str, int] = {}
    chosen = []
    for heat in heats:
        taken[heat.floor] = taken.get(heat.floor, 0) + 1
        if taken[heat.floor] <= most:
            chosen.append(heat)
    return chosen
