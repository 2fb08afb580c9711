"""How scoring keeps up with bare array ranking.

`standings_scale_ratio`: all standings of one division (scores resolved, places, points, the
overall order with the tie chain) against the same places worked out by NumPy and SciPy, both
from the same score sheets. The two are compared, so the baseline cannot leave anything out.
"""

import gc
import random
import time
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from statistics import median

import numpy as np
from numpy.typing import NDArray
from scipy.stats import rankdata  # type: ignore[import-untyped]

from callroom.model import (
    Block,
    Category,
    CategoryCount,
    Division,
    Event,
    Floor,
    KeptReport,
    Lift,
    Mass,
    Part,
    Result,
    ScoreReport,
    ScoreSheet,
    State,
    Task,
    Team,
    TieBreak,
    Workout,
    sheet_key,
)
from callroom.scoring import division_standings

Places = NDArray[np.int64]

FULL, QUICK = (10_000, 8), (1_000, 8)
SEED = 20_261_114
CAP_S = 720
ALL_WORK = 400


def figures(*, quick: bool) -> dict[str, float]:
    """Return the ratio of the medians of interleaved runs."""
    state = invented_state(*(QUICK if quick else FULL))
    expected = bare_places(state)
    rows = division_standings(state, "all").rows
    assert [row.team for row in rows if row.place is None] == []
    assert {row.team: row.place for row in rows} == expected
    ours, bare = [], []
    for _ in range(3 if quick else 7):
        bare.append(seconds(lambda: bare_places(state)))
        ours.append(seconds(lambda: division_standings(state, "all")))
    return {"standings_scale_ratio": median(ours) / median(bare)}


def seconds(work: Callable[[], object]) -> float:
    """Return how long `work` takes [s], whatever was left to collect before it."""
    gc.collect()
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def invented_state(teams: int, workouts: int) -> State:
    """Return a book with one division in which every team has a report in every workout.

    The kinds of workout alternate: for time with a cap and a split, work in a time with a
    split, a load, a distance. One in a thousand did not start.
    """
    rng = random.Random(SEED)
    kinds = [KINDS[index % len(KINDS)] for index in range(workouts)]
    made = [workout(f"w{index}", part) for index, (part, _) in enumerate(kinds)]
    names = [f"T{index:05}" for index in range(teams)]
    sheets: dict[str, ScoreSheet] = {}
    for each, (_, invent) in zip(made, kinds, strict=True):
        for name in rng.sample(names, len(names)):
            absent = rng.random() < 0.001
            result = Result(outcome="did_not_start") if absent else invent(rng)
            sheets[sheet_key(each.id, "a", name)] = sheet(each.id, name, result, len(sheets))
    return State(
        event=event(tuple(made)),
        teams={name: Team(id=name, name=name, division="all") for name in names},
        sheets=sheets,
    )


def timed(rng: random.Random) -> Result:
    """Return a finish, or three times in ten the work done at the cap."""
    split_ms = rng.randrange(90_000, 240_000)
    if rng.random() < 0.3:
        return Result(outcome="capped", work=rng.randrange(1, ALL_WORK), tiebreak_ms=split_ms)
    return Result(
        outcome="finished", time_ms=rng.randrange(300_000, CAP_S * 1000), tiebreak_ms=split_ms
    )


def worked(rng: random.Random) -> Result:
    """Return work done in a time."""
    split_ms = rng.randrange(500_000, 600_000)
    return Result(outcome="worked", work=rng.randrange(1, 300), tiebreak_ms=split_ms)


def lifted(rng: random.Random) -> Result:
    """Return three tries at one lift."""
    tries = [Decimal(rng.randrange(80, 400)) / 2 for _ in range(3)]
    return Result(
        outcome="lifted",
        lifts=tuple(
            Lift(task="lift", mass=Mass(amount=amount), good=rng.random() < 0.8) for amount in tries
        ),
    )


def covered(rng: random.Random) -> Result:
    """Return metres on a machine."""
    return Result(outcome="covered", distance_m=rng.randrange(800, 3000))


KINDS: tuple[tuple[Part, Callable[[random.Random], Result]], ...] = (
    (
        Part(
            id="a",
            kind="time",
            cap_s=CAP_S,
            blocks=(
                Block(id="in", tasks=(Task(id="t1", movement="row", amounts=(100,)),)),
                Block(id="out", tasks=(Task(id="t2", movement="burpee", amounts=(300,)),)),
            ),
            tiebreak=TieBreak(after="in"),
        ),
        timed,
    ),
    (
        Part(
            id="a",
            kind="work",
            cap_s=600,
            blocks=(
                Block(
                    id="b", open_ended=True, tasks=(Task(id="t", movement="swing", amounts=(10,)),)
                ),
            ),
            tiebreak=TieBreak(after="round"),
        ),
        worked,
    ),
    (
        Part(
            id="a",
            kind="load",
            cap_s=600,
            blocks=(Block(id="b", tasks=(Task(id="lift", movement="clean", unit="lift"),)),),
        ),
        lifted,
    ),
    (
        Part(
            id="a",
            kind="distance",
            cap_s=600,
            blocks=(
                Block(
                    id="b",
                    open_ended=True,
                    tasks=(Task(id="row", movement="row", unit="metres"),),
                ),
            ),
        ),
        covered,
    ),
)


