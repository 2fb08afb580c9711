"""The certificate: no timetable of these heats ends earlier, in blocks or interleaved.

A little model that only counts: how many heats of each kind each open stretch carries, and
the time that takes (see ``loads``). It knows no order, so it is solved at once, and its
answer holds for every order.
"""

import math
from itertools import accumulate
from typing import NamedTuple

import msgspec
from ortools.sat.python import cp_model

from callroom.planner.chains import Chains, chains, round_up
from callroom.planner.problem import Problem, Slot, Stretch
from callroom.planner.solve.loads import Portion, load_of

WORK = 2  # deterministic seconds; the largest days seen need a tenth of this


class _Count(NamedTuple):
    """What the counting is about; `kinds` are heats that differ in nothing that counts."""

    problem: Problem
    bounds: Chains
    kinds: tuple[tuple[Slot, ...], ...]
    model: cp_model.CpModel


class _Bin(NamedTuple):
    """A stretch of a floor and the heats counted into it, by kind."""

    floor: str
    stretch: Stretch
    counts: dict[int, cp_model.IntVar]


def certificate_s(problem: Problem) -> int:
    """Return a finish that no timetable of `problem` beats [s from the day's start].

    The hour the floors close is not looked at: the answer may lie beyond it, and is then
    the reason why the day cannot be done. The links must not run in a circle.
    """
    open_day = msgspec.structs.replace(
        problem,
        closes_s=None,
        slots=tuple(msgspec.structs.replace(slot, closes_s=None) for slot in problem.slots),
    )
    count = _Count(open_day, chains(open_day), _kinds(open_day), cp_model.CpModel())
    model, least_s = count.model, count.bounds.finish_s
    finish = model.new_int_var(least_s, least_s + 2**32, "finish")
    bins = [
        _bin(count, floor, stretch)
        for floor in problem.floors
        for stretch in open_day.stretches(floor)
    ]
    for index, kind in enumerate(count.kinds):
        model.add(sum(here.counts[index] for here in bins if index in here.counts) == len(kind))
    for here in bins:
        _bind(count, here, finish)
    _no_earlier_than_ready(count, bins)
    _in_step(count, bins)
    model.minimize(finish)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = WORK
    solver.solve(model)
    return max(least_s, math.ceil(solver.best_objective_bound - 0.001))


def _kinds(problem: Problem) -> tuple[tuple[Slot, ...], ...]:
    """Group the heats that differ in nothing that counts here."""
    alike: dict[tuple[object, ...], list[Slot]] = {}
    for slot in problem.slots:
        kind = slot.workout, slot.block, slot.length_s, slot.floors
        alike.setdefault(kind, []).append(slot)
    return tuple(tuple(slots) for slots in alike.values())


def _bin(count: _Count, floor: str, stretch: Stretch) -> _Bin:
    counts: dict[int, cp_model.IntVar] = {}
    for index, kind in enumerate(count.kinds):
        if floor not in kind[0].floors:
            continue
        able = sum(_reaches(count, slot, stretch) for slot in kind)
        if able:
            counts[index] = count.model.new_int_var(0, able, f"{kind[0].id} {floor}")
    return _Bin(floor, stretch, counts)


def _reaches(count: _Count, slot: Slot, stretch: Stretch) -> bool:
    """Whether a heat can start early enough to be over when the stretch ends."""
    head_s = count.bounds.heads[slot.id]
    if head_s is None:
        return False
    start_s = round_up(max(head_s, stretch.start_s), count.problem.grid_s)
    return stretch.end_s is None or start_s + slot.length_s <= stretch.end_s


def _bind(count: _Count, here: _Bin, finish: cp_model.IntVar) -> None:
    """Keep one stretch within its time, and the finish behind it."""
    if not here.counts:
        return
    model, bounds = count.model, count.bounds
    used = model.new_bool_var("used")
    portions = []
    for index, number in here.counts.items():
        present = model.new_bool_var("present")
        model.add(number <= len(count.kinds[index]) * present)
        model.add_implication(present, used)
        portions.append(Portion(count.kinds[index][0], number, present))
    load = load_of(model, count.problem, portions)
    slots = [slot for index in here.counts for slot in count.kinds[index]]
    heads = [head for slot in slots if (head := bounds.heads[slot.id]) is not None]
    from_s = round_up(max(here.stretch.start_s, min(heads)), count.problem.grid_s)
    if here.stretch.end_s is not None:
        model.add(load.needed <= here.stretch.end_s - from_s + load.spare_s)
    behind_s = min(bounds.run_outs[slot.id] - slot.length_s for slot in slots)
    model.add(finish >= from_s + load.needed - load.spare_s + behind_s).only_enforce_if(used)


def _no_earlier_than_ready(count: _Count, bins: list[_Bin]) -> None:
    """Count no more heats of a kind into the first stretches than can be over by then."""
    ends = sorted({end_s for here in bins if (end_s := here.stretch.end_s) is not None})
    for index, kind in enumerate(count.kinds):
        for until_s in ends:
            early = [
                here.counts[index]
                for here in bins
                if here.stretch.end_s is not None
                and here.stretch.end_s <= until_s
                and index in here.counts
            ]
            ready = sum(
                head + slot.length_s <= until_s
                for slot in kind
                if (head := count.bounds.heads[slot.id]) is not None
            )
            if early and ready < len(kind):
                count.model.add(sum(early) <= ready)


def _in_step(count: _Count, bins: list[_Bin]) -> None:
    """Count no more heats of a kind into the early stretches than those they come after allow.

    The heats of a kind run by rank, so the early ones are its first; each needs those of other
    kinds that are linked to come before it to be early as well.
    """
    ends = sorted({end_s for here in bins if (end_s := here.stretch.end_s) is not None})
    for (one, other), ahead in _needed_ahead(count).items():
        for until_s in ends:
            then = [
                here.counts[other]
                for here in bins
                if here.stretch.end_s is not None
                and here.stretch.end_s <= until_s
                and other in here.counts
            ]
            first = [
                here.counts[one]
                for here in bins
                if here.stretch.start_s < until_s and one in here.counts
            ]
            if then:
                _step(count.model, sum(then), sum(first), ahead)


def _step(
    model: cp_model.CpModel,
    then: cp_model.LinearExprT,
    first: cp_model.LinearExprT,
    ahead: list[int],
) -> None:
    """Lay down that the n-th heat of a kind needs `ahead[n - 1]` heats of another."""
    if ahead == list(range(1, len(ahead) + 1)):
        model.add(then <= first)
        return
    for place, needed in enumerate(ahead):
        if needed and (not place or needed > ahead[place - 1]):
            reached = model.new_bool_var("reached")
            model.add(then <= place + (len(ahead) - place) * reached)
            model.add(first >= needed * reached)


def _needed_ahead(count: _Count) -> dict[tuple[int, int], list[int]]:
    """Return, for kinds one and other, how many of the one each of the other comes after."""
    place: dict[str, tuple[int, int]] = {}
    for index, kind in enumerate(count.kinds):
        row = sorted(kind, key=lambda slot: (slot.rank, slot.id))
        place |= {slot.id: (index, number) for number, slot in enumerate(row, start=1)}
    found: dict[tuple[int, int], list[int]] = {}
    for link in count.problem.links:
        (one, number), (other, then) = place[link.before], place[link.after]
        if one != other and link.lag_s >= 0:
            ahead = found.setdefault((one, other), [0] * len(count.kinds[other]))
            ahead[then - 1] = max(ahead[then - 1], number)
    return {pair: list(accumulate(ahead, max)) for pair, ahead in found.items()}
