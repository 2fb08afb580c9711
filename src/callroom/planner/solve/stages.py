"""Aim after aim: each is made as small as it goes, then fixed, and handed on as a hint."""

import math
from typing import Literal, NamedTuple

from ortools.sat.python import cp_model

from callroom.planner.problem import Problem
from callroom.planner.solve.aims import all_starts
from callroom.planner.solve.frame import Frame
from callroom.planner.solve.listed import listed
from callroom.planner.timetable import Aim, AimName, Incumbent, Limits, OnIncumbent, Placed

LIST_WORK, LIST_SHARE, MOST_LISTS = 3e-6, 0.3, 600
"""What one list counts for, by the square of its heats [s], their share of the work, the most."""
Outcome = Literal["reached", "infeasible", "undecided"]


class Search:
    """Who is told, and the work that is left of the limits [deterministic, wall seconds]."""

    def __init__(self, limits: Limits, tell: OnIncumbent) -> None:
        """Start with all of it."""
        self.tell = tell
        self._limits = limits
        self._work = float(limits.work)
        self._wall_s = None if limits.wall_s is None else float(limits.wall_s)

    def listed(self, problem: Problem, least_s: int) -> "Step | None":
        """Return a first timetable by lists where much is shared, and take off what it took.

        A list counts as a fixed piece of work, so that the answer is repeatable.
        """
        shared = problem.pools or problem.judges_limit is not None
        if not shared or len(problem.floors) < 2:
            return None
        each = LIST_WORK * len(problem.slots) ** 2
        able = self._work if self._wall_s is None else min(self._work, self._wall_s)
        rounds = int(min(able * LIST_SHARE / each, MOST_LISTS))
        placed = listed(problem, rounds, self._limits.seed)
        self._work = max(self._work - rounds * each, 0.0)
        if self._wall_s is not None:
            self._wall_s = max(self._wall_s - rounds * each, 0.0)
        if not placed:
            return None
        length_s = {slot.id: slot.length_s for slot in problem.slots}
        value_s = max(place.start_s + length_s[place.slot] for place in placed)
        aim = Aim(
            name="finish", shape=problem.shape, value_s=value_s, bound_s=min(value_s, least_s)
        )
        return Step("reached", placed, aim)

    def solver(self, share: float) -> cp_model.CpSolver:
        """Return a solver that may use a share of what is left."""
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = self._limits.workers
        solver.parameters.random_seed = self._limits.seed
        solver.parameters.max_deterministic_time = max(self._work * share, 0.001)
        if self._wall_s is not None:
            solver.parameters.max_time_in_seconds = max(self._wall_s * share, 0.001)
        return solver

    def pay(self, solver: cp_model.CpSolver) -> None:
        """Take off what a solver has used."""
        self._work = max(self._work - solver.deterministic_time, 0.0)
        if self._wall_s is not None:
            self._wall_s = max(self._wall_s - solver.wall_time, 0.0)


class Step(NamedTuple):
    """What pursuing one aim came to; `placed` is empty unless a timetable was found."""

    outcome: Outcome
    placed: tuple[Placed, ...] = ()
    aim: Aim | None = None


class _Telling(cp_model.CpSolverSolutionCallback):
    """Tells the caller of each better timetable while the solver runs."""

    def __init__(
        self, frame: Frame, name: AimName, target: cp_model.IntVar, tell: OnIncumbent
    ) -> None:
        super().__init__()
        self._frame, self._name, self._target, self._tell = frame, name, target, tell
        self.last_s: int | None = None

    def on_solution_callback(self) -> None:
        """Pass on the timetable just found."""
        value_s = self.value(self._target)
        if value_s == self.last_s:
            return
        self.last_s = value_s
        bound_s = min(value_s, _whole(self.best_objective_bound))
        self._tell(_incumbent(self._frame, self._name, value_s, bound_s, self))