def workout(workout_id: str, part: Part) -> Workout:
    """Return a workout of one part."""
    return Workout(id=workout_id, name=workout_id, floor="hall", parts=(part,))


def event(workouts: tuple[Workout, ...]) -> Event:
    """Return an invented event with one division."""
    return Event(
        id="bench",
        name="Bench",
        day=date(2026, 11, 14),
        zone="UTC",
        start_s=0,
        venue="Hall",
        cause="Cause",
        currency="EUR",
        categories=(Category(id="any", name="any"),),
        divisions=(
            Division(id="all", name="All", make_up=(CategoryCount(category="any", count=4),)),
        ),
        floors=(Floor(id="hall", name="Hall", lanes=7),),
        workouts=workouts,
        invented=True,
    )


def sheet(workout_id: str, team: str, result: Result, seq: int) -> ScoreSheet:
    """Return a sheet with one report."""
    report = ScoreReport(
        heat=f"{workout_id}-1",
        workout=workout_id,
        part="a",
        team=team,
        lane=1,
        source="pad",
        result=result,
    )
    kept = KeptReport(seq=seq, at_ms=seq, actor="judge", device="d", report=report)
    return ScoreSheet(workout=workout_id, part="a", team=team, reports=(kept,))


def bare_places(state: State) -> dict[str, int]:
    """Return every team's overall place by array arithmetic alone.

    Knows the invented event by heart: which workout is of which kind, whole seconds, sum of
    places, most firsts. One column of whole numbers per workout, lowest first.
    """
    assert state.event is not None
    names = list(state.teams)
    row_of = {name: index for index, name in enumerate(names)}
    by_workout: dict[str, list[ScoreSheet]] = {each.id: [] for each in state.event.workouts}
    for each in state.sheets.values():
        by_workout[each.workout].append(each)
    columns = []
    for index, sheets in enumerate(by_workout.values()):
        results = [each.reports[0].report.result for each in sheets]
        rows = np.fromiter((row_of[each.team] for each in sheets), np.int64, len(sheets))
        column = np.empty(len(names), np.int64)
        column[rows] = COLUMNS[index % len(COLUMNS)](results)
        columns.append(column)
    keys = np.stack(columns, axis=1)
    absent = keys == np.iinfo(np.int64).max
    places = rankdata(keys, method="min", axis=0).astype(np.int64)
    costs = np.where(absent, len(names) + 1, places)
    below = absent.any(axis=1)
    best_first = np.sort(np.where(absent, 10**9, places), axis=1)
    chain = (*best_first.T[::-1], costs.sum(axis=1), below)
    order = np.lexsort(chain)
    ordered = np.stack(chain)[:, order]
    starts = np.concatenate(([True], (ordered[:, 1:] != ordered[:, :-1]).any(axis=0)))
    found = np.empty(len(names), np.int64)
    found[order] = np.maximum.accumulate(np.where(starts, np.arange(1, len(names) + 1), 0))
    return dict(zip(names, found.tolist(), strict=True))


def _packed(pairs: list[tuple[int, int]]) -> Places:
    both = np.array(pairs, np.int64)
    return both[:, 0] * 10**9 + both[:, 1] // 1000


NOT_THERE = np.iinfo(np.int64).max // 10**9


def timed_column(results: list[Result]) -> Places:
    """Return finishers by seconds, then the capped by work done and split."""
    pairs = [
        (result.time_ms // 1000, 0)
        if result.time_ms is not None
        else (10**6 - result.work, result.tiebreak_ms or 0)
        if result.work is not None
        else (NOT_THERE, 0)
        for result in results
    ]
    return _absent(_packed(pairs))


def worked_column(results: list[Result]) -> Places:
    """Return work done, most first, and the split."""
    pairs = [
        (10**6 - result.work, result.tiebreak_ms or 0)
        if result.work is not None
        else (NOT_THERE, 0)
        for result in results
    ]
    return _absent(_packed(pairs))


def lifted_column(results: list[Result]) -> Places:
    """Return the best good lift, heaviest first."""
    grams = [
        -max((int(lift.mass.amount * 1000) for lift in result.lifts if lift.good), default=0)
        if result.outcome == "lifted"
        else np.iinfo(np.int64).max
        for result in results
    ]
    return np.array(grams, np.int64)


def covered_column(results: list[Result]) -> Places:
    """Return metres, most first."""
    metres = [
        np.iinfo(np.int64).max if result.distance_m is None else -result.distance_m
        for result in results
    ]
    return np.array(metres, np.int64)


def _absent(keys: Places) -> Places:
    return np.where(keys >= NOT_THERE * 10**9, np.iinfo(np.int64).max, keys)


COLUMNS = (timed_column, worked_column, lifted_column, covered_column)
