"""The heats to come in a better order: a small job shop with due times.

Each heat has a published start; moving it costs per minute and once for having to be told.
What has begun is fixed, and the answer in the order published is the start of the search.
"""

from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise

from ortools.sat.python import cp_model

from callroom.planner.repair.cost import TOLD_MIN
from callroom.planner.repair.forward import At
from callroom.planner.repair.question import Reordering
from callroom.planner.repair.to_come import Coming
from callroom.planner.repair.wishes import Store
from callroom.planner.timetable import Limits

BEYOND_S = 3600
"""A better order may end later than the published one, but not by more than this."""


def reorder(question: Reordering, limits: Limits | None = None) -> dict[str, At] | None:
    """Return floor and start of every heat to come, cheaper than in the order published.

    None if no cheaper one was found within the limits.
    """
    if not question.rest.heats:
        return None
    shop = _Shop(question)
    solver = cp_model.CpSolver()
    asked = limits or Limits(work=1)
    solver.parameters.num_workers = asked.workers
    solver.parameters.random_seed = asked.seed
    solver.parameters.max_deterministic_time = asked.work
    if asked.wall_s is not None:
        solver.parameters.max_time_in_seconds = asked.wall_s
    status = solver.solve(shop.model)
    return shop.read(solver) if status in {cp_model.OPTIMAL, cp_model.FEASIBLE} else None


