"""What is odd about a score: for the desk to look at. Nothing odd is ever refused."""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

import msgspec

from callroom.model import (
    Division,
    Fact,
    Finding,
    KitItem,
    Mass,
    NotFound,
    Part,
    Result,
    ScoreSheet,
    State,
)
from callroom.model.steps import doers, tasks_of, total_counts, whole_stretches
from callroom.scoring.catalogue import RULES
from callroom.scoring.part_reasons import load_text

FITTING = {
    "time": {"finished", "capped"},
    "work": {"worked"},
    "load": {"lifted"},
    "distance": {"covered"},
}
"""The outcomes that each kind of part has, besides having no result."""

ABSENT = {"did_not_start", "withdrew"}


class Lane(msgspec.Struct, frozen=True):
    """Whose score is looked at: a team of a division in a part of a workout."""

    workout: str
    part: Part
    division: Division
    team: str

    def found(self, rule: str, /, **facts: Fact) -> Finding:
        """Return what `rule` finds odd about this lane's score."""
        subject = f"score.{self.workout}.{self.part.id}.{self.team}"
        return RULES.found(
            rule, subject, workout=self.workout, part=self.part.id, team=self.team, **facts
        )


def odd_result(lane: Lane, result: Result, kit: Sequence[KitItem] = ()) -> tuple[Finding, ...]:
    """Return what is odd about one result, as entered or reported.

    Parameters
    ----------
    kit
        The kit list, for the smallest step of a lift: twice the smallest plate.
    """
    return tuple(_result(lane, result, kit))


def odd_scores(state: State) -> tuple[Finding, ...]:
    """Return what is odd about the scores that count now, in the order of their sheets.

    Raises
    ------
    NotFound
        If the book has no event.
    """
    if state.event is None:
        raise NotFound("book.no_event")
    parts = {
        (workout.id, part.id): part for workout in state.event.workouts for part in workout.parts
    }
    divisions = {division.id: division for division in state.event.divisions}
    found: list[Finding] = []
    for sheet in state.sheets.values():
        team = state.teams.get(sheet.team)
        part = parts.get((sheet.workout, sheet.part))
        division = divisions.get(team.division) if team else None
        if part is None or division is None or sheet.counting is None:
            continue
        lane = Lane(sheet.workout, part, division, sheet.team)
        found += _result(lane, sheet.counting, state.kit)
        found += _penalties(lane, sheet, sheet.counting)
    return tuple(found)


def _result(lane: Lane, result: Result, kit: Sequence[KitItem]) -> Iterator[Finding]:
    if result.outcome in ABSENT:
        if result.medical_stop:
            yield lane.found("score.stop_without_work")
        return
    if result.outcome == "unknown":
        return
    if result.outcome not in FITTING[lane.part.kind]:
        yield lane.found("score.kind_does_not_fit", outcome=result.outcome, kind=lane.part.kind)
    for field in ("time_ms", "work", "distance_m", "tiebreak_ms"):
        number = getattr(result, field)
        if number is not None and number < 0:
            yield lane.found("score.number_negative", field=field, number=number)
    yield from _numbers(lane, result)
    yield from _lifts(lane, result, kit)
    yield from _split(lane, result)


def _numbers(lane: Lane, result: Result) -> Iterator[Finding]:
    part, total = lane.part, total_counts(lane.part, lane.division)
    field = _needed(part, result, total)
    if field and getattr(result, field) is None:
        yield lane.found("score.number_missing", field=field)
    if result.outcome == "finished" and _past_cap(part, result.time_ms):
        yield lane.found("score.time_past_cap", time_ms=result.time_ms, cap_s=part.cap_s)
    if total is not None and result.work is not None:
        if result.work > total:
            yield lane.found("score.more_than_possible", work=result.work, total=total)
        elif result.work == total and result.outcome == "capped":
            yield lane.found("score.all_done_but_capped", total=total)
    if result.distance_m is not None and part.kind == "distance":
        counts_m = whole_stretches(part, lane.division, result.distance_m)
        if counts_m != result.distance_m >= 0:
            yield lane.found(
                "score.stretch_not_complete", distance_m=result.distance_m, counts_m=counts_m
            )
    if _nought(result):
        yield lane.found("score.nought")


