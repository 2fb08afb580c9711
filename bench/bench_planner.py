"""The planner: days of 48 teams against a hand's plan, and published job shops.

``hand_table_off`` is by how much the by-hand baselines are off the table they reproduce.
``plan_48_proof_s`` is the longest way from the event to an earliest finish that is proven, over
one and two floors, three orders, pure and mixed heats; ``plan_48_s`` that to the whole plan with
all aims and its check, and ``plan_48_unproven`` counts the aims left unproven in them.

Forty random days, on one and on two floors in turn: ``plan_48_true_gap_max`` is the largest gap
between the finish found and what no plan beats even if heats take turns, after 8 seconds. The
ratios to a plan by hand are medians: of finishes (``hand1`` to the minute, ``hand5`` to five),
pure and mixed, and of the longest waits. Every plan made for them is proven to have the earliest
finish or counted in ``plan_48_random_unproven``, so a ratio is as good as it can be. They are in
whole blocks at a constant rhythm, as a director gets them unasked; ``plan_48_turns_vs_hand1_pure``
and ``plan_48_turns_vs_hand5_pure`` are the same with heats that take turns in any minute.
"""

import statistics
import time
import tomllib
from itertools import product
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from callroom.model import Plan
from callroom.model.wishes import OrderRule
from callroom.planner import (
    Limits,
    Link,
    PlanReply,
    PlanRequest,
    Problem,
    Slot,
    check_plan,
    check_timetable,
    compose,
    plan_day,
    pose,
)
from callroom.planner.solve import least_finish, solve
from planner_by_hand import longest_wait_s, plan_by_hand, table_off
from planner_days import MINUTE, Day, day_of_48, random_day

SHOPS = Path(__file__).parent.parent / "tests" / "published" / "data" / "scheduling.toml"
ORDERS: tuple[OrderRule, ...] = ("kept", "neighbours", "reseeded")


def figures(*, quick: bool) -> dict[str, float]:
    """Measure; when quick, on one floor, six random days, without the longest job shop."""
    solve(_job_shop({"machines_by_job": [[0]], "durations_by_job": [[1]]}))  # loads the library
    floors = (1,) if quick else (1, 2)
    return _usual(floors) | _random(6 if quick else 40) | _shops(quick=quick)


def _usual(floors: tuple[int, ...]) -> dict[str, float]:
    proof_s, longest_s, unproven = 0.0, 0.0, 0
    for count, order, mixed in product(floors, ORDERS, (False, True)):
        event, teams = day_of_48(floors=count, order=order, mixed=mixed)
        started = time.perf_counter()
        finish = least_finish(pose(event, compose(event, teams)), Limits(work=30))
        assert finish.aims[-1].proven
        proof_s = max(proof_s, time.perf_counter() - started)
        started = time.perf_counter()
        reply = plan_day(PlanRequest(event=event, teams=teams), solve)
        longest_s = max(longest_s, time.perf_counter() - started)
        unproven += sum(not aim.proven for aim in reply.aims)
        assert reply.status == "solved"
        assert reply.findings == ()
    return {
        "hand_table_off": table_off(),
        "plan_48_proof_s": proof_s,
        "plan_48_s": longest_s,
        "plan_48_unproven": unproven,
    }


def _random(days: int) -> dict[str, float]:
    hand1, hand5, mixed1, waits, gaps, unproven = [], [], [], [], [], 0
    turns1, turns5 = [], []
    for seed in range(days):
        floors = 1 + seed % 2
        pure, mixed = (random_day(48, seed, floors=floors, mixed=on) for on in (False, True))
        ours, ours_mixed = _planned(pure), _planned(mixed)
        unproven += sum(not reply.aims[0].proven for reply in (ours, ours_mixed))
        by_one, by_five = (_by_hand(pure, slot_s=slot_s) for slot_s in (MINUTE, 5 * MINUTE))
        hand1.append(_finish_s(ours) / by_one.finish_s)
        hand5.append(_finish_s(ours) / by_five.finish_s)
        mixed1.append(_finish_s(ours_mixed) / _by_hand(mixed, slot_s=MINUTE).finish_s)
        assert ours.plan is not None
        event, _ = pure
        waits.append(longest_wait_s(event, ours.plan) / longest_wait_s(event, by_five))
        finish_s, bound_s = _in_turns(pure, seconds=8)
        gaps.append(finish_s / bound_s - 1)
        turns1.append(finish_s / by_one.finish_s)
        turns5.append(finish_s / by_five.finish_s)
    return {
        "plan_48_true_gap_max": max(gaps),
        "plan_48_day_vs_hand1_pure": statistics.median(hand1),
        "plan_48_day_vs_hand1_mixed": statistics.median(mixed1),
        "plan_48_day_vs_hand5_pure": statistics.median(hand5),
        "plan_48_turns_vs_hand1_pure": statistics.median(turns1),
        "plan_48_turns_vs_hand5_pure": statistics.median(turns5),
        "plan_48_wait_vs_hand5": statistics.median(waits),
        "plan_48_random_unproven": unproven,
    }


def true_gap(day: Day, *, seconds: int, workers: int = 1) -> float:
    """Return how far the finish found is from what no plan beats, heats taking turns or not."""
    finish_s, bound_s = _in_turns(day, seconds=seconds, workers=workers)
    return finish_s / bound_s - 1


def _in_turns(day: Day, *, seconds: int, workers: int = 1) -> tuple[int, int]:
    """Return the finish found for heats that may take turns, and what none beats [s]."""
    event, teams = day
    problem = replace(pose(event, compose(event, teams)), rhythm=False, shape="heats")
    limits = Limits(work=10 * seconds, wall_s=seconds, workers=workers)
    answer = least_finish(problem, limits)
    assert answer.finish_s is not None
    assert check_timetable(problem, answer) == ()
    bound_s = max(answer.certificate_s, *(a.bound_s for a in answer.aims if a.shape == "heats"), 0)
    return answer.finish_s, bound_s


def _planned(day: Day) -> PlanReply:
    event, teams = day
    return plan_day(PlanRequest(event=event, teams=teams, limits=Limits(work=8)), solve)


def _by_hand(day: Day, *, slot_s: int) -> Plan:
    event, teams = day
    plan = plan_by_hand(event, teams, slot_s=slot_s)
    found = check_plan(event, teams, plan)
    assert all(finding.rule.startswith("check.thin_heat") for finding in found)
    return plan


def _finish_s(reply: PlanReply) -> int:
    assert reply.plan is not None
    # Nothing is broken; that a team waits for hours may be so on a long day with one floor.
    told = [one.rule for one in reply.findings if one.severity != "note"]
    assert set(told) <= {"check.long_wait"}
    return reply.plan.finish_s


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
