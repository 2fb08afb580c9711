"""The rota: how long it takes, what stays open, how even it is.

``rota_uncovered`` counts open shifts over all sizes, with 2.5 people for every judge at work
at once; ``rota_load_sd_min`` is the worst standard deviation of the minutes on duty, over
everybody, those included who are there for half a day. ``rota_crew_open`` is what a crew of
24 for 16 lanes leaves open after a search, and ``rota_crew_open_matched`` without it.
"""

import time
from statistics import pstdev

from callroom.model import Rota
from callroom.planner import Limits
from callroom.planner.rota import RotaProblem, make_rota
from callroom.planner.solve.crew import who_works
from rota_days import MINUTE, judging_day

SIZES = {20: (1, 8), 60: (2, 12), 150: (3, 20), 400: (4, 40)}
SEEDS = (1, 2, 3)


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, one day of each size and no search."""
    worst_s: dict[int, float] = {}
    uncovered, worst_sd_min = 0, 0.0
    for people, (floors, lanes) in SIZES.items():
        for seed in SEEDS[:1] if quick else SEEDS:
            problem = judging_day(people=people, floors=floors, lanes=lanes, seed=seed)
            started = time.perf_counter()
            rota = make_rota(problem)
            elapsed_s = time.perf_counter() - started
            worst_s[people] = max(worst_s.get(people, 0.0), elapsed_s)
            uncovered += len(rota.open_shifts())
            worst_sd_min = max(worst_sd_min, _spread_min(problem, rota))
    return {
        "rota_60_s": worst_s[60],
        "rota_400_s": worst_s[400],
        "rota_uncovered": uncovered,
        "rota_load_sd_min": worst_sd_min,
        **({} if quick else _scarce()),
    }


def _scarce() -> dict[str, float]:
    problem = judging_day(people=24, floors=2, lanes=8, seed=1)
    started = time.perf_counter()
    searched = make_rota(problem, who_works, Limits(work=6, wall_s=20))
    return {
        "rota_crew_s": time.perf_counter() - started,
        "rota_crew_open": len(searched.open_shifts()),
        "rota_crew_open_matched": len(make_rota(problem).open_shifts()),
    }


def _spread_min(problem: RotaProblem, rota: Rota) -> float:
    length_s = {shift.id: shift.end_s - shift.start_s for shift in rota.shifts}
    load_s = dict.fromkeys((hand.id for hand in problem.hands), 0)
    for duty in rota.duties:
        load_s[duty.person] += length_s[duty.shift]
    return pstdev(load_s.values()) / MINUTE
