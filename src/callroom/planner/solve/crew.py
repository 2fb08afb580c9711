"""Who works which heat, where hands are scarce; in which lane is matched afterwards.

Shifts that are the same to everybody (one heat, nobody barred from a single lane of it) are
one group, and a variable says whether a person works in it. The count of heats in a row is
carried from each shift of a person to the next that follows without a break.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

import msgspec
from ortools.sat.python import cp_model

from callroom.model.rota import Rota, Shift
from callroom.planner.rota.problem import Hand, RotaProblem, may_hold, weight
from callroom.planner.timetable import Limits

OPEN_COST = 1_000
"""What every minute of an open shift costs, against the minutes of :meth:`comfort`."""
SHORT_COST = 20_000
MINUTE_S = 60


MOST_ROUNDS = 30
ROUND_SHARE = 0.15
"""The share of the limits that one round of the search may use; a search has three times it."""

Values = Mapping[tuple[int, int], bool]
Allowed = Mapping[str, frozenset[str]]


class Group(NamedTuple):
    """Shifts that are the same to everybody, and how many there are."""

    shifts: tuple[Shift, ...]

    @property
    def one(self) -> Shift:
        """Any of them."""
        return self.shifts[0]


class CrewModel:
    """The model of a day: `works` by person and group."""

    def __init__(self, problem: RotaProblem) -> None:
        """Build all hard rules; open shifts are allowed and counted."""
        self.problem = problem
        self.groups = grouped(problem)
        self.model = cp_model.CpModel()
        self.works: dict[tuple[int, int], cp_model.IntVar] = {}
        self.open: list[cp_model.IntVar] = []
        for h, hand in enumerate(problem.hands):
            for g, group in enumerate(self.groups):
                if may_hold(hand, group.one):
                    self.works[h, g] = self.model.new_bool_var("")
        for g, group in enumerate(self.groups):
            missing = self.model.new_int_var(0, len(group.shifts), "")
            self.open.append(missing)
            workers = [self.works[h, g] for h in range(len(problem.hands)) if (h, g) in self.works]
            self.model.add(sum(workers) + missing == len(group.shifts))
        for h, hand in enumerate(problem.hands):
            self._keep_apart(h)
            self._give_breaks(h)
            if hand.most is not None:
                self.model.add(sum(self.shifts_of(h)) <= hand.most)

    def shifts_of(self, h: int) -> list[cp_model.IntVar]:
        """Return whether a person works, group by group."""
        return [works for (hand, _), works in self.works.items() if hand == h]

    def _groups_of(self, h: int) -> list[int]:
        return [g for g in range(len(self.groups)) if (h, g) in self.works]

    def _keep_apart(self, h: int) -> None:
        """Let nobody be in two places, nor walk between floors in no time."""
        mine, move_s = self._groups_of(h), self.problem.move_s
        for one in mine:
            shift = self.groups[one].one
            running = [other for other in mine if _runs_at(self.groups[other].one, shift.start_s)]
            self.model.add_at_most_one(self.works[h, other] for other in running)
            for other in mine:
                gap_s = self.groups[other].one.start_s - shift.end_s
                if 0 <= gap_s < move_s and self.groups[other].one.floor != shift.floor:
                    self.model.add_at_most_one([self.works[h, one], self.works[h, other]])

    def _give_breaks(self, h: int) -> None:
        """Let nobody judge more heats of one floor in a row than the most."""
        most, break_s = self.problem.most_in_a_row, self.problem.break_s
        for window in _without_breaks(self.groups, self._groups_of(h), most + 1, break_s):
            self.model.add(sum(self.works[h, g] for g in window) <= most)

    def forbid_chains(self, values: Values) -> bool:
        """Forbid, to everybody, the rows over several floors that are too long in `values`.

        There are too many such rows to list them all beforehand. Return whether one was met.
        """
        met = False
        for h in range(len(self.problem.hands)):
            for chain in self._long_chains([g for g in self._groups_of(h) if values[h, g]]):
                met = True
                for other in range(len(self.problem.hands)):
                    row = [self.works[other, g] for g in chain if (other, g) in self.works]
                    if len(row) == len(chain):
                        self.model.add(sum(row) <= len(chain) - 1)
        return met

    def _long_chains(self, worked: list[int]) -> Iterator[list[int]]:
        """Yield the shortest stretches of a day, without a break, that judge too much."""
        chain: list[int] = []
        for g in sorted(worked, key=lambda g: self.groups[g].one.start_s):
            gap_s = self.groups[g].one.start_s - self.groups[chain[-1]].one.end_s if chain else 0
            chain = [*chain, g] if gap_s < self.problem.break_s else [g]
            if sum(weight(self.groups[one].one) for one in chain) > self.problem.most_in_a_row:
                yield chain
                chain = [g]

    def coverage(self) -> cp_model.LinearExprT:
        """Return what open shifts, and people short of their least, cost."""
        costs: list[cp_model.LinearExprT] = [
            OPEN_COST * _minutes(group) * missing
            for group, missing in zip(self.groups, self.open, strict=True)
        ]
        for h, hand in enumerate(self.problem.hands):
            if hand.least:
                short = self.model.new_int_var(0, hand.least, "")
                self.model.add(sum(self.shifts_of(h)) + short >= hand.least)
                costs.append(SHORT_COST * short)
        return sum(costs)

    def comfort(self) -> cp_model.LinearExprT:
        """Return what wishes, debts and the longest load cost [minutes]."""
        costs: list[cp_model.LinearExprT] = []
        for (h, g), works in self.works.items():
            wish = _cost(self.problem.hands[h], self.groups[g])
            if wish:
                costs.append(wish * works)
        longest = self.model.new_int_var(0, 10**6, "")
        for h in range(len(self.problem.hands)):
            self.model.add(longest >= sum(self._minutes(h)))
        costs.append(longest)
        costs.extend(self._debts())
        return sum(costs)

    def _minutes(self, h: int) -> list[cp_model.LinearExprT]:
        return [_minutes(self.groups[g]) * self.works[h, g] for g in self._groups_of(h)]

    def _debts(self) -> Iterator[cp_model.LinearExprT]:
        places = {hand.id: h for h, hand in enumerate(self.problem.hands)}
        for debt in self.problem.debts:
            left = self.model.new_int_var(0, debt.heats, "")
            judged = [
                self.works[places[name], g]
                for name in debt.hands
                for g in self._groups_of(places[name])
                if self.groups[g].one.post == "judge"
            ]
            self.model.add(sum(judged) + left >= debt.heats)
            yield MINUTE_S * left

    def held(self, rota: Rota) -> dict[tuple[int, int], bool]:
        """Return, for each variable, whether a rota has the person in the group."""
        holders = {duty.shift: duty.person for duty in rota.duties}
        return {
            (h, g): any(
                holders.get(shift.id) == self.problem.hands[h].id for shift in self.groups[g].shifts
            )
            for h, g in self.works
        }


def who_works(problem: RotaProblem, start: Rota, limits: Limits) -> Allowed:
    """Return, for each shift, the people chosen for its heat.

    The fewest minutes of open shifts and people with fewer shifts than their least first;
    then wishes, debts and the longest load. `start` is a rota to begin from.
    """
    crew = CrewModel(problem)
    chosen: Allowed = {duty.shift: frozenset({duty.person}) for duty in start.duties}
    hints: Values = crew.held(start)
    coverage, comfort = crew.coverage(), crew.comfort()
    for aim in (coverage, comfort):
        found = _settled(crew, aim, hints, limits)
        if found is None:
            return chosen
        hints, value = found
        chosen = _chosen(crew, hints)
        crew.model.add(aim <= value)
    return chosen


def _settled(
    crew: CrewModel, aim: cp_model.LinearExprT, hints: Values, limits: Limits
) -> tuple[Values, int] | None:
    """Make `aim` as small as the limits allow, with no row too long; None: nothing was found."""
    crew.model.minimize(aim)
    found: tuple[Values, int] | None = None
    spent = 0.0
    for _ in range(MOST_ROUNDS):
        crew.model.clear_hints()  # type: ignore[no-untyped-call]
        for key, works in hints.items():
            crew.model.add_hint(crew.works[key], works)
        solver = _solver(limits)
        if solver.solve(crew.model) not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
            return found
        hints = {key: solver.boolean_value(works) for key, works in crew.works.items()}
        found = hints, solver.value(aim)
        wall = 0.0 if limits.wall_s is None else solver.wall_time / limits.wall_s
        spent += max(solver.deterministic_time / limits.work, wall)
        if not crew.forbid_chains(hints) or spent >= 3 * ROUND_SHARE:
            break
    return found


def mend(problem: RotaProblem, before: Rota, from_s: int, limits: Limits) -> Allowed:
    """Return, for each shift, the people chosen for its heat when a rota must change.

    The least time open first, then the fewest people who work where they did not before.
    What starts before `from_s` [s] stays as it was.
    """
    crew = CrewModel(problem)
    held = crew.held(before)
    for (h, g), works in crew.works.items():
        if crew.groups[g].one.start_s < from_s:
            crew.model.add(works == held[h, g])
    moved = [works for key, works in crew.works.items() if not held[key]]
    aim: cp_model.LinearExprT = sum([crew.coverage(), *moved])
    found = _settled(crew, aim, held, limits)
    if found is None:
        return {duty.shift: frozenset({duty.person}) for duty in before.duties}
    return _chosen(crew, found[0])


def grouped(problem: RotaProblem) -> tuple[Group, ...]:
    """Return the shifts in groups from which nobody is barred in part."""
    found: dict[object, list[Shift]] = {}
    barred_from = {
        shift: frozenset(hand.id for hand in problem.hands if shift in hand.barred)
        for hand in problem.hands
        for shift in hand.barred
    }
    for shift in problem.shifts:
        # Who is away or cannot do it anyway does not part a lane from the others.
        barred = frozenset(
            hand.id
            for hand in problem.hands
            if hand.id in barred_from.get(shift.id, ())
            and may_hold(msgspec.structs.replace(hand, barred=frozenset()), shift)
        )
        key = (shift.post, shift.start_s, shift.end_s, shift.floor, shift.heat, barred)
        found.setdefault(key, []).append(shift)
    return tuple(Group(tuple(shifts)) for shifts in found.values())


def _cost(hand: Hand, group: Group) -> int:
    """Return what the cheapest shift of a group costs a hand; lanes are matched later."""
    return min(hand.costs.get(shift.id, 0) for shift in group.shifts)


def _minutes(group: Group) -> int:
    return max((group.one.end_s - group.one.start_s) // MINUTE_S, 1)


def _runs_at(shift: Shift, at_s: int) -> bool:
    return shift.start_s <= at_s < shift.end_s


def _without_breaks(
    groups: tuple[Group, ...], mine: list[int], length: int, break_s: int
) -> Iterator[list[int]]:
    """Yield windows of so many heats of one floor that follow each other without a break."""
    judged = [g for g in mine if weight(groups[g].one)]
    for floor in sorted({groups[g].one.floor for g in judged}):
        moments: dict[tuple[int, int], list[int]] = {}
        for g in judged:
            if groups[g].one.floor == floor:
                moments.setdefault((groups[g].one.start_s, groups[g].one.end_s), []).append(g)
        times = sorted(moments)
        for place in range(len(times) - length + 1):
            window = times[place : place + length]
            if all(after[0] - before[1] < break_s for before, after in pairwise(window)):
                yield [g for moment in window for g in moments[moment]]


def _solver(limits: Limits) -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = limits.workers
    solver.parameters.random_seed = limits.seed
    # The windows of heats in a row bound well as a linear programme, and hardly otherwise.
    solver.parameters.linearization_level = 2
    solver.parameters.max_deterministic_time = limits.work * ROUND_SHARE
    if limits.wall_s is not None:
        solver.parameters.max_time_in_seconds = limits.wall_s * ROUND_SHARE
    return solver


def _chosen(crew: CrewModel, values: Values) -> Allowed:
    chosen: dict[str, frozenset[str]] = {}
    for g, group in enumerate(crew.groups):
        workers = frozenset(
            hand.id for h, hand in enumerate(crew.problem.hands) if values.get((h, g))
        )
        chosen |= {shift.id: workers for shift in group.shifts}
    return chosen
