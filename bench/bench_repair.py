"""Repairing a running day, on days of 48 and of 120 teams with seeded delays and losses.

``repair_keep_order_ms`` is the slowest of 40 repairs in the order published, from the plan to
the new times (lanes fitted, forward pass), the best of three runs of each. ``repair_whole_ms``
adds the plan, the notices and the independent check. ``repair_reorder_p95_s`` is the 95th
percentile of the search for another order, model building included; ``repair_reorder_pays`` is
the share of the delays in which another order was offered. Every repair passes its check.
"""

import math
import random
import time
from collections.abc import Callable
from functools import partial

from callroom.model import Event, Plan, Team
from callroom.planner import Limits, PlanRequest, plan_day
from callroom.planner.day_now import DayNow, LostLane, Repaired
from callroom.planner.repair import keep_order, repair, repair_reordered, rest_of
from callroom.planner.repair.lanes import fit_lanes
from callroom.planner.repair.to_come import told_by
from callroom.planner.solve import reorder, solve
from planner_days import MINUTE, day_of_48
from tight_days import loose_day

TROUBLES = 20


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, five troubles of each day."""
    keep_s, whole_s, reorder_s, offered = [], [], [], 0
    for event, teams in (day_of_48(floors=2), loose_day(120, 0)):
        plan = plan_day(PlanRequest(event=event, teams=teams, limits=Limits(work=5)), solve).plan
        assert plan is not None
        for seed in range(5 if quick else TROUBLES):
            now = trouble(event, teams, plan, seed)
            keep_s.append(least_s(partial(kept, event, teams, plan, now)))
            whole_s.append(least_s(partial(repair, event, teams, plan, now)))
            assert sound(repair(event, teams, plan, now))
            started = time.perf_counter()
            other = repair_reordered(event, teams, plan, now, reorder=reorder)
            reorder_s.append(time.perf_counter() - started)
            offered += other is not None
            assert other is None or sound(other)
    ranked = sorted(reorder_s)
    return {
        "repair_keep_order_ms": max(keep_s) * 1000,
        "repair_whole_ms": max(whole_s) * 1000,
        "repair_reorder_p95_s": ranked[math.ceil(0.95 * len(ranked)) - 1],
        "repair_reorder_pays": offered / len(reorder_s),
    }


def trouble(event: Event, teams: tuple[Team, ...], plan: Plan, seed: int) -> DayNow:
    """Return a moment of the day at which one floor is late, and sometimes more is wrong."""
    rng = random.Random(seed)
    now_s = rng.randrange(30, plan.finish_s // MINUTE * 2 // 3) * MINUTE
    late_s = rng.randrange(5, 45) * MINUTE
    floor = rng.choice(event.floors).id
    begun = {h.id: h.start_s for h in plan.heats if h.start_s <= now_s}
    return DayNow(
        now_s=now_s,
        begun_s=begun,
        over_s={h.id: h.end_s for h in plan.heats if h.end_s <= now_s},
        ready_s={floor: now_s + late_s},
        withdrawn=tuple(team.id for team in rng.sample(teams, rng.choice((0, 0, 2)))),
        lost_lanes=(LostLane(floor=floor, lane=1),) if rng.random() < 0.25 else (),
    )


def sound(found: Repaired) -> bool:
    """Whether a repair breaks nothing; without a lane a new heat may have few teams."""
    return all(finding.rule == "check.thin_heat" for finding in found.findings)


def kept(event: Event, teams: tuple[Team, ...], plan: Plan, now: DayNow) -> None:
    """Find the new times, from the plan on."""
    keep_order(fit_lanes(event, rest_of(event, teams, plan, now), told_by(plan), now).rest)


def least_s(task: Callable[[], object]) -> float:
    """Return the least time of three runs [s]."""
    taken = []
    for _ in range(3):
        started = time.perf_counter()
        task()
        taken.append(time.perf_counter() - started)
    return min(taken)
