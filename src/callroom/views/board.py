"""The call board: which heat is called, who has arrived, what is on the floor, what is next."""

import msgspec

from callroom.model import Heat, HeatRun, State
from callroom.model.course import HeatStep, heat_step
from callroom.model.line_up import line_up_in
from callroom.views.day_times import NO_TIMES, DayTimes
from callroom.views.line_ups import LineUpPlace, line_up_changes
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


class BoardPlace(msgspec.Struct, frozen=True, kw_only=True):
    """A team in a lane, and whether it stands at the call board, or did not at the check.

    `ready`: the lane's judge has said that the lane is ready.

    `changes` are the places of its line-up that are not as entered; `stands_down`: somebody
    in it may not take the floor until first aid says so.
    """

    place: LanePlace
    arrived: bool
    no_show: bool
    ready: bool = False
    changes: tuple[LineUpPlace, ...] = ()
    stands_down: bool = False


class BoardHeat(msgspec.Struct, frozen=True, kw_only=True):
    """A heat on the board.

    `touched_seq` is the last entry about it (0: none); `started_ms` the instant of its
    clock's zero and `finished_ms` when it ended [ms, UTC]; `cap_s` the length of its clock.
    `expected_s` is when it is to be expected [s], if that is later than published;
    `may_s` the earliest it may walk on, None where the time is not known.
    """

    slot: HeatSlot
    floor: str
    places: tuple[BoardPlace, ...]
    step: HeatStep
    cap_s: int
    touched_seq: int
    started_ms: int | None
    finished_ms: int | None
    expected_s: int | None
    may_s: int | None

    @property
    def expected(self) -> int:
        """How many teams are still in the event."""
        return sum(not one.place.withdrawn for one in self.places)

    @property
    def arrived(self) -> int:
        """How many of them have arrived."""
        return sum(one.arrived and not one.place.withdrawn for one in self.places)

    @property
    def awaited(self) -> tuple[str, ...]:
        """The teams that were called and have not been seen, by name; none once it walked on."""
        if self.step not in {"called", "checked"}:
            return ()
        return tuple(
            one.place.name for one in self.places if not one.arrived and not one.place.withdrawn
        )

    @property
    def not_ready(self) -> tuple[int, ...]:
        """The lanes with a team whose judge has not said that they are ready."""
        return tuple(
            one.place.lane for one in self.places if not one.ready and not one.place.withdrawn
        )

    @property
    def no_shows(self) -> int:
        """How many of them were not there at the check."""
        return sum(one.no_show and not one.place.withdrawn for one in self.places)


class FloorPace(msgspec.Struct, frozen=True, kw_only=True):
    """How late the next heat of a floor is expected [s]; nought when on time."""

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


def board(
    state: State,
    audience: Audience = CREW,
    next_per_floor: int = 2,
    *,
    times: DayTimes = NO_TIMES,
) -> Board:
    """Return the board; without a published plan it is empty.

    `times` is when heats are to be expected; without them, as published.
    """
    heats = _in_time_order(state)
    waiting = [heat for heat in heats if state.heat_run(heat.id).stage == "waiting"]
    coming = _first_of_each_floor(waiting, next_per_floor)
    ended = [heat for heat in heats if state.heat_run(heat.id).stage in {"finished", "confirmed"}]
    ended.sort(key=lambda heat: state.heat_run(heat.id).finished_ms or 0, reverse=True)

    def shown(chosen: list[Heat]) -> tuple[BoardHeat, ...]:
        return tuple(board_heat(state, heat, audience, times=times) for heat in chosen)

    return Board(
        head=page_head(state),
        on_floor=shown([heat for heat in heats if on_floor(state, heat)]),
        called=shown(
            [
                heat
                for heat in heats
                if state.heat_run(heat.id).stage == "called" and not on_floor(state, heat)
            ]
        ),
        next=shown(coming),
        later=len(waiting) - len(coming),
        done=shown(ended[:_DONE_SHOWN]),
        paces=floor_paces(state, times),
        pauses=pause_slots(
            pause for pause in (state.plan.pauses if state.plan else ()) if not pause.floors
        ),
    )


def on_floor(state: State, heat: Heat) -> bool:
    """Whether the teams of a heat have walked on and its clock has not ended."""
    run = state.heat_run(heat.id)
    return run.stage == "started" or (run.stage == "called" and run.on_floor_ms is not None)


def board_heat(
    state: State, heat: Heat, audience: Audience = CREW, *, times: DayTimes = NO_TIMES
) -> BoardHeat:
    """Return one heat as the board shows it."""
    run = state.heat_run(heat.id)
    slot = heat_slot(state, heat, audience)
    event = state.event
    return BoardHeat(
        slot=slot,
        floor=event.floor(heat.floor).name if event is not None else heat.floor,
        places=tuple(
            _place(state, heat, place, run)
            for place in sorted(slot.places, key=lambda place: place.lane)
        ),
        step=heat_step(state, heat),
        cap_s=event.workout(heat.workout).clock_s if event is not None else 0,
        touched_seq=state.subjects.get(f"heat:{heat.id}", 0),
        started_ms=run.started_ms,
        finished_ms=run.finished_ms,
        expected_s=times.late_start_s(heat.id) if run.stage in {"waiting", "called"} else None,
        may_s=times.heats[heat.id].may_s if heat.id in times.heats else None,
    )


def floor_paces(state: State, times: DayTimes) -> tuple[FloorPace, ...]:
    """Return how late each floor runs."""
    floors = state.event.floors if state.event is not None else ()
    return tuple(
        FloorPace(id=floor.id, name=floor.name, late_s=times.late_s.get(floor.id, 0))
        for floor in floors
    )


def _place(state: State, heat: Heat, place: LanePlace, run: HeatRun) -> BoardPlace:
    team, event = state.teams.get(place.team), state.event
    if team is None or event is None or not (state.line_ups or state.stood_down):
        changes: tuple[LineUpPlace, ...] = ()
        stands_down = False
    else:
        changes = line_up_changes(state, event, heat.workout, team)
        standing = line_up_in(state, heat.workout, team)
        stands_down = any(one.person in state.stood_down for one in standing)
    return BoardPlace(
        place=place,
        arrived=place.team in run.arrived,
        no_show=place.team in run.no_shows,
        ready=place.lane in run.ready,
        changes=changes,
        stands_down=stands_down,
    )


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
