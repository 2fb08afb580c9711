"""The loading of a whole day: every load exactly where it can be, with few moves."""

from collections.abc import Sequence

import numpy as np

from callroom.planner.plates.fitting import Possible
from callroom.planner.plates.grid import Grid, Whole, used, walk_cost
from callroom.planner.plates.lanes import begin, better
from callroom.planner.plates.nearest import nearest
from callroom.planner.plates.prices import close, find_prices
from callroom.planner.plates.problem import (
    Loaded,
    Loadings,
    PlateProblem,
    scale_of,
    wants_by_spot,
)
from callroom.planner.plates.states import NO_BAR, State, Ways, moves

ROUNDS = 240
PHASES = 4
"""Prices and loadings are sought in turns: a better loading makes for better prices."""


def make_loadings(problem: PlateProblem, rounds: int = ROUNDS) -> Loadings:
    """Return what is on every bar in every step.

    As many loads as can be found are reached exactly; then the moves are few. Where one is
    not reached, the nearest that the plates left over allow is loaded instead.

    Parameters
    ----------
    problem
        The day of one floor.
    rounds
        How long the prices of scarce plates are sought; more is slower and nearer to the best.
    """
    if not problem.places or not problem.steps:
        return Loadings(loaded=(), moves=0, least_moves=0)
    grid = Grid(problem)
    possible = Possible(grid)
    chosen, prices = begin(grid, possible), None
    for _ in range(PHASES):
        known = walk_cost(grid, chosen)
        prices, walks = find_prices(grid, known, rounds // PHASES, prices)
        chosen = better(grid, possible, chosen, prices, walks)
        if close(walk_cost(grid, chosen), prices.least_moves):
            break
    table, missed = _table(grid, chosen)
    proven = not missed and grid.ways.all_seen
    return Loadings(
        loaded=_loaded(problem, grid.ways, table, missed),
        moves=moves_of(table, grid.ways),
        least_moves=max(prices.least_moves, 0) if proven and prices else 0,
    )


def _table(grid: Grid, chosen: Whole) -> tuple[list[list[State]], set[tuple[int, int]]]:
    """Return the state of each place in each step, and where the load is not reached."""
    wanted = wants_by_spot(grid.problem)
    scale = scale_of(grid.problem)
    in_use = used(grid, chosen)
    table: list[list[State]] = []
    missed: set[tuple[int, int]] = set()
    for step in range(grid.problem.steps):
        row = [grid.states[step][lane][k] for lane, k in enumerate(chosen[step])]
        left = grid.stock - in_use[step]
        for lane, place in enumerate(grid.problem.places):
            want = wanted.get((place, step))
            if want is None or row[lane].bar != NO_BAR:
                continue
            missed.add((lane, step))
            loads = [int(load.grams() * scale) for load in want.loads]
            instead = nearest(grid.ways, left.tolist(), loads, want.bar) if loads else None
            if instead is not None:
                row[lane] = instead
                left = left - need_of(instead, len(left))
        table.append(row)
    return table, missed


def need_of(state: State, kinds: int) -> Whole:
    """Return the pairs and bars that a state holds, shape ``(D,)``."""
    need = np.zeros(kinds, dtype=np.int64)
    need[: len(state.counts)] = state.counts
    if state.bar != NO_BAR:
        need[len(state.counts) + state.bar] = 1
    return need


def _loaded(
    problem: PlateProblem,
    ways: Ways,
    table: list[list[State]],
    missed: set[tuple[int, int]],
) -> tuple[Loaded, ...]:
    masses = [mass for mass, _ in ways.stock.pairs]
    return tuple(
        Loaded(
            place=place,
            step=step,
            bar=None if state.bar == NO_BAR else ways.stock.bars[state.bar][0],
            sleeve=tuple(
                mass for mass, count in zip(masses, state.counts, strict=True) for _ in range(count)
            ),
            reached=(lane, step) not in missed,
        )
        for step, row in enumerate(table)
        for lane, (place, state) in enumerate(zip(problem.places, row, strict=True))
    )


def moves_of(table: Sequence[Sequence[State]], ways: Ways) -> int:
    """Return the moves of a day, from no bars at all; `table` by step and place."""
    before: Sequence[State] = [ways.none] * len(table[0])
    total = 0
    for row in table:
        total += sum(moves(one, other) for one, other in zip(before, row, strict=True))
        before = row
    return total
