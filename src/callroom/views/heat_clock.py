"""The heat clock: what a floor's clock shows, the same on every screen."""

from typing import Literal

import msgspec

from callroom.model import (
    ClockSpan,
    Floor,
    Heat,
    HeatStop,
    NotFound,
    Rerun,
    State,
    clock_spans,
    sheet_key,
)
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import CREW, Audience, HeatSlot, heat_slot

Stage = Literal["idle", "waiting", "called", "running", "stopped", "ruled", "finished"]


class ClockFace(msgspec.Struct, frozen=True, kw_only=True):
    """A clock that was started: its zero, where it was held (None: it runs) [ms, UTC], its spans.

    It counts down to `zero_ms`, and ends by itself at the end of the last span.
    """

    zero_ms: int
    held_ms: int | None
    spans: tuple[ClockSpan, ...]


class FloorClock(msgspec.Struct, frozen=True, kw_only=True):
    """What the clock of one floor shows.

    Attributes
    ----------
    slot
        The heat it is about; None: none is left.
    face
        Its clock; None: it has not started, and the time of day is shown.
    reruns
        The names of the teams whose re-run it is; empty: it is the heat's own run.
    reason
        Why it was stopped; empty: it was not.
    next
        The heat that comes after it on this floor.
    """

    head: PageHead
    floor: Floor
    stage: Stage
    slot: HeatSlot | None
    face: ClockFace | None
    reruns: tuple[str, ...]
    reason: str
    next: HeatSlot | None


def floor_clock(state: State, floor_id: str, audience: Audience = CREW) -> FloorClock:
    """Return what the clock of a floor shows; NotFound if there is no such floor."""
    floors = state.event.floors if state.event is not None else ()
    floor = next((floor for floor in floors if floor.id == floor_id), None)
    if floor is None:
        raise NotFound("clock.no_floor", floor=floor_id)
    heats = _heats_on(state, floor_id)
    shown, face, again = _shown(state, heats)
    run = state.heat_run(shown.id) if shown is not None else None
    after = [
        heat
        for heat in heats
        if heat is not shown and state.heat_run(heat.id).stage in {"waiting", "called"}
    ]
    return FloorClock(
        head=page_head(state),
        floor=floor,
        stage=_stage(state, shown, again),
        slot=heat_slot(state, shown, audience) if shown is not None else None,
        face=_as_seen(state, shown, face, audience),
        reruns=tuple(state.teams[rerun.team].name for rerun in again),
        reason=run.stop.reason if run is not None and run.stop is not None and not again else "",
        next=heat_slot(state, after[0], audience) if after else None,
    )


def heat_face(state: State, heat: Heat) -> ClockFace | None:
    """Return the clock of a heat's own run; None: it has not started."""
    run = state.heat_run(heat.id)
    if run.started_ms is None or state.event is None:
        return None
    held_ms = run.stop.at_ms if run.stop is not None else run.finished_ms
    spans = clock_spans(state.event.workout(heat.workout))
    return ClockFace(zero_ms=run.started_ms, held_ms=held_ms, spans=spans)


def waiting_reruns(state: State, heat: Heat) -> tuple[Rerun, ...]:
    """Return the re-runs of a heat's teams whose clock has not started, in lane order."""
    return tuple(rerun for rerun in _last_reruns(state, heat) if rerun.started_ms is None)


def running_reruns(state: State, heat: Heat) -> tuple[Rerun, ...]:
    """Return the re-runs of a heat's teams that have started and have no score yet."""
    return tuple(
        rerun
        for rerun in _last_reruns(state, heat)
        if rerun.started_ms is not None and not _scored(state, rerun)
    )


def is_unruled(state: State, heat: Heat) -> bool:
    """Whether a heat was stopped and nobody has ruled what counts."""
    stop = state.heat_run(heat.id).stop
    return stop is not None and stop.ruling is None


def _last_reruns(state: State, heat: Heat) -> list[Rerun]:
    return [
        rerun
        for team in heat.teams
        if team not in state.team_status and team in state.teams
        for rerun in state.reruns.get(f"{heat.workout}/{team}", ())[-1:]
    ]


def _scored(state: State, rerun: Rerun) -> bool:
    """Whether every part of a re-run has been reported."""
    if state.event is None:
        return False
    keys = [
        sheet_key(rerun.workout, part.id, rerun.team, rerun.attempt)
        for part in state.event.workout(rerun.workout).parts
    ]
    sheets = [state.sheets.get(key) for key in keys]
    return all(sheet is not None and sheet.counting is not None for sheet in sheets)


def _heats_on(state: State, floor_id: str) -> list[Heat]:
    heats = state.plan.heats if state.plan is not None else ()
    mine = (heat for heat in heats if heat.floor == floor_id)
    return sorted(mine, key=lambda heat: (heat.start_s, heat.id))


