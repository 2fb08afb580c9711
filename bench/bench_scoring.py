"""How scoring keeps up with bare array ranking.

`standings_scale_ratio`: from the scores of one division (what counts for every team in every
workout) to places, points and the overall order with the tie chain, against the same places
by NumPy and SciPy from the same scores.

`standings_from_sheets_ratio`: the same, both from the score sheets of a book, so with finding
out what counts; of a book never seen before, with nothing remembered.

`standings_after_report_ratio`: the standings after one more report, with the book before it
known, against bare ranking of the whole book.

The two sides are compared with each other, so the bare one cannot leave anything out.
"""

import gc
import itertools
import random
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from statistics import median
from typing import NamedTuple

import numpy as np
from msgspec.structs import replace
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
from callroom.scoring import (
    DivisionScores,
    Score,
    division_scores,
    division_standings,
    standings_of,
)

Places = NDArray[np.int64]

FULL, QUICK = (10_000, 8), (1_000, 8)
SEED = 20_261_114
CAP_S = 720
ALL_WORK = 400


def figures(*, quick: bool) -> dict[str, float]:
    """Return the ratios of medians over interleaved runs."""
    state = invented_state(*(QUICK if quick else FULL))
    scored = division_scores(state, "all")
    expected = bare_places(scores_of_book(scored))
    assert bare_places(results_of_book(state)) == expected
    standings = standings_of(scored)
    assert {row.team: row.place for row in standings.rows} == expected

    reports = one_by_one(state)
    sides: dict[str, Callable[[], object]] = {
        "scores": lambda: standings_of(scored),
        "bare scores": lambda: bare_places(scores_of_book(scored)),
        "sheets": lambda: division_standings(unknown(state), "all"),
        "report": lambda: division_standings(next(reports), "all"),
        "bare sheets": lambda: bare_places(results_of_book(state)),
    }
    runs: dict[str, list[float]] = {name: [] for name in sides}
    for _ in range(3 if quick else 7):
        for name, work in sides.items():
            runs[name].append(seconds(work))
    took = {name: median(each) for name, each in runs.items()}
    return {
        "standings_scale_ratio": took["scores"] / took["bare scores"],
        "standings_from_sheets_ratio": took["sheets"] / took["bare sheets"],
        "standings_after_report_ratio": took["report"] / took["bare sheets"],
    }


def unknown(state: State) -> State:
    """Return the same book under rules of its own, so that nothing of it is remembered."""
    assert state.event is not None
    return replace(state, event=replace(state.event, rules=replace(state.event.rules)))


def one_by_one(state: State) -> Iterator[State]:
    """Give the book with one report changed after the other, each in another workout."""
    rng = random.Random(SEED)
    for turn in itertools.count():
        name = f"w{turn % len(state.event.workouts) if state.event is not None else 0}"
        key = rng.choice([key for key, each in state.sheets.items() if each.workout == name])
        invent = KINDS[int(name[1:]) % len(KINDS)][1]
        again = sheet(name, state.sheets[key].team, invent(rng), len(state.sheets) + turn)
        state = replace(state, sheets={**state.sheets, key: again})
        yield state


def seconds(work: Callable[[], object]) -> float:
    """Return how long `work` takes [s], whatever was left to collect before it."""
    gc.collect()
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def invented_state(teams: int, workouts: int) -> State:
    """Return a book with one division in which every team has a report in every workout.

    The kinds of workout alternate: for time with a cap and a split, work in a time with a
    split, a load, a distance. One in a thousand did not start, except the lifts.
    """
    rng = random.Random(SEED)
    kinds = [KINDS[index % len(KINDS)] for index in range(workouts)]
    made = [workout(f"w{index}", part) for index, (part, _) in enumerate(kinds)]
    names = [f"T{index:05}" for index in range(teams)]
    sheets: dict[str, ScoreSheet] = {}
    for each, (_, invent) in zip(made, kinds, strict=True):
        for name in rng.sample(names, len(names)):
            absent = each.parts[0].kind != "load" and rng.random() < 0.001
            result = Result(outcome="did_not_start") if absent else invent(rng)
            sheets[sheet_key(each.id, "a", name)] = sheet(each.id, name, result, 1 + len(sheets))
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


