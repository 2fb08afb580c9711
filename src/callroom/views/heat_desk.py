"""Scores as the desk and the head judge see them: lane by lane, what is missing, what differs."""

import msgspec

from callroom.model import (
    Event,
    Heat,
    KeptReport,
    LaneTeam,
    NotFound,
    Part,
    ScoreSheet,
    State,
    sheet_key,
)
from callroom.model.lanes import LanePart, LaneState, lane_states, sheet_state
from callroom.model.score import SheetRef
from callroom.views.masthead import published
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import CREW, HeatSlot, WorkoutTitle, heat_slot, workout_title
from callroom.views.work import PartWork, part_work


class SheetView(msgspec.Struct, frozen=True, kw_only=True):
    """One team's attempt at one part: what was reported, what counts, what was decided.

    `touched_seq` is the last entry about it (0: none).
    """

    ref: SheetRef
    lane: int | None
    team: str
    division: str
    work: PartWork
    sheet: ScoreSheet
    state: LaneState
    touched_seq: int


class LaneScores(msgspec.Struct, frozen=True, kw_only=True):
    """One lane of a heat with its team and a sheet for each part."""

    lane: int
    team: str
    name: str
    division: str
    withdrawn: bool
    sheets: tuple[SheetView, ...]

    @property
    def open(self) -> bool:
        """Whether something of this lane is still missing."""
        return not self.withdrawn and any(sheet.state == "missing" for sheet in self.sheets)


class HeatScores(msgspec.Struct, frozen=True, kw_only=True):
    """A heat with all its sheets; `basis` names each subject shown, with its last `seq`."""

    head: PageHead
    slot: HeatSlot
    floor: str
    lanes: tuple[LaneScores, ...]
    basis: dict[str, int]
    missing: int
    disputed: int
    confirmed: bool

    @property
    def parts(self) -> tuple[PartWork, ...]:
        """The parts of the workout, in order."""
        return tuple(sheet.work for sheet in self.lanes[0].sheets) if self.lanes else ()


class HeatLine(msgspec.Struct, frozen=True, kw_only=True):
    """A heat in a list: how many of its scores are in, missing, in dispute."""

    slot: HeatSlot
    floor: str
    scores: int
    missing: int
    disputed: int


class ScoreList(msgspec.Struct, frozen=True, kw_only=True):
    """Every heat of the day by what its scores still need.

    `to_enter`: began or ended, something missing; `to_settle`: two reports; `to_confirm`:
    complete; `confirmed`; `to_come`: not yet on the floor, and nothing handed in.
    `unplaced` are reports that fit nowhere and count for nothing.
    """

    head: PageHead
    to_enter: tuple[HeatLine, ...]
    to_settle: tuple[HeatLine, ...]
    to_confirm: tuple[HeatLine, ...]
    confirmed: tuple[HeatLine, ...]
    to_come: tuple[HeatLine, ...]
    unplaced: tuple["Unplaced", ...]


class Unplaced(msgspec.Struct, frozen=True, kw_only=True):
    """A report without a place: where it says it belongs, as far as that exists."""

    kept: KeptReport
    workout: WorkoutTitle | None
    team: str
    work: PartWork | None


def score_list(state: State) -> ScoreList:
    """Return every heat by what its scores still need; empty without a plan."""
    lines: dict[str, list[HeatLine]] = {}
    heats = state.plan.heats if state.plan is not None else ()
    for heat in sorted(heats, key=lambda heat: (heat.start_s, heat.id)):
        line = heat_line(state, heat)
        lines.setdefault(_need(line), []).append(line)

    def those(need: str) -> tuple[HeatLine, ...]:
        return tuple(lines.get(need, ()))

    return ScoreList(
        head=page_head(state),
        to_enter=those("enter"),
        to_settle=those("settle"),
        to_confirm=those("confirm"),
        confirmed=those("nothing"),
        to_come=those("wait"),
        unplaced=unplaced(state),
    )


def heat_line(state: State, heat: Heat) -> HeatLine:
    """Return one heat with the count of its scores."""
    event, _ = published(state)
    lanes = lane_states(state, heat)
    return HeatLine(
        slot=heat_slot(state, heat),
        floor=event.floor(heat.floor).name,
        scores=sum(lane.state != "missing" for lane in lanes),
        missing=sum(lane.state == "missing" for lane in lanes),
        disputed=sum(lane.state == "two_reports" for lane in lanes),
    )


def heat_scores(state: State, heat_id: str) -> HeatScores:
    """Return a heat with all its sheets; NotFound if the plan has no such heat."""
    heat = planned_heat(state, heat_id)
    event, _ = published(state)
    states = {(lane.team, lane.part): lane for lane in lane_states(state, heat)}
    places = sorted(heat.lanes, key=lambda place: place.lane)
    lanes = tuple(
        _lane_scores(state, event, heat, place, states)
        for place in places
        if place.team in state.teams
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
        missing=sum(lane.state == "missing" for lane in states.values()),
        disputed=sum(lane.state == "two_reports" for lane in states.values()),
        confirmed=state.heat_run(heat.id).stage == "confirmed",
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
    possible = 1 <= ref.attempt <= attempts(state, ref)
    if team is None or part is None or not possible:
        raise NotFound("sheet.unknown", workout=ref.workout, part=ref.part, team=ref.team)
    heat = plan.heat_of(ref.workout, ref.team)
    return _sheet_view(state, event, part, ref, heat.lane_of(ref.team) if heat else None)


def attempts(state: State, ref: SheetRef) -> int:
    """Return how many attempts a team has at a workout, re-runs included."""
    return 1 + len(state.reruns.get(f"{ref.workout}/{ref.team}", ()))


def unplaced(state: State) -> tuple[Unplaced, ...]:
    """Return the reports that fit nowhere, the oldest first."""
    return tuple(_unplaced(state, kept) for kept in sorted(state.unplaced.values(), key=_seq_of))


def _seq_of(kept: KeptReport) -> int:
    return kept.seq


def _unplaced(state: State, kept: KeptReport) -> Unplaced:
    event, report = state.event, kept.report
    team = state.teams.get(report.team)
    workouts = event.workouts if event is not None else ()
    workout = next((one for one in workouts if one.id == report.workout), None)
    part = next((one for one in workout.parts if one.id == report.part), None) if workout else None
    known = event is not None and workout is not None
    return Unplaced(
        kept=kept,
        workout=workout_title(event, workout, CREW) if known and event and workout else None,
        team=team.name if team is not None else report.team,
        work=part_work(part, event.division(team.division)) if part and team and event else None,
    )


def _need(line: HeatLine) -> str:
    if line.slot.stage == "confirmed":
        return "nothing"
    if line.disputed:
        return "settle"
    if not line.missing:
        return "confirm"
    if line.slot.stage in {"started", "finished"} or line.scores:
        return "enter"
    return "wait"


def _lane_scores(
    state: State,
    event: Event,
    heat: Heat,
    place: LaneTeam,
    states: dict[tuple[str, str], LanePart],
) -> LaneScores:
    team = state.teams[place.team]
    workout = event.workout(heat.workout)
    return LaneScores(
        lane=place.lane,
        team=team.id,
        name=team.name,
        division=event.division(team.division).name,
        withdrawn=team.id in state.team_status,
        sheets=tuple(
            _sheet_view(
                state,
                event,
                part,
                SheetRef(workout=workout.id, part=part.id, team=team.id),
                place.lane,
            )
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
    )
