"""The results of a day by workout, part and division, as a forecast is held against them."""

import msgspec

from callroom.model import Event, Part, Result, ScoreSheet, State

_FINISHED = frozenset({"finished", "confirmed"})


class Recorded(msgspec.Struct, frozen=True, kw_only=True):
    """What the teams of a division did in a part that does not measure a load.

    `values` are times to finish [s] of a part for time, otherwise work [counts] or metres, in
    rising order; `stopped` counts the teams that the cap stopped.
    """

    workout: str
    part: str
    division: str
    values: tuple[int, ...]
    stopped: int


def recorded(state: State) -> tuple[Recorded, ...]:
    """Return what was done so far, by workout, part and division in the event's order.

    Left out are heats still under way, disputed scores, work that was modified or stopped for
    medical reasons, and whoever was granted a re-run: those times are not of the work as it
    was forecast. A time is the one on the clock, less what was credited for time lost.
    """
    event = state.event
    if event is None:
        return ()
    found: dict[tuple[str, str, str], list[Result]] = {}
    for sheet in state.sheets.values():
        team = state.teams.get(sheet.team)
        result = _fair(state, sheet)
        if team is not None and result is not None:
            found.setdefault((sheet.workout, sheet.part, team.division), []).append(result)
    return tuple(
        _recorded(part, workout.id, division.id, found[workout.id, part.id, division.id])
        for workout in event.workouts
        for part in workout.parts
        for division in event.divisions
        if part.kind != "load" and (workout.id, part.id, division.id) in found
    )


def _fair(state: State, sheet: ScoreSheet) -> Result | None:
    result = sheet.counting
    plan = state.plan
    if result is None or sheet.disputed or plan is None or sheet.attempt > 1:
        return None
    heat = plan.heat_of(sheet.workout, sheet.team)
    if heat is None or state.heat_run(heat.id).stage not in _FINISHED:
        return None
    if state.reruns.get(f"{sheet.workout}/{sheet.team}") or state.is_void(sheet.workout):
        return None
    if result.modified or result.medical_stop or result.time_ms is None:
        return None if result.modified or result.medical_stop else result
    credited_ms = sum(1000 * one.seconds for one in sheet.penalties if one.seconds < 0)
    return msgspec.structs.replace(result, time_ms=result.time_ms + credited_ms)


def _recorded(part: Part, workout: str, division: str, results: list[Result]) -> Recorded:
    values = (_value(part, result) for result in results)
    stopped = sum(result.outcome == "capped" for result in results) if part.kind == "time" else 0
    return Recorded(
        workout=workout,
        part=part.id,
        division=division,
        values=tuple(sorted(value for value in values if value is not None and value > 0)),
        stopped=stopped,
    )


def _value(part: Part, result: Result) -> int | None:
    if part.kind == "time":
        finished = result.outcome == "finished" and result.time_ms is not None
        return (result.time_ms or 0) // 1000 if finished else None
    return result.distance_m if part.kind == "distance" else result.work


def nothing_recorded(event: Event, done: tuple[Recorded, ...]) -> tuple[Recorded, ...]:
    """Return, empty, the parts that no team of a division has a result in yet."""
    known = {(one.workout, one.part, one.division) for one in done}
    return tuple(
        Recorded(workout=workout.id, part=part.id, division=division.id, values=(), stopped=0)
        for workout in event.workouts
        for part in workout.parts
        for division in event.divisions
        if part.kind != "load" and (workout.id, part.id, division.id) not in known
    )
