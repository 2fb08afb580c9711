"""Scores as the desk and the head judge see them: lane by lane, what is missing, what differs."""

import msgspec

from callroom.model import (
    Event,
    Heat,
    KeptNote,
    LaneTeam,
    NotFound,
    Part,
    ScoreSheet,
    State,
    sheet_key,
)
from callroom.model.lanes import LaneState, attempts, lane_states, sheet_state
from callroom.model.score import SheetRef
from callroom.views.heat_clock import ClockFace, heat_face, is_unruled
from callroom.views.masthead import published
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import HeatSlot, heat_slot
from callroom.views.work import PartWork, part_work


class SheetView(msgspec.Struct, frozen=True, kw_only=True):
    """One team's attempt at one part: what was reported, what counts, what was decided.

    `touched_seq` is the last entry about it (0: none), `notes` what was noted in the lane while
    it happened.
    """

    ref: SheetRef
    lane: int | None
    team: str
    division: str
    work: PartWork
    sheet: ScoreSheet
    state: LaneState
    touched_seq: int
    notes: tuple[KeptNote, ...]


class LaneScores(msgspec.Struct, frozen=True, kw_only=True):
    """One lane of a heat with its team and a sheet for each part, re-runs last.

    `attempt` is the newest attempt that was granted: the one the desk asks for.
    """

    lane: int
    team: str
    name: str
    division: str
    withdrawn: bool
    attempt: int
    sheets: tuple[SheetView, ...]

    @property
    def open(self) -> bool:
        """Whether something of this lane is still missing."""
        return not self.withdrawn and any(sheet.state == "missing" for sheet in self.sheets)


class HeatScores(msgspec.Struct, frozen=True, kw_only=True):
    """A heat with all its sheets; `basis` names each subject shown, with its last `seq`.

    `clock` is that of its own run; `unruled`: it was stopped and nobody has ruled what counts.
    """

    head: PageHead
    slot: HeatSlot
    floor: str
    lanes: tuple[LaneScores, ...]
    basis: dict[str, int]
    missing: int
    disputed: int
    confirmed: bool
    clock: ClockFace | None
    unruled: bool

    @property
    def parts(self) -> tuple[PartWork, ...]:
        """The parts of the workout, in order."""
        sheets = self.lanes[0].sheets if self.lanes else ()
        return tuple(sheet.work for sheet in sheets if sheet.ref.attempt == 1)


def heat_scores(state: State, heat_id: str) -> HeatScores:
    """Return a heat with all its sheets; NotFound if the plan has no such heat."""
    heat = planned_heat(state, heat_id)
    event, _ = published(state)
    states = [lane.state for lane in lane_states(state, heat)]
    places = sorted(heat.lanes, key=lambda place: place.lane)
    lanes = tuple(
        _lane_scores(state, event, heat, place) for place in places if place.team in state.teams
    )
    basis = {f"heat:{heat.id}": state.subjects.get(f"heat:{heat.id}", 0)}
    for lane in lanes:
        basis |= {f"sheet:{view.ref.key}": view.touched_seq for view in lane.sheets}
    return HeatScores(
        head=page_head(state),
        slot=heat_slot(state, heat),
        floor=event.floor(heat.floor).name,
        lanes=lanes,
        basis=basis,
        missing=states.count("missing"),
        disputed=states.count("two_reports"),
        confirmed=state.heat_run(heat.id).stage == "confirmed",
        clock=heat_face(state, heat),
        unruled=is_unruled(state, heat),
    )


def planned_heat(state: State, heat_id: str) -> Heat:
    """Return a heat of the plan; NotFound if there is none."""
    _, plan = published(state)
    try:
        return plan.heat(heat_id)
    except KeyError:
        raise NotFound("heat.unknown", heat=heat_id) from None


def sheet_view(state: State, ref: SheetRef) -> SheetView:
    """Return one sheet, also one that nobody has touched; NotFound if it cannot exist."""
    event, plan = published(state)
    workouts = {workout.id: workout for workout in event.workouts}
    team = state.teams.get(ref.team)
    workout = workouts.get(ref.workout)
    part = next((part for part in workout.parts if part.id == ref.part), None) if workout else None
    possible = 1 <= ref.attempt <= attempts(state, ref.workout, ref.team)
    if team is None or part is None or not possible:
        raise NotFound("sheet.unknown", workout=ref.workout, part=ref.part, team=ref.team)
    heat = plan.heat_of(ref.workout, ref.team)
    return _sheet_view(state, event, part, ref, heat.lane_of(ref.team) if heat else None)


def _lane_scores(
    state: State,
    event: Event,
    heat: Heat,
    place: LaneTeam,
) -> LaneScores:
    team = state.teams[place.team]
    workout = event.workout(heat.workout)
    newest = attempts(state, workout.id, team.id)
    return LaneScores(
        lane=place.lane,
        team=team.id,
        name=team.name,
        division=event.division(team.division).name,
        withdrawn=team.id in state.team_status,
        attempt=newest,
        sheets=tuple(
            _sheet_view(
                state,
                event,
                part,
                SheetRef(workout=workout.id, part=part.id, team=team.id, attempt=attempt),
                place.lane,
            )
            for attempt in range(1, newest + 1)
            for part in workout.parts
        ),
    )


def _sheet_view(
    state: State, event: Event, part: Part, ref: SheetRef, lane: int | None
) -> SheetView:
    team = state.teams[ref.team]
    division = event.division(team.division)
    key = sheet_key(ref.workout, ref.part, ref.team, ref.attempt)
    sheet = state.sheets.get(key) or ScoreSheet(
        workout=ref.workout, part=ref.part, team=ref.team, attempt=ref.attempt
    )
    return SheetView(
        ref=ref,
        lane=lane,
        team=team.name,
        division=division.name,
        work=part_work(part, division),
        sheet=sheet,
        state=sheet_state(sheet),
        touched_seq=state.subjects.get(f"sheet:{key}", 0),
        notes=state.lane_notes.get(key, ()),
    )
