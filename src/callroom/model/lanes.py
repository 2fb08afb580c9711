"""How far the scores of a heat have come, lane by lane and part by part."""

from typing import Literal

import msgspec

from callroom.model.plan import Heat, LaneTeam
from callroom.model.score import ScoreSheet, sheet_key
from callroom.model.state import State
from callroom.model.workout import Part, Workout

LaneState = Literal["missing", "reported", "two_reports", "confirmed"]


class LanePart(msgspec.Struct, frozen=True, kw_only=True):
    """Whether one lane has a score in one part of one attempt, and whether it is settled."""

    lane: int
    team: str
    part: str
    attempt: int
    label: str
    state: LaneState


def lane_states(state: State, heat: Heat) -> tuple[LanePart, ...]:
    """Return every lane and part of a heat whose team is still in the event, in lane order.

    A re-run belongs to the heat it repeats: its parts follow those of the attempt before. An
    attempt that a re-run replaces is left out while it has no score: none is awaited.
    """
    if state.event is None:
        return ()
    workout = state.event.workout(heat.workout)
    listed = (
        _lane_part(state, workout, part, place, attempt)
        for place in heat.lanes
        if place.team not in state.team_status
        for attempt in range(1, attempts(state, workout.id, place.team) + 1)
        for part in workout.parts
    )
    return tuple(
        lane for lane in listed if lane.state != "missing" or not _replaced(state, workout.id, lane)
    )


def _replaced(state: State, workout: str, lane: LanePart) -> bool:
    """Whether what the attempt brought does not matter: a later one counts in its place."""
    return any(
        rerun.attempt > lane.attempt and rerun.counts == "replaces"
        for rerun in state.reruns.get(f"{workout}/{lane.team}", ())
    )


def attempts(state: State, workout: str, team: str) -> int:
    """Return how many attempts a team has at a workout, re-runs included."""
    return 1 + len(state.reruns.get(f"{workout}/{team}", ()))


def _lane_part(
    state: State, workout: Workout, part: Part, place: LaneTeam, attempt: int
) -> LanePart:
    sheet = state.sheets.get(sheet_key(workout.id, part.id, place.team, attempt))
    lane = str(place.lane) if attempt == 1 else f"{place.lane} #{attempt}"
    return LanePart(
        lane=place.lane,
        team=place.team,
        part=part.id,
        attempt=attempt,
        label=lane if len(workout.parts) == 1 else f"{lane} ({part.name or part.id})",
        state=sheet_state(sheet),
    )


def sheet_state(sheet: ScoreSheet | None) -> LaneState:
    """Return whether a sheet has a score, and whether it is settled; None: nobody touched it."""
    if sheet is None or sheet.counting is None or sheet.counting.outcome == "unknown":
        return "missing"
    if sheet.disputed:
        return "two_reports"
    return "reported" if sheet.confirmed_seq is None else "confirmed"