class _Shop:
    """The model, its starts in minutes of the grid."""

    def __init__(self, question: Reordering) -> None:
        self.model = cp_model.CpModel()
        self._question, self._rest = question, question.rest
        self._table = {heat.id: heat for heat in self._rest.heats}
        ends = [at.start_s + self._table[name].length_s for name, at in question.kept.items()]
        self._horizon_s = max(ends) + BEYOND_S
        self._start: dict[str, cp_model.IntVar] = {}
        self._here: dict[tuple[str, str], cp_model.IntVar] = {}
        for heat in self._rest.heats:
            self._seat(heat)
        for one, other, gap_s in question.before:
            self._follow(one, other, gap_s)
        self._apart()
        self._judged()
        for store in question.stores:
            self._shared(store)
        self._aim()

    def read(self, solver: cp_model.CpSolver) -> dict[str, At]:
        """Return what the solver found."""
        return {
            heat.id: At(
                next(f for f in heat.floors if solver.boolean_value(self._here[heat.id, f])),
                solver.value(self._start[heat.id]) * self._rest.grid_s,
            )
            for heat in self._rest.heats
        }

    def _units(self, seconds: int) -> int:
        return -(-seconds // self._rest.grid_s)

    def _seat(self, heat: Coming) -> None:
        """Give a heat its start, with holes for the breaks of each floor it may be run on."""
        windows = {floor: self._windows(heat, floor) for floor in heat.floors}
        every = [window for mine in windows.values() for window in mine]
        start = self.model.new_int_var_from_domain(cp_model.Domain.from_intervals(every), heat.id)
        self._start[heat.id] = start
        for floor, mine in windows.items():
            here = self.model.new_bool_var(f"{heat.id} {floor}")
            self._here[heat.id, floor] = here
            domain = cp_model.Domain.from_intervals(mine)
            self.model.add_linear_expression_in_domain(start, domain).only_enforce_if(here)
        self.model.add_exactly_one(self._here[heat.id, floor] for floor in heat.floors)
        at = self._question.kept[heat.id]
        self.model.add_hint(start, at.start_s // self._rest.grid_s)
        for floor in heat.floors:
            self.model.add_hint(self._here[heat.id, floor], at.floor == floor)

    def _windows(self, heat: Coming, floor: str) -> list[list[int]]:
        """Return first and last starts [grid units] between the breaks of a floor."""
        hours = self._question.hours[heat.id]
        low_s = max(
            self._rest.now_s, heat.earliest_s, self._rest.ready_s.get(floor, 0), hours.from_s
        )
        for one in self._rest.running:
            end_s = self._rest.ends_s[one.id]
            if one.floors[0] == floor:
                low_s = max(low_s, end_s + self._rest.changeover_s(one, heat))
            if set(self._rest.competing(one)) & set(self._rest.competing(heat)):
                low_s = max(low_s, end_s + self._rest.rest_s(one.workout, heat.workout))
        found = []
        for pause in sorted(self._rest.breaks_on(floor), key=lambda one: one.start_s):
            last_s = pause.start_s - heat.length_s
            if low_s <= last_s:
                found.append([self._units(low_s), last_s // self._rest.grid_s])
            low_s = max(low_s, pause.end_s) if low_s > last_s else pause.end_s
        found.append([self._units(low_s), self._units(max(low_s, self._horizon_s))])
        if hours.until_s is not None:
            last = hours.until_s // self._rest.grid_s
            found = [[first, min(end, last)] for first, end in found]
        return [window for window in found if window[0] <= window[1]]

    def _follow(self, one: str, other: str, gap_s: int, *given: cp_model.LiteralT) -> None:
        distance = self._units(self._table[one].length_s + gap_s)
        rule = self.model.add(self._start[other] >= self._start[one] + distance)
        if given:
            rule.only_enforce_if(list(given))

    def _apart(self) -> None:
        """Keep heats apart where they share a floor, whichever comes first."""
        fixed = _reach(self._question)
        for one, other in combinations(self._rest.heats, 2):
            shared = [floor for floor in one.floors if floor in other.floors]
            if not shared:
                continue
            there, back = (
                self._rest.changeover_s(one, other),
                self._rest.changeover_s(other, one),
            )
            first = None
            for floor in shared:
                here = self._here[one.id, floor], self._here[other.id, floor]
                if other.id in fixed[one.id]:
                    self._follow(one.id, other.id, there, *here)
                elif one.id in fixed[other.id]:
                    self._follow(other.id, one.id, back, *here)
                else:
                    if first is None:
                        first = self.model.new_bool_var("first")
                        kept = self._question.kept
                        self.model.add_hint(first, kept[one.id].start_s < kept[other.id].start_s)
                    self._follow(one.id, other.id, there, first, *here)
                    self._follow(other.id, one.id, back, ~first, *here)

    def _judged(self) -> None:
        """Let no more judges be at work at once than there are, counting what has begun."""
        rest = self._rest
        limit = rest.judges_limit
        if limit is None:
            return
        intervals, demands = [], []
        for heat in rest.heats:
            if 0 < heat.judges <= limit:
                size = self._units(heat.length_s)
                start = self._start[heat.id]
                intervals.append(self.model.new_fixed_size_interval_var(start, size, heat.id))
                demands.append(heat.judges)
        for heat in rest.running:
            end_s = rest.ends_s[heat.id]
            if end_s > rest.now_s and heat.judges:
                low = rest.now_s // rest.grid_s
                size = self._units(end_s) - low
                intervals.append(self.model.new_fixed_size_interval_var(low, size, heat.id))
                demands.append(min(heat.judges, limit))
        self.model.add_cumulative(intervals, demands, limit)

    def _shared(self, store: Store) -> None:
        """Let no more be needed at once than there is; what has begun takes its share first."""
        grid_s, intervals, demands = self._rest.grid_s, [], []
        for heat in self._rest.heats:
            use = store.needs.get(heat.id)
            if use is not None and use.pieces <= store.limit:
                from_s = self._start[heat.id] * grid_s + use.from_s
                size_s = use.until_s - use.from_s
                intervals.append(self.model.new_fixed_size_interval_var(from_s, size_s, heat.id))
                demands.append(use.pieces)
        for start_s, end_s, pieces in self._spoken_for(store):
            size_s = end_s - start_s
            intervals.append(self.model.new_fixed_size_interval_var(start_s, size_s, "taken"))
            demands.append(pieces)
        self.model.add_cumulative(intervals, demands, store.limit)

    def _spoken_for(self, store: Store) -> Iterator[tuple[int, int, int]]:
        """Yield from when until when so much is not there, or taken by what has begun [s]."""
        taken = [(dip.start_s, dip.end_s, dip.count) for dip in store.dips]
        for heat in self._rest.running:
            use = store.needs.get(heat.id)
            if use is not None:
                start_s = heat.earliest_s
                taken.append((start_s + use.from_s, start_s + use.until_s, use.pieces))
        for start_s, end_s in pairwise(sorted({moment_s for one in taken for moment_s in one[:2]})):
            pieces = sum(one[2] for one in taken if one[0] <= start_s < one[1])
            if pieces:
                yield start_s, end_s, min(pieces, store.limit)

    def _aim(self) -> None:
        """Make the cost small."""
        grid_s, horizon = self._rest.grid_s, self._units(self._horizon_s)
        told_units = -(-60 * TOLD_MIN // grid_s)
        spent = []
        for heat in self._rest.heats:
            # A start published off the grid counts as the mark behind it: nothing lies between.
            published = self._units(heat.published_s)
            moved = self.model.new_int_var(0, horizon, "moved")
            told = self.model.new_bool_var("told")
            start = self._start[heat.id]
            self.model.add(moved >= start - published)
            self.model.add(moved >= published - start)
            self.model.add(moved == 0).only_enforce_if(~told)
            spent.append(self._question.prices[heat.id] * (moved + told_units * told))
            kept = abs(self._question.kept[heat.id].start_s // grid_s - published)
            self.model.add_hint(moved, kept)
            self.model.add_hint(told, kept > 0)
        self.model.minimize(cp_model.LinearExpr.sum(spent))


def _reach(question: Reordering) -> Mapping[str, frozenset[str]]:
    """Return, for each heat, those that come after it in every order."""
    out: dict[str, list[str]] = {heat.id: [] for heat in question.rest.heats}
    for one, other, _ in question.before:
        out[one].append(other)
    found: dict[str, frozenset[str]] = {}

    def after(name: str) -> frozenset[str]:
        if name not in found:
            found[name] = frozenset(out[name]).union(*(after(later) for later in out[name]))
        return found[name]

    for heat in question.rest.heats:
        after(heat.id)
    return found