NOT_THERE = np.iinfo(np.int64).max


class Book(NamedTuple):
    """The teams, and by workout who has a number there and where it stands."""

    teams: list[str]
    workouts: list[tuple[list[str], "Results"]]


def scores_of_book(scored: DivisionScores) -> Book:
    """Return the scores, workout by workout."""
    teams = [entrant.team for entrant in scored.field]
    return Book(teams, [(teams, part.scores) for part in scored.parts])


def results_of_book(state: State) -> Book:
    """Return the results on the score sheets, workout by workout."""
    by_workout: dict[str, list[ScoreSheet]] = {}
    for each in state.sheets.values():
        by_workout.setdefault(each.workout, []).append(each)
    return Book(
        list(state.teams),
        [
            ([each.team for each in sheets], [each.reports[0].report.result for each in sheets])
            for sheets in by_workout.values()
        ],
    )


def bare_places(book: Book) -> dict[str, int]:
    """Return every team's overall place by array arithmetic alone.

    Knows the invented event by heart: which workout is of which kind, whole seconds, one
    lift, nobody with nought, sum of places, most firsts. One column of whole numbers per
    workout, the lowest best.
    """
    teams = len(book.teams)
    row_of = {name: index for index, name in enumerate(book.teams)}
    keys = np.empty((teams, len(book.workouts)), np.int64)
    for index, (names, results) in enumerate(book.workouts):
        rows = np.fromiter((row_of[name] for name in names), np.int64, len(names))
        keys[rows, index] = COLUMNS[index % len(COLUMNS)](results)
    absent = keys == NOT_THERE
    places = rankdata(keys, method="min", axis=0).astype(np.int64)
    costs = np.where(absent, teams + 1, places)
    best_first = np.sort(np.where(absent, 10**9, places), axis=1)
    chain = (*best_first.T[::-1], costs.sum(axis=1), absent.any(axis=1))
    order = np.lexsort(chain)
    ordered = np.stack(chain)[:, order]
    starts = np.concatenate(([True], (ordered[:, 1:] != ordered[:, :-1]).any(axis=0)))
    found = np.empty(teams, np.int64)
    found[order] = np.maximum.accumulate(np.where(starts, np.arange(1, teams + 1), 0))
    return dict(zip(book.teams, found.tolist(), strict=True))


Results = Sequence[Score] | Sequence[Result]


def timed_column(results: Results) -> Places:
    """Return finishers by seconds, then the capped by work done and split."""
    return np.array(
        [
            each.time_ms // 1000 * 10**9
            if each.time_ms is not None
            else NOT_THERE
            if each.work is None
            else (10**6 - each.work) * 10**9 + (each.tiebreak_ms or 0) // 1000
            for each in results
        ],
        np.int64,
    )


def worked_column(results: Results) -> Places:
    """Return work done, most first, and the split."""
    return np.array(
        [
            NOT_THERE
            if each.work is None
            else (10**6 - each.work) * 10**9 + (each.tiebreak_ms or 0) // 1000
            for each in results
        ],
        np.int64,
    )


def lifted_column(results: Results) -> Places:
    """Return the best good lift [half kilograms], heaviest first."""
    masses = (
        each.masses if isinstance(each, Score) else [lift.mass for lift in each.lifts if lift.good]
        for each in results
    )
    return np.array(
        [-max((int(mass.amount * 2) for mass in lifted), default=0) for lifted in masses],
        np.int64,
    )


def covered_column(results: Results) -> Places:
    """Return metres, most first."""
    return np.array(
        [NOT_THERE if each.distance_m is None else -each.distance_m for each in results], np.int64
    )


COLUMNS = (timed_column, worked_column, lifted_column, covered_column)
