"""The certificate in words: why no plan of these heats is over earlier."""

import msgspec

from callroom.model.finding import Fact, Finding
from callroom.planner.chains import chains, round_up
from callroom.planner.prices.rules import RULES
from callroom.planner.problem import Problem, Slot


def certificate(problem: Problem, certificate_s: int, finish_s: int) -> tuple[Finding, ...]:
    """Return why nothing finishes before `certificate_s`, and how near `finish_s` comes.

    Parameters
    ----------
    problem
        The day as a question; its links run in no circle.
    certificate_s, finish_s
        The proven bound, and the finish of the plan [s from the day's start].

    Returns
    -------
    tuple of Finding
        First what carries the bound: one floor's work in a row, one chain of work and rest,
        or the way heats fit between the pauses of the floors. Then the plan against it.
    """
    open_day = msgspec.structs.replace(problem, closes_s=None)
    reason = _chain(open_day, certificate_s) or _floors(open_day, certificate_s)
    over_s = finish_s - certificate_s
    if over_s <= 0:
        return reason, RULES.found("certificate.reached", "day", finish_at_s=finish_s)
    above = RULES.found("certificate.above", "day", finish_at_s=finish_s, over_s=over_s)
    return reason, above


def _floors(problem: Problem, certificate_s: int) -> Finding:
    """Return the busiest floor, and whether its heats in a row carry the bound by themselves.

    Otherwise whole heats leave gaps before the pauses, or the floors hold each other up.
    """
    heads = chains(problem).heads
    busiest: tuple[int, dict[str, Fact]] | None = None
    for floor in problem.floors:
        mine = [slot for slot in problem.slots if slot.floors == (floor,)]
        if not mine:
            continue
        work_s = sum(slot.length_s for slot in mine)
        changeovers_s = _changeovers_s(problem, mine)
        from_s = min(head for slot in mine if (head := heads[slot.id]) is not None)
        end_s = _ends_s(problem, floor, from_s, work_s + changeovers_s)
        facts: dict[str, Fact] = {
            "floor": floor,
            "heats": len(mine),
            "work_s": work_s,
            "changeovers_s": changeovers_s,
            "from_at_s": from_s,
            "finish_at_s": certificate_s,
        }
        if busiest is None or end_s > busiest[0]:
            busiest = end_s, facts
    if busiest is None:
        return RULES.found("certificate.choice", "day", finish_at_s=certificate_s)
    end_s, facts = busiest
    carries = "certificate.floor" if end_s >= certificate_s else "certificate.stretches"
    return RULES.found(carries, f"floor.{facts['floor']}", **facts)


def _ends_s(problem: Problem, floor: str, from_s: int, work_s: int) -> int:
    """Return when so much work ends on a floor, cut wherever a pause comes [s].

    A changeover may hide in a pause, so each pause that is passed takes one off.
    """
    left_s = work_s
    end_s = from_s
    for stretch in problem.stretches(floor):
        start_s = max(stretch.start_s, from_s)
        if stretch.end_s is None or start_s + left_s <= stretch.end_s:
            return start_s + left_s
        open_s = max(0, stretch.end_s - start_s)
        left_s -= open_s + (problem.changeover.workout_s if open_s else 0)
        end_s = stretch.end_s
        if left_s <= 0:
            return end_s
    return end_s


def _changeovers_s(problem: Problem, mine: list[Slot]) -> int:
    """Return the least changeover time of some heats in a row, in whole units of the grid [s]."""
    blocks: dict[tuple[str, str], list[Slot]] = {}
    for slot in mine:
        blocks.setdefault((slot.workout, slot.block), []).append(slot)
    workouts = {slot.workout for slot in mine}
    rule, grid_s = problem.changeover, problem.grid_s
    same_s = sum(
        round_up(slot.length_s + rule.same_s, grid_s) - slot.length_s
        for block in blocks.values()
        for slot in block[:-1]
    )
    return (
        same_s
        + (len(blocks) - len(workouts)) * rule.division_s
        + (len(workouts) - 1) * rule.workout_s
    )


def _chain(problem: Problem, certificate_s: int) -> Finding | None:
    """Return the chain of work and rest that is long enough by itself."""
    bounds = chains(problem)
    if bounds.finish_s < certificate_s:
        return None
    table = problem.slot_table()
    ends = {n: h + bounds.run_outs[n] for n, h in bounds.heads.items() if h is not None}
    name = max(ends, key=lambda key: (ends[key], key))
    return RULES.found(
        "certificate.chain",
        f"heat.{name}",
        workout=table[name].workout,
        division=table[name].block,
        finish_at_s=certificate_s,
    )
