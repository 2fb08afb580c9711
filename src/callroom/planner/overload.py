"""Why a day cannot be done, where plain counting already says so.

Each reason is a finding with facts; none needs a solver. A day may be impossible for
subtler reasons too, which only a search can tell.
"""

from collections.abc import Iterator

import msgspec

from callroom.model.finding import Finding
from callroom.planner.chains import chains
from callroom.planner.problem import Problem, Slot, Stretch
from callroom.planner.rules import RULES


def circles(problem: Problem) -> tuple[Finding, ...]:
    """Return the reason of a day in which heats must come after each other in a circle."""
    count = len(problem.slots) - len(chains(problem).order)
    return (RULES.found("planner.links_in_a_circle", "day", heats=count),) if count else ()


def overloads(problem: Problem, certificate_s: int) -> tuple[Finding, ...]:
    """Return every plain reason why no timetable can exist; empty if none was found.

    Parameters
    ----------
    problem
        A day whose links run in no circle.
    certificate_s
        A finish that no timetable of it beats [s from the day's start].
    """
    return (
        *_homeless(problem),
        *_crowded(problem),
        *_short_of_judges(problem),
        *_short_of_pools(problem),
        *_hours_missed(problem),
        *_chained(problem),
        *_past_closing(problem, certificate_s),
    )


def _homeless(problem: Problem) -> Iterator[Finding]:
    """Heats that are longer than every open stretch of their floors."""
    seen: set[tuple[str, str]] = set()
    for slot in problem.slots:
        stretches = [one for floor in slot.floors for one in problem.stretches(floor)]
        longest_s = _longest_s(stretches)
        told = (slot.workout, slot.block) in seen
        if longest_s is None or longest_s >= slot.length_s or told:
            continue
        seen.add((slot.workout, slot.block))
        yield RULES.found(
            "planner.heat_fits_nowhere",
            f"heat.{slot.id}",
            workout=slot.workout,
            division=slot.block,
            length_s=slot.length_s,
            longest_open_s=longest_s,
        )


def _crowded(problem: Problem) -> Iterator[Finding]:
    """Floors that must carry more than their open time, heats and least changeovers."""
    for floor in problem.floors:
        mine = [slot for slot in problem.slots if slot.floors == (floor,)]
        stretches = problem.stretches(floor)
        open_s = _open_s(stretches)
        if not mine or open_s is None:
            continue
        # A changeover may hide in a break, so each stretch but one saves one at most.
        hidden_s = max(0, len(stretches) - 1) * problem.changeover.workout_s
        changeovers_s = max(0, _changeovers_s(problem, mine) - hidden_s)
        work_s = sum(slot.length_s for slot in mine) + changeovers_s
        if work_s > open_s:
            yield RULES.found(
                "planner.floor_overloaded",
                f"floor.{floor}",
                floor=floor,
                heats=len(mine),
                work_s=work_s,
                open_s=open_s,
                over_s=work_s - open_s,
            )


def _changeovers_s(problem: Problem, mine: list[Slot]) -> int:
    """Return the least changeover time of some heats in a row [s]."""
    blocks = len({(slot.workout, slot.block) for slot in mine})
    workouts = len({slot.workout for slot in mine})
    rule = problem.changeover
    return (
        (len(mine) - blocks) * rule.same_s
        + (blocks - workouts) * rule.division_s
        + (workouts - 1) * rule.workout_s
    )


def _short_of_judges(problem: Problem) -> Iterator[Finding]:
    """Heats that alone need too many judges, and days that need too many in all."""
    limit = problem.judges_limit
    if limit is None:
        return
    for block in problem.blocks():
        most = max(block, key=lambda slot: slot.judges)
        if most.judges > limit:
            yield RULES.found(
                "planner.judges_short",
                f"heat.{most.id}",
                workout=most.workout,
                division=most.block,
                needed=most.judges,
                limit=limit,
            )
    shared = [pause for pause in problem.breaks if not pause.floors]
    open_s = _open_s(msgspec.structs.replace(problem, breaks=tuple(shared)).stretches("any"))
    work_s = sum(slot.judges * slot.length_s for slot in problem.slots)
    if open_s is not None and work_s > limit * open_s:
        yield RULES.found(
            "planner.judges_overloaded",
            "day",
            limit=limit,
            work_s=work_s,
            open_s=open_s,
            least=-(-work_s // open_s) if open_s else 0,
        )


def _short_of_pools(problem: Problem) -> Iterator[Finding]:
    """Heats that alone need more of a pool than there ever is."""
    table = problem.slot_table()
    for pool in problem.pools:
        most = max(pool.needs, key=lambda need: need.count, default=None)
        if most is not None and most.count > pool.limit:
            yield RULES.found(
                "planner.pool_short",
                f"heat.{most.slot}",
                workout=table[most.slot].workout,
                division=table[most.slot].block,
                pool=pool.id,
                needed=most.count,
                limit=pool.limit,
            )


def _hours_missed(problem: Problem) -> Iterator[Finding]:
    """Heats that cannot be over by the hour they have to be, whatever the floors carry."""
    open_day = msgspec.structs.replace(
        problem,
        closes_s=None,
        slots=tuple(msgspec.structs.replace(slot, closes_s=None) for slot in problem.slots),
    )
    heads = chains(open_day).heads
    for slot in problem.slots:
        head_s = heads[slot.id]
        if slot.closes_s is None or head_s is None or head_s + slot.length_s <= slot.closes_s:
            continue
        yield RULES.found(
            "planner.hours_missed",
            f"heat.{slot.id}",
            workout=slot.workout,
            division=slot.block,
            closes_at_s=slot.closes_s,
            earliest_at_s=head_s + slot.length_s,
        )


def _chained(problem: Problem) -> Iterator[Finding]:
    """The chain of heats with the latest end, if rests alone carry it past closing."""
    closes_s = problem.closes_s
    if closes_s is None:
        return
    bounds = chains(msgspec.structs.replace(problem, closes_s=None))
    late = {
        name: head + bounds.run_outs[name]
        for name, head in bounds.heads.items()
        if head is not None and head + bounds.run_outs[name] > closes_s
    }
    if late:
        name = max(late, key=lambda key: (late[key], key))
        slot = problem.slot_table()[name]
        yield RULES.found(
            "planner.chain_too_long",
            f"heat.{name}",
            workout=slot.workout,
            division=slot.block,
            finish_at_s=late[name],
            closes_at_s=closes_s,
        )


def _open_s(stretches: tuple[Stretch, ...]) -> int | None:
    """Return the open time of some stretches [s]; None if it has no end."""
    ends = [stretch.end_s for stretch in stretches]
    if None in ends:
        return None
    return sum(end - one.start_s for one, end in zip(stretches, ends, strict=True) if end)


def _longest_s(stretches: list[Stretch]) -> int | None:
    """Return the longest of some stretches [s]; None if one has no end."""
    if any(stretch.end_s is None for stretch in stretches):
        return None
    return max((one.end_s - one.start_s for one in stretches if one.end_s is not None), default=0)


def _past_closing(problem: Problem, certificate_s: int) -> Iterator[Finding]:
    """The certificate, if it lies beyond the hour the floors close."""
    if problem.closes_s is not None and certificate_s > problem.closes_s:
        yield RULES.found(
            "planner.nothing_finishes_before",
            "day",
            finish_at_s=certificate_s,
            closes_at_s=problem.closes_s,
            over_s=certificate_s - problem.closes_s,
        )
