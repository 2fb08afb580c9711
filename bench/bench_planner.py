"""The planner: days of 48 teams against a hand's plan, and published job shops.

``plan_48_s`` is the longest whole plan (building, all aims, check) over one and two floors,
three orders, pure and mixed; ``plan_48_unproven`` counts the aims left unproven in them.
``hand_table_off`` is by how much the baselines are off the table they are to reproduce.
The ratios to a plan by hand are of finishes, pure heats in kept order, the mean of one
and two floors; the hand's plan passes the same check.
"""

import time
import tomllib
from itertools import product
from pathlib import Path
from typing import Any

from callroom.model.wishes import OrderRule
from callroom.planner import (
    Limits,
    Link,
    PlanReply,
    PlanRequest,
    Problem,
    Slot,
    check_plan,
    plan_day,
)
from callroom.planner.solve import solve
from planner_by_hand import plan_by_hand, table_off
from planner_days import MINUTE, day_of_48

SHOPS = Path(__file__).parent.parent / "tests" / "published" / "data" / "scheduling.toml"
ORDERS: tuple[OrderRule, ...] = ("kept", "neighbours", "reseeded")


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, on one floor and without the longest job shop."""
    solve(_job_shop({"machines_by_job": [[0]], "durations_by_job": [[1]]}))  # loads the library
    return _days(floors=(1,) if quick else (1, 2)) | _shops(quick=quick)


def _days(floors: tuple[int, ...]) -> dict[str, float]:
    longest_s, unproven = 0.0, 0
    for count, order, mixed in product(floors, ORDERS, (False, True)):
        event, teams = day_of_48(floors=count, order=order, mixed=mixed)
        started = time.perf_counter()
        reply = plan_day(PlanRequest(event=event, teams=teams), solve)
        longest_s = max(longest_s, time.perf_counter() - started)
        unproven += sum(not aim.proven for aim in reply.aims)
        assert reply.status == "solved"
        assert reply.findings == ()
    return {
        "hand_table_off": table_off(),
        "plan_48_s": longest_s,
        "plan_48_unproven": unproven,
        "plan_48_day_vs_hand1_pure": _against_hand(floors, slot_s=MINUTE),
        "plan_48_day_vs_hand5_pure": _against_hand(floors, slot_s=5 * MINUTE),
    }


def _against_hand(floors: tuple[int, ...], slot_s: int) -> float:
    ratios = []
    for count in floors:
        event, teams = day_of_48(floors=count)
        ours: PlanReply = plan_day(PlanRequest(event=event, teams=teams), solve)
        hand = plan_by_hand(event, teams, slot_s=slot_s)
        assert check_plan(event, teams, hand) == ()
        assert ours.plan is not None
        ratios.append(ours.plan.finish_s / hand.finish_s)
    return sum(ratios) / len(ratios)


def _shops(*, quick: bool) -> dict[str, float]:
    rows = tomllib.loads(SHOPS.read_text(encoding="utf-8"))["job_shop"]
    missed, seconds = 0, {}
    for row in rows:
        if quick and row["name"] == "orb01":
            continue
        started = time.perf_counter()
        answer = solve(_job_shop(row), Limits(work=120))
        seconds[row["name"]] = time.perf_counter() - started
        missed += answer.finish_s != row["optimum"] or not answer.aims[-1].proven
    return {"jobshop_optima_missed": missed, "jobshop_ft10_proof_s": seconds["ft10"]}


def _job_shop(row: dict[str, Any]) -> Problem:
    """Write a job shop as a competition: a job is a division's team, a machine a floor."""
    slots, links = [], []
    for job, machines in enumerate(row["machines_by_job"]):
        for place, machine in enumerate(machines):
            slots.append(
                Slot(
                    id=f"{job}-{place}",
                    workout=f"{job}-{place}",
                    block=str(job),
                    rank=1,
                    floors=(str(machine),),
                    length_s=row["durations_by_job"][job][place],
                )
            )
            if place:
                links.append(Link(before=f"{job}-{place - 1}", after=f"{job}-{place}"))
    floors = sorted({floor for slot in slots for floor in slot.floors})
    return Problem(floors=tuple(floors), slots=tuple(slots), links=tuple(links))
