"""The plates: moves against loading by hand, and how far from a bound.

``plates_vs_biggest_first`` is the median over ten days of 10 lanes and 60 heats of our moves
divided by those of taking the biggest plates that fit, heat by heat; ``plates_gap_max`` the
largest share by which our moves are above the Lagrangian bound, in ``plates_s`` seconds at
most; ``plates_missed`` counts loads not reached exactly.
"""

import time
from statistics import median

from callroom.planner.plates import make_loadings
from callroom.planner.plates.grid import Grid, walk_cost
from callroom.planner.plates.lanes import biggest_first
from plate_days import lifting_day


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, two days."""
    ratios, gaps, longest_s, missed = [], [], 0.0, 0
    for seed in range(1, 3 if quick else 11):
        problem = lifting_day(seed)
        grid = Grid(problem)
        by_hand = walk_cost(grid, biggest_first(grid))
        started = time.perf_counter()
        ours = make_loadings(problem)
        longest_s = max(longest_s, time.perf_counter() - started)
        ratios.append(ours.moves / by_hand)
        gaps.append((ours.moves - ours.least_moves) / ours.moves)
        missed += sum(not one.reached for one in ours.loaded)
    return {
        "plates_vs_biggest_first": median(ratios),
        "plates_gap_max": max(gaps),
        "plates_s": longest_s,
        "plates_missed": missed,
    }