def _needed(part: Part, result: Result, total: int | None) -> str:
    """Return the field without which there is no result."""
    if part.kind == "load":
        return ""
    if part.kind == "distance":
        return "distance_m"
    if result.outcome == "finished":
        return "time_ms" if part.kind == "time" else "work" if total is None else ""
    return "work"


def _nought(result: Result) -> bool:
    if result.outcome == "lifted":
        return not any(lift.good for lift in result.lifts)
    measured = result.distance_m if result.outcome == "covered" else result.work
    return result.outcome != "finished" and measured == 0


def _past_cap(part: Part, time_ms: int | None) -> bool:
    return time_ms is not None and time_ms - time_ms % part.resolution_ms > part.cap_s * 1000


def _lifts(lane: Lane, result: Result, kit: Sequence[KitItem]) -> Iterator[Finding]:
    tasks = {
        task.id: task
        for block in lane.part.blocks
        for task in tasks_of(block, lane.division)
        if task.unit == "lift"
    }
    for task_id, given in Counter(lift.task for lift in result.lifts).items():
        task = tasks.get(task_id)
        if task is None:
            yield lane.found("score.lift_unknown", task=task_id)
            continue
        tries = task.tries * (doers(task, lane.division) if task.sharing == "each" else 1)
        if 0 < tries < given:
            yield lane.found("score.lifts_over_tries", task=task_id, given=given, tries=tries)
    for lift in result.lifts:
        step = _step_missed(lift.mass, kit)
        if step is not None:
            yield lane.found(
                "score.lift_off_step",
                task=lift.task,
                load=load_text([lift.mass]),
                step=load_text([step]),
            )


def _step_missed(mass: Mass, kit: Sequence[KitItem]) -> Mass | None:
    """Return the smallest step of the plates if no bar can be loaded to `mass` by it.

    What is lifted whole (a dumbbell, a bag) is as heavy as the kit list says.
    """
    plates = [item.mass.amount for item in kit if _of(item, "plate", mass) and item.mass]
    if not plates or any(item.mass == mass for item in kit if item.kind not in {"bar", "plate"}):
        return None
    step = 2 * min(plates)
    bars = [item.mass.amount for item in kit if _of(item, "bar", mass) and item.mass]
    fits = any(
        mass.amount >= bar and not (mass.amount - bar) % step for bar in bars or [Decimal(0)]
    )
    return None if fits else Mass(amount=step, unit=mass.unit)


def _of(item: KitItem, kind: str, mass: Mass) -> bool:
    return (
        item.kind == kind
        and item.mass is not None
        and item.mass.unit == mass.unit
        and item.mass.amount > 0
    )


def _split(lane: Lane, result: Result) -> Iterator[Finding]:
    split_ms, part = result.tiebreak_ms, lane.part
    if part.tiebreak is None:
        if split_ms is not None:
            yield lane.found("score.split_without_rule", split_ms=split_ms)
        return
    if split_ms is None:
        compared = result.outcome != "finished" or part.tiebreak.splits_finishers
        if compared and not _nought(result):
            yield lane.found("score.split_missing")
        return
    if _nought(result):
        yield lane.found("score.split_with_nought", split_ms=split_ms)
    if result.outcome == "finished" and result.time_ms is not None and split_ms > result.time_ms:
        yield lane.found("score.split_after_finish", split_ms=split_ms, time_ms=result.time_ms)
    elif _past_cap(part, split_ms):
        yield lane.found("score.split_past_cap", split_ms=split_ms, cap_s=part.cap_s)


def _penalties(lane: Lane, sheet: ScoreSheet, result: Result) -> Iterator[Finding]:
    """Find penalties that change nothing: seconds where no time counts, counts of a finisher."""
    part = lane.part
    timed = part.kind == "time" and (
        result.outcome == "finished" or part.cap_rule == "second_per_missing"
    )
    counted = part.kind in {"work", "distance"} or (
        part.kind == "time" and result.outcome != "finished"
    )
    for penalty in sheet.penalties:
        if penalty.seconds and not timed:
            yield lane.found(
                "score.penalty_without_effect", field="seconds", number=penalty.seconds
            )
        if penalty.counts and not counted:
            yield lane.found("score.penalty_without_effect", field="counts", number=penalty.counts)