def pursue(
    frame: Frame,
    name: AimName,
    target: cp_model.IntVar,
    search: Search,
    share: float,
    *,
    quick: bool = False,
) -> Step:
    """Make `target` as small as a share of the search allows, and keep it there from now on.

    `quick` where nothing hangs on which of equal timetables is found: without a relaxation an
    order is proven ten times as fast, but the aims that follow get on better with one.
    """
    frame.model.minimize(target)
    solver = search.solver(share)
    if quick:
        relax_less(solver, frame.problem)
    telling = _Telling(frame, name, target, search.tell)
    status = solver.solve(frame.model, telling)
    search.pay(solver)
    if status == cp_model.INFEASIBLE:
        return Step("infeasible")
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return Step("undecided")
    value_s = solver.value(target)
    bound_s = min(value_s, _whole(solver.best_objective_bound))
    if value_s != telling.last_s:
        # Presolve alone may settle a model, and then no callback is made.
        search.tell(_incumbent(frame, name, value_s, bound_s, solver))
    placed = placed_by(frame, solver)
    frame.model.add(target <= value_s)
    hint(frame, placed)
    aim = Aim(name=name, shape=frame.problem.shape, value_s=value_s, bound_s=bound_s)
    return Step("reached", placed, aim)


def relax_less(solver: cp_model.CpSolver, problem: Problem) -> None:
    """Spare the linear relaxation where only an order is sought: it tells nothing and takes long.

    Where something is shared it helps.
    """
    if not problem.pools and problem.judges_limit is None:
        solver.parameters.linearization_level = 0


def settle(frame: Frame, placed: tuple[Placed, ...], search: Search) -> tuple[Placed, ...]:
    """Pull every heat as early as it goes without changing floors or what follows what."""
    starts = {place.slot: place.start_s for place in placed}
    for order in frame.orders:
        frame.model.add(order.literal == (starts[order.one] < starts[order.other]))
    for place in placed:
        frame.model.add(frame.on_floor[place.slot, place.floor] == 1)
    frame.model.minimize(all_starts(frame))
    solver = search.solver(1.0)
    status = solver.solve(frame.model)
    search.pay(solver)
    found = status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
    return placed_by(frame, solver) if found else placed


def hint(frame: Frame, placed: tuple[Placed, ...]) -> None:
    """Lead the next search to a timetable that is known to do."""
    frame.model.clear_hints()  # type: ignore[no-untyped-call]
    starts = {place.slot: place.start_s for place in placed}
    for place in placed:
        frame.model.add_hint(frame.start[place.slot], place.start_s // frame.problem.grid_s)
        for seat in frame.seats[place.slot]:
            if seat.taken is not frame.yes:
                stretch = frame.problem.stretches(seat.floor)[seat.stretch]
                inside = stretch.start_s <= place.start_s and (
                    stretch.end_s is None or place.start_s < stretch.end_s
                )
                frame.model.add_hint(seat.taken, seat.floor == place.floor and inside)
    for order in frame.orders:
        frame.model.add_hint(order.literal, starts[order.one] < starts[order.other])


def placed_by(
    frame: Frame, values: cp_model.CpSolver | cp_model.CpSolverSolutionCallback
) -> tuple[Placed, ...]:
    """Read a timetable off the solver, in order of time."""
    places = []
    for slot in frame.problem.slots:
        floor = next(
            seat.floor for seat in frame.seats[slot.id] if values.boolean_value(seat.taken)
        )
        start_s = values.value(frame.start[slot.id]) * frame.problem.grid_s
        places.append(Placed(slot=slot.id, floor=floor, start_s=start_s))
    return tuple(sorted(places, key=lambda place: (place.start_s, place.floor, place.slot)))


def finish_of(frame: Frame, placed: tuple[Placed, ...]) -> int:
    """Return when the last heat leaves its floor [s]."""
    return max(place.start_s + frame.table[place.slot].length_s for place in placed)


def _incumbent(
    frame: Frame,
    name: AimName,
    value_s: int,
    bound_s: int,
    values: cp_model.CpSolver | cp_model.CpSolverSolutionCallback,
) -> Incumbent:
    placed = placed_by(frame, values)
    return Incumbent(
        aim=name,
        value_s=value_s,
        bound_s=bound_s,
        finish_s=finish_of(frame, placed),
        placed=placed,
    )


def _whole(bound: float) -> int:
    """Return a bound on a whole number as the whole number it stands for."""
    return math.ceil(bound - 0.001)
