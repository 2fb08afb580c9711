"""What must follow what: the earliest each heat can start, and what its end still owes.

Plain counting along the links, without a solver. It gives bounds that hold for every
timetable, and the first reason when there is none.
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import NamedTuple

from callroom.planner.problem import Problem, Slot, Stretch


class Arc(NamedTuple):
    """`after` starts at least `distance_s` after the *start* of `before` [s]."""

    before: str
    after: str
    distance_s: int


class Chains(NamedTuple):
    """Bounds along the chains of heats.

    Attributes
    ----------
    order
        Slots so that everything comes after what it must follow; shorter than the problem
        if the links run in a circle.
    heads
        Earliest possible start of each slot [s from the day's start]; None: it fits nowhere.
    run_outs
        Least time from the start of a slot to the end of all that must follow it [s].
    """

    order: tuple[str, ...]
    heads: Mapping[str, int | None]
    run_outs: Mapping[str, int]

    @property
    def finish_s(self) -> int:
        """Least finish by the longest chain alone [s from the day's start]."""
        return max(
            (head + self.run_outs[name] for name, head in self.heads.items() if head is not None),
            default=0,
        )


def round_up(value_s: int, grid_s: int) -> int:
    """Return the least multiple of `grid_s` that is not under `value_s`."""
    return -(-value_s // grid_s) * grid_s


def arcs(problem: Problem) -> tuple[Arc, ...]:
    """Return every start-to-start distance that is fixed beforehand.

    The heats of a block run in rank order; where all of them share one possible floor they
    are also kept apart by length and changeover, otherwise they only may not overtake.
    """
    lengths = {slot.id: slot.length_s for slot in problem.slots}
    found = [
        Arc(link.before, link.after, lengths[link.before] + link.lag_s) for link in problem.links
    ]
    for block in problem.blocks():
        for before, after in pairwise(block):
            one_floor = len(set(before.floors) | set(after.floors)) == 1
            apart_s = problem.pitch_s(before) if one_floor else 0
            found.append(Arc(before.id, after.id, round_up(apart_s, problem.grid_s)))
    return tuple(found)


def chains(problem: Problem) -> Chains:
    """Follow the links from both ends of the day; see :class:`Chains`."""
    table = problem.slot_table()
    all_arcs = arcs(problem)
    order = _in_order(tuple(table), all_arcs)
    into: dict[str, list[Arc]] = {name: [] for name in table}
    out: dict[str, list[Arc]] = {name: [] for name in table}
    for arc in all_arcs:
        into[arc.after].append(arc)
        out[arc.before].append(arc)
    open_on = {floor: problem.stretches(floor) for floor in problem.floors}
    heads: dict[str, int | None] = {}
    for name in order:
        ready = [(heads[arc.before], arc.distance_s) for arc in into[name]]
        from_s = max(
            (head + distance for head, distance in ready if head is not None),
            default=problem.opens_s,
        )
        stuck = any(head is None for head, _ in ready)
        heads[name] = None if stuck else _first_fit(table[name], from_s, open_on, problem.grid_s)
    run_outs: dict[str, int] = {}
    for name in reversed(order):
        after = (arc.distance_s + run_outs[arc.after] for arc in out[name])
        run_outs[name] = max((table[name].length_s, *after))
    return Chains(order, heads, run_outs)


def first_fit(slot: Slot, from_s: int, problem: Problem) -> int | None:
    """Return the first start at or after `from_s` at which a heat fits between breaks [s]."""
    open_on = {floor: problem.stretches(floor) for floor in slot.floors}
    return _first_fit(slot, from_s, open_on, problem.grid_s)


def _first_fit(
    slot: Slot, from_s: int, open_on: Mapping[str, tuple[Stretch, ...]], grid_s: int
) -> int | None:
    fits: list[int] = []
    from_s = from_s if slot.opens_s is None else max(from_s, slot.opens_s)
    for floor in slot.floors:
        for stretch in open_on[floor]:
            start_s = round_up(max(from_s, stretch.start_s), grid_s)
            if stretch.end_s is None or start_s + slot.length_s <= stretch.end_s:
                fits.append(start_s)
                break
    first_s = min(fits, default=None)
    if first_s is None or slot.closes_s is None or first_s + slot.length_s <= slot.closes_s:
        return first_s
    return None


def _in_order(names: tuple[str, ...], all_arcs: tuple[Arc, ...]) -> tuple[str, ...]:
    """Return the names with all that must come before first; those on a circle are left out."""
    waiting = dict.fromkeys(names, 0)
    after: dict[str, list[str]] = {name: [] for name in names}
    for arc in all_arcs:
        waiting[arc.after] += 1
        after[arc.before].append(arc.after)
    ready = [name for name in names if not waiting[name]]
    order: list[str] = []
    while ready:
        name = ready.pop()
        order.append(name)
        for later in after[name]:
            waiting[later] -= 1
            if not waiting[later]:
                ready.append(later)
    return tuple(order)
