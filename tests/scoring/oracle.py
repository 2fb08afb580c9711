"""Which of two results is better, said the slow way, straight from the rules.

It shares nothing with the scoring it is held against: no key, no cutting to whole numbers in
one place, loads as fractions. For the parts of ``invented.WORKOUTS``.
"""

from fractions import Fraction
from typing import Literal

from callroom.model import Part, Penalty, Result, Rules

TOTAL = 40
Better = Literal["one", "other", "neither"]


def better(
    part: Part,
    rules: Rules,
    one: tuple[Result, Penalty | None],
    other: tuple[Result, Penalty | None],
) -> Better:
    """Which of two results that have a place ranks before the other."""
    if one[0].modified != other[0].modified:
        assert rules.modified_work == "below"
        return "other" if one[0].modified else "one"
    left, right = quality(part, *one), quality(part, *other)
    for mine, theirs in zip(left, right, strict=True):
        if mine != theirs:
            return "one" if mine > theirs else "other"
    return split_better(part, one, other)


def quality(part: Part, result: Result, penalty: Penalty | None) -> tuple[Fraction, ...]:
    """What is compared, greater is better: one value after the other."""
    off = Fraction(penalty.counts if penalty else 0)
    added_s = Fraction(penalty.seconds if penalty else 0)
    if part.kind == "load":
        return (sum((heaviest(result, task) for task in ("clean", "jerk")), Fraction(0)),)
    if part.kind == "distance":
        return (max(Fraction(result.distance_m or 0) - off, Fraction(0)),)
    if part.kind == "work":
        return (max(Fraction(result.work or 0) - off, Fraction(0)),)
    finish_s = finished_at(part, result)
    if finish_s is not None:
        time_s = floored(part, finish_s + added_s)
        return (-time_s, Fraction(1)) if as_times(part) else (Fraction(1), -time_s, Fraction(0))
    work = work_at_cap(result) - off
    work = max(work, Fraction(0))
    if as_times(part):
        missing = max(TOTAL - work, Fraction(1))
        return (-floored(part, part.cap_s + missing + added_s), Fraction(0))
    return (Fraction(0), Fraction(0), work)


def split_better(
    part: Part, one: tuple[Result, Penalty | None], other: tuple[Result, Penalty | None]
) -> Better:
    """Which of two equal results has the better split, if one is compared."""
    if part.tiebreak is None or quality_is_nought(part, *one):
        return "neither"
    finishers = part.kind == "time" and finished_at(part, one[0]) is not None
    if finishers and not part.tiebreak.splits_finishers:
        return "neither"
    mine, theirs = (split_of(part, result) for result, _ in (one, other))
    if mine == theirs:
        return "neither"
    if mine is None or (theirs is not None and theirs < mine):
        return "other"
    return "one"


def quality_is_nought(part: Part, result: Result, penalty: Penalty | None) -> bool:
    if part.kind == "time":
        off = penalty.counts if penalty else 0
        return finished_at(part, result) is None and work_at_cap(result) - off <= 0
    return quality(part, result, penalty) == (Fraction(0),)


def finished_at(part: Part, result: Result) -> Fraction | None:
    """The finish [s], if it was one: at the latest on the cap, cut to the resolution."""
    if result.outcome != "finished" or result.time_ms is None:
        return None
    raw_s = Fraction(result.time_ms, 1000)
    return raw_s if floored(part, raw_s) <= part.cap_s else None


def work_at_cap(result: Result) -> Fraction:
    return Fraction(TOTAL if result.work is None else result.work)


def as_times(part: Part) -> bool:
    return part.cap_rule == "second_per_missing"


def split_of(part: Part, result: Result) -> Fraction | None:
    if result.tiebreak_ms is None:
        return None
    return floored(part, Fraction(result.tiebreak_ms, 1000))


def floored(part: Part, time_s: Fraction) -> Fraction:
    step_s = Fraction(part.resolution_ms, 1000)
    return time_s // step_s * step_s


def heaviest(result: Result, task: str) -> Fraction:
    per_unit = {"kg": Fraction(1), "lb": Fraction("0.45359237")}
    return max(
        (
            Fraction(lift.mass.amount) * per_unit[lift.mass.unit]
            for lift in result.lifts
            if lift.good and lift.task == task
        ),
        default=Fraction(0),
    )
