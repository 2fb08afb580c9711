"""Invented scores for a rehearsal: plausible, different for every team, the same for a seed.

They practise the day's course, not its outcome: what is invented here is no forecast.
"""

import random
from decimal import Decimal

from callroom.model import (
    Division,
    Event,
    Heat,
    Lift,
    Mass,
    NoRepCount,
    Part,
    Result,
    ScoreReport,
    Task,
    Team,
)
from callroom.model.steps import tasks_of, total_counts, whole_stretches

# All figures below are invented for practice, in the range that cards of such days show.
_TYPICAL_SHARE_OF_CAP = 0.84
_SPREAD_BETWEEN_TEAMS = 0.12
_SPREAD_WITHIN_TEAM = 0.05
_COUNTS_PER_S = 0.45
_METRES_PER_S = 1.9
_TYPICAL_LIFT_KG = 70
_ABSENT = 0.003
_MOST_NO_REPS = 6


def invent_report(event: Event, heat: Heat, team: Team, part: Part, seed: int) -> ScoreReport:
    """Return an invented pad report of one team's lane in one part.

    The same seed, team, workout and part give the same report, in whatever order they are
    asked for.
    """
    rng = _drawn_from(f"{seed}/{team.id}/{heat.workout}/{part.id}")
    strength = _drawn_from(f"{seed}/{team.id}").gauss(0, _SPREAD_BETWEEN_TEAMS)
    pace = 1 + strength + rng.gauss(0, _SPREAD_WITHIN_TEAM)
    division = event.division(team.division)
    lane = heat.lane_of(team.id)
    result = _result(part, division, max(pace, 0.5), rng)
    judge = f"{seed}/{heat.id}/{lane}/{part.id}"
    absent = result.outcome == "did_not_start"
    return ScoreReport(
        heat=heat.id,
        workout=heat.workout,
        part=part.id,
        team=team.id,
        lane=lane if lane is not None else 0,
        source="pad",
        result=result,
        no_reps=() if absent else _no_reps(part, division, judge),
        signed=True,
    )


def _no_reps(part: Part, division: Division, seed: str) -> tuple[NoRepCount, ...]:
    """Return what the lane's judge did not count, in one task; nothing where nothing is counted."""
    rng = _drawn_from(f"{seed}/no-reps")
    tasks = [task for block in part.blocks for task in tasks_of(block, division)]
    count = rng.randrange(_MOST_NO_REPS + 1)
    if part.kind not in {"time", "work"} or not tasks or not count:
        return ()
    return (NoRepCount(task=rng.choice(tasks).id, count=count),)


def _drawn_from(seed: str) -> random.Random:
    return random.Random(seed)  # noqa: S311 - invented scores are no secrets


def _result(part: Part, division: Division, pace: float, rng: random.Random) -> Result:
    if rng.random() < _ABSENT:
        return Result(outcome="did_not_start")
    if part.kind == "time":
        return _timed(part, division, pace, rng)
    if part.kind == "work":
        work = int(part.cap_s * _COUNTS_PER_S * pace)
        return Result(outcome="worked", work=work, tiebreak_ms=_split(part, pace, rng))
    if part.kind == "distance":
        metres = whole_stretches(part, division, int(part.cap_s * _METRES_PER_S * pace))
        return Result(outcome="covered", distance_m=metres)
    return Result(outcome="lifted", lifts=_lifts(part, pace, rng))


def _timed(part: Part, division: Division, pace: float, rng: random.Random) -> Result:
    cap_ms = part.cap_s * 1000
    time_ms = int(cap_ms * _TYPICAL_SHARE_OF_CAP / pace)
    split_ms = _split(part, pace, rng)
    if time_ms <= cap_ms:
        return Result(outcome="finished", time_ms=time_ms, tiebreak_ms=split_ms)
    everything = total_counts(part, division) or 0
    work = min(everything - 1, everything * cap_ms // time_ms)
    return Result(outcome="capped", work=max(work, 0), tiebreak_ms=split_ms)


def _split(part: Part, pace: float, rng: random.Random) -> int | None:
    if part.tiebreak is None:
        return None
    share = 0.35 + 0.1 * rng.random()
    return min(int(part.cap_s * 1000 * share / pace), part.cap_s * 1000)


def _lifts(part: Part, pace: float, rng: random.Random) -> tuple[Lift, ...]:
    tasks = [task for block in part.blocks for task in block.tasks if task.unit == "lift"]
    return tuple(lift for task in tasks for lift in _tries(task, pace, rng))


def _tries(task: Task, pace: float, rng: random.Random) -> list[Lift]:
    kilograms = Decimal(round(_TYPICAL_LIFT_KG * pace / 5) * 5)
    lifts = []
    for _ in range(task.tries or 3):
        good = rng.random() < 0.75
        lifts.append(Lift(task=task.id, mass=Mass(amount=kilograms), good=good))
        kilograms += Decimal("2.5") if good else 0
    return lifts
