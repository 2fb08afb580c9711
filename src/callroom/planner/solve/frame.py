"""The variables of the timetable: a start for each heat, and the seat it takes.

Starts are counted in units of the problem's grid, so that "clean minutes" cost nothing:
every distance between two starts is rounded up to whole units when it is laid down. A
*seat* is one open stretch of one floor; a heat takes exactly one, so no heat can straddle
a break and no interval is needed for the breaks themselves.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from ortools.sat.python import cp_model

from callroom.planner.chains import Chains, chains
from callroom.planner.problem import Problem, Slot


class Seat(NamedTuple):
    """One open stretch of one floor, with the literal that says the heat takes it."""

    floor: str
    stretch: int
    taken: cp_model.IntVar


class Order(NamedTuple):
    """A literal that says the slot `one` comes before the slot `other`."""

    literal: cp_model.IntVar
    one: str
    other: str


@dataclass(frozen=True)
class Frame:
    """A model under construction.

    Attributes
    ----------
    start
        Start of each slot [grid units].
    seats
        The seats open to each slot; exactly one is taken.
    orders
        What decides which of two heats or blocks comes first.
    finish
        When the last heat leaves its floor [s].
    horizon_s
        No later than this does any sensible timetable end [s].
    """

    problem: Problem
    table: Mapping[str, Slot]
    model: cp_model.CpModel
    chains: Chains
    horizon_s: int
    yes: cp_model.IntVar
    finish: cp_model.IntVar
    start: dict[str, cp_model.IntVar] = field(default_factory=dict)
    seats: dict[str, tuple[Seat, ...]] = field(default_factory=dict)
    on_floor: dict[tuple[str, str], cp_model.IntVar] = field(default_factory=dict)
    orders: list[Order] = field(default_factory=list)

    def units(self, seconds: int) -> int:
        """Return seconds in grid units, rounded up."""
        return -(-seconds // self.problem.grid_s)

    def apart(self, before: Slot, after: Slot) -> int:
        """Return the least distance of two starts on one floor [grid units]."""
        if (before.workout, before.block) == (after.workout, after.block):
            return self.units(self.problem.pitch_s(before))
        return self.units(before.length_s + self.problem.changeover_s(before, after))

    def present(self, slot: Slot, floor: str) -> cp_model.IntVar:
        """Return the literal that says the heat is run on that floor."""
        return self.on_floor[slot.id, floor]

    def follow(self, before: str, after: str, units: int, *given: cp_model.LiteralT) -> None:
        """Lay down a least distance of two starts, where all of `given` hold."""
        rule = self.model.add(self.start[after] >= self.start[before] + units)
        conditions = [literal for literal in given if literal is not self.yes]
        if conditions:
            rule.only_enforce_if(conditions)


def build_frame(problem: Problem) -> Frame | None:
    """Make the variables; None if some heat fits nowhere or the links run in a circle."""
    bounds = chains(problem)
    if len(bounds.order) < len(problem.slots) or None in bounds.heads.values():
        return None
    model = cp_model.CpModel()
    horizon_s = _horizon_s(problem)
    frame = Frame(
        problem=problem,
        table=problem.slot_table(),
        model=model,
        chains=bounds,
        horizon_s=horizon_s,
        yes=model.new_constant(1),
        finish=model.new_int_var(min(problem.opens_s, bounds.finish_s), horizon_s, "finish"),
    )
    for slot in problem.slots:
        if not _seat(frame, slot):
            return None
    return frame


def _seat(frame: Frame, slot: Slot) -> bool:
    """Give one slot its start and seats; False if no seat is left for it."""
    problem, model = frame.problem, frame.model
    windows = _windows(frame, slot)
    if not windows:
        return False
    whole = cp_model.Domain.from_intervals([[low, high] for _, _, low, high in windows])
    start = model.new_int_var_from_domain(whole, f"start {slot.id}")
    frame.start[slot.id] = start
    only = len(windows) == 1
    seats: list[Seat] = []
    for floor, stretch, low, high in windows:
        taken = frame.yes if only else model.new_bool_var(f"seat {slot.id} {floor} {stretch}")
        if not only:
            model.add_linear_constraint(start, low, high).only_enforce_if(taken)
        seats.append(Seat(floor, stretch, taken))
    if not only:
        model.add_exactly_one(seat.taken for seat in seats)
    frame.seats[slot.id] = tuple(seats)
    floors = tuple(dict.fromkeys(seat.floor for seat in seats))
    for floor in floors:
        here = [seat.taken for seat in seats if seat.floor == floor]
        frame.on_floor[slot.id, floor] = _any_of(frame, here, alone=len(floors) == 1)
    model.add(frame.finish >= start * problem.grid_s + slot.length_s)
    return True


def _any_of(frame: Frame, seats: list[cp_model.IntVar], *, alone: bool) -> cp_model.IntVar:
    if alone:
        return frame.yes
    if len(seats) == 1:
        return seats[0]
    here = frame.model.new_bool_var("on floor")
    frame.model.add(sum(seats) == here)
    return here


def _windows(frame: Frame, slot: Slot) -> list[tuple[str, int, int, int]]:
    """Return floor, stretch, first and last start [units] of every seat a slot could take."""
    grid_s = frame.problem.grid_s
    head_s = frame.chains.heads[slot.id]
    assert head_s is not None  # noqa: S101 - build_frame has turned those away
    latest_s = frame.horizon_s - frame.chains.run_outs[slot.id]
    found: list[tuple[str, int, int, int]] = []
    for floor in slot.floors:
        for index, stretch in enumerate(frame.problem.stretches(floor)):
            end_s = frame.horizon_s if stretch.end_s is None else stretch.end_s
            low = frame.units(max(stretch.start_s, head_s))
            if slot.closes_s is not None:
                end_s = min(end_s, slot.closes_s)
            high = min(end_s - slot.length_s, latest_s) // grid_s
            if low <= high:
                found.append((floor, index, low, high))
    return found


def _tight_dips(problem: Problem) -> list[int]:
    """Return the ends of all dips in which some heat does not find what it needs [s]."""
    return [
        dip.end_s
        for pool in problem.pools
        for dip in pool.dips
        if any(need.count > pool.limit - dip.count for need in pool.needs)
    ]


def _horizon_s(problem: Problem) -> int:
    """Return an end that some best timetable keeps: everything in a row after the last break."""
    if problem.closes_s is not None:
        return problem.closes_s
    after_s = max(
        (
            problem.opens_s,
            *(pause.end_s for pause in problem.breaks),
            *_tight_dips(problem),
            *(slot.opens_s or 0 for slot in problem.slots),
        )
    )
    # What is needed ahead of a heat may keep the heat before it waiting as well.
    ahead_s = max(
        (max(0, -need.from_s) + need.length_s for pool in problem.pools for need in pool.needs),
        default=0,
    )
    lag_s = dict.fromkeys(problem.slot_table(), problem.changeover.workout_s)
    for link in problem.links + tuple(one for e in problem.eithers for one in (e.one, e.other)):
        lag_s[link.before] = max(lag_s[link.before], link.lag_s)
    row_s = (slot.length_s + lag_s[slot.id] + ahead_s + problem.grid_s for slot in problem.slots)
    return after_s + problem.grid_s + sum(row_s)