def _shown(
    state: State, heats: list[Heat]
) -> tuple[Heat | None, ClockFace | None, tuple[Rerun, ...]]:
    """Return the heat that matters most now, its clock, and whose re-run it is."""
    running = [
        (face.zero_ms, heat, face, ())
        for heat in heats
        if state.heat_run(heat.id).stage == "started" and (face := heat_face(state, heat))
    ]
    again = [
        (face.zero_ms, heat, face, reruns)
        for heat in heats
        if (reruns := running_reruns(state, heat)) and (face := _rerun_face(state, heat, reruns))
    ]
    on = max([*running, *again], key=lambda one: one[0], default=None)
    if on is not None:
        return on[1:]
    for heat in _in_question(state, heats):
        return heat, heat_face(state, heat), ()
    for heat in heats:
        if state.heat_run(heat.id).stage in {"waiting", "called"}:
            return heat, None, ()
    return None, None, ()


def _in_question(state: State, heats: list[Heat]) -> list[Heat]:
    """Return heats whose clock stands still and is still of interest: nothing was called since."""
    ended = [heat for heat in heats if state.heat_run(heat.id).finished_ms is not None]
    ended.sort(key=lambda heat: state.heat_run(heat.id).finished_ms or 0, reverse=True)
    unruled = [heat for heat in ended if is_unruled(state, heat)]
    called = [heat for heat in heats if state.heat_run(heat.id).stage == "called"]
    last = [heat for heat in ended[:1] if state.heat_run(heat.id).stage == "finished"]
    return unruled or ([] if called else last)


def _rerun_face(state: State, heat: Heat, reruns: tuple[Rerun, ...]) -> ClockFace | None:
    if state.event is None:
        return None
    zero_ms = max(rerun.started_ms or 0 for rerun in reruns)
    spans = clock_spans(state.event.workout(heat.workout))
    return ClockFace(zero_ms=zero_ms, held_ms=None, spans=spans)


def _stage(state: State, shown: Heat | None, again: tuple[Rerun, ...]) -> Stage:
    if shown is None:
        return "idle"
    run = state.heat_run(shown.id)
    if again or run.stage == "started":
        return "running"
    if run.stage in {"waiting", "called"}:
        return "called" if run.stage == "called" else "waiting"
    if run.stop is None:
        return "finished"
    return "stopped" if run.stop.ruling is None else "ruled"


def _as_seen(
    state: State, heat: Heat | None, face: ClockFace | None, audience: Audience
) -> ClockFace | None:
    """Return the clock without the names of parts that this audience may not know yet."""
    if face is None or heat is None or state.event is None:
        return face
    if audience.may_see(state.event.workout(heat.workout)):
        return face
    spans = tuple(msgspec.structs.replace(span, name="") for span in face.spans)
    return msgspec.structs.replace(face, spans=spans)


class OtherHeat(msgspec.Struct, frozen=True, kw_only=True):
    """A heat whose clock runs, with which a re-run may share the start."""

    slot: HeatSlot
    floor: str
    zero_ms: int


class HeatClockDesk(msgspec.Struct, frozen=True, kw_only=True):
    """The clock of one heat with what may be done about it.

    Attributes
    ----------
    stop
        The last stop of its clock, ruled on or not; None: it was not stopped.
    waiting
        The re-runs of its teams that have been granted and not started.
    running
        Other heats on a clock now, any floor: a held lane beside them may take a re-run.
    timed
        Some part is done for time, so that time can be credited.
    """

    slot: HeatSlot
    floor: Floor
    countdown_s: int
    stop: HeatStop | None
    waiting: tuple[Rerun, ...]
    running: tuple[OtherHeat, ...]
    timed: bool
    scored: bool


def heat_clock_desk(state: State, heat_id: str) -> HeatClockDesk:
    """Return the clock of a heat for those who run it; NotFound if the plan has no such heat."""
    heats = state.plan.heats if state.plan is not None else ()
    heat = next((heat for heat in heats if heat.id == heat_id), None)
    if heat is None or state.event is None:
        raise NotFound("heat.unknown", heat=heat_id)
    workout = state.event.workout(heat.workout)
    reported = (
        sheet
        for sheet in state.sheets.values()
        if sheet.workout == heat.workout and sheet.team in heat.teams
    )
    return HeatClockDesk(
        slot=heat_slot(state, heat),
        floor=state.event.floor(heat.floor),
        countdown_s=workout.countdown_s,
        stop=state.heat_run(heat_id).stop,
        waiting=waiting_reruns(state, heat),
        running=tuple(
            OtherHeat(
                slot=heat_slot(state, other),
                floor=state.event.floor(other.floor).name,
                zero_ms=state.heat_run(other.id).started_ms or 0,
            )
            for other in heats
            if other.id != heat_id and state.heat_run(other.id).stage == "started"
        ),
        timed=any(part.kind == "time" for part in workout.parts),
        scored=any(sheet.counting is not None for sheet in reported),
    )
