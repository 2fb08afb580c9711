"""A first timetable where much is shared, heat by heat in the order of a list.

Where judges or kit are scarce over several floors a search finds its first timetables late. A
list finds one at once: of the heats whose time has come, the one with the best start and the
longest work behind it is put down as early as it goes, then the next. Changing the list a
little, again and again, and keeping what is no worse, gives timetables that searching alone
does not come near. It proves nothing; it is where a search starts from.
"""

from collections.abc import Mapping
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from callroom.planner.chains import chains, round_up
from callroom.planner.problem import Problem, Slot
from callroom.planner.timetable import Placed


class _Use(NamedTuple):
    """What a heat that has been put down takes of what is shared, by name [s]."""

    start_s: int
    end_s: int
    pieces: Mapping[str, int]


class _Spot(NamedTuple):
    """Where a heat could be put down; the least is the best."""

    worth_s: float
    start_s: int
    slot: str
    floor: str


def listed(problem: Problem, rounds: int, seed: int) -> tuple[Placed, ...]:
    """Return the best timetable of so many lists; empty if none keeps every hour.

    Only for heats that may take turns, with links and nothing of which one of two holds; what
    is needed outside of a heat's time on its floor is not looked at.
    """
    plain = problem.shape == "heats" and not problem.eithers
    inside = all(
        need.from_s >= 0 and need.from_s + need.length_s <= problem.slot_table()[need.slot].length_s
        for pool in problem.pools
        for need in pool.needs
    )
    if not plain or not inside or not problem.slots:
        return ()
    lists = _Lists(problem)
    rng = np.random.default_rng(seed)
    behind = lists.behind
    best_list = {name: -0.5 * later_s for name, later_s in behind.items()}
    best = lists.put_down(best_list)
    for turn in range(1, rounds):
        changed = (
            _fresh(behind, rng) if turn < min(20, rounds // 3) else _varied(best_list, lists, rng)
        )
        placed = lists.put_down(changed)
        if lists.finish_s(placed) <= lists.finish_s(best):
            best, best_list = placed, changed
    return lists.kept(best)


def _fresh(behind: Mapping[str, int], rng: np.random.Generator) -> dict[str, float]:
    weight = float(rng.choice((0.0, 0.1, 0.3, 0.5, 1.0)))
    drawn_s = rng.uniform(0, 600, len(behind)).tolist()
    return {
        name: list_s - weight * later_s
        for (name, later_s), list_s in zip(behind.items(), drawn_s, strict=True)
    }


def _varied(
    best: Mapping[str, float], lists: "_Lists", rng: np.random.Generator
) -> dict[str, float]:
    """Move a few heats in the list, and now and then a whole block."""
    changed = dict(best)
    names = list(changed)
    few = min(len(names), int(rng.choice((1, 2, 4, 8))))
    for place in rng.choice(len(names), few, replace=False).tolist():
        changed[names[place]] += float(rng.normal(0, 900))
    if rng.random() < 0.3:
        by_s = float(rng.normal(0, 1500))
        for slot in lists.blocks[int(rng.integers(len(lists.blocks)))]:
            changed[slot.id] += by_s
    return changed


class _Lists:
    """What does not change from list to list."""

    def __init__(self, problem: Problem) -> None:
        self._problem, self._table = problem, problem.slot_table()
        self.blocks = problem.blocks()
        self.behind = chains(problem).run_outs
        self._before: dict[str, list[tuple[str, int]]] = {name: [] for name in self._table}
        self._after: dict[str, list[str]] = {name: [] for name in self._table}
        for link in problem.links:
            self._follow(link.before, link.after, self._table[link.before].length_s + link.lag_s)
        for block in self.blocks:
            for one, other in pairwise(block):
                self._follow(one.id, other.id, 0)
        self._limits = {pool.id: pool.limit for pool in problem.pools}
        self._pieces: dict[str, dict[str, int]] = {name: {} for name in self._table}
        for pool in problem.pools:
            for need in pool.needs:
                mine = self._pieces[need.slot]
                mine[pool.id] = mine.get(pool.id, 0) + need.count
        if problem.judges_limit is not None:
            self._limits[""] = problem.judges_limit
            for name, slot in self._table.items():
                self._pieces[name][""] = slot.judges
        self._dips = [
            _Use(dip.start_s, dip.end_s, {pool.id: min(dip.count, pool.limit)})
            for pool in problem.pools
            for dip in pool.dips
        ]
        self._open = {floor: problem.stretches(floor) for floor in problem.floors}

    def _follow(self, before: str, after: str, distance_s: int) -> None:
        self._before[after].append((before, distance_s))
        self._after[before].append(after)

    def finish_s(self, placed: Mapping[str, _Spot]) -> float:
        """Return when the last heat is over [s]; a list that got stuck never is."""
        if len(placed) < len(self._table):
            return float("inf")
        return max(spot.start_s + self._table[name].length_s for name, spot in placed.items())

    def kept(self, placed: Mapping[str, _Spot]) -> tuple[Placed, ...]:
        """Return a timetable, or nothing if it is not whole or misses an hour."""
        closes_s = self._problem.closes_s
        for name, spot in placed.items():
            slot = self._table[name]
            ends_s = [s for s in (closes_s, slot.closes_s) if s is not None]
            if any(spot.start_s + slot.length_s > end_s for end_s in ends_s):
                return ()
        if len(placed) < len(self._table):
            return ()
        return tuple(
            Placed(slot=name, floor=spot.floor, start_s=spot.start_s)
            for name, spot in placed.items()
        )

    def put_down(self, order: Mapping[str, float]) -> dict[str, _Spot]:
        """Put every heat down by a list: what it says is added to the start [s]."""
        placed: dict[str, _Spot] = {}
        last: dict[str, str] = {}
        used = list(self._dips)
        waiting = {name: len(before) for name, before in self._before.items()}
        ready = [name for name, count in waiting.items() if not count]
        while ready:
            spots = (self._spot(name, order[name], placed, last, used) for name in ready)
            best = min((spot for spot in spots if spot is not None), default=None)
            if best is None:
                break
            slot = self._table[best.slot]
            placed[best.slot], last[best.floor] = best, best.slot
            end_s = best.start_s + slot.length_s
            used.append(_Use(best.start_s, end_s, self._pieces[best.slot]))
            ready.remove(best.slot)
            for later in self._after[best.slot]:
                waiting[later] -= 1
                if not waiting[later]:
                    ready.append(later)
        return placed

    def _spot(
        self,
        name: str,
        list_s: float,
        placed: Mapping[str, _Spot],
        last: Mapping[str, str],
        used: list[_Use],
    ) -> _Spot | None:
        slot, found = self._table[name], []
        from_s = max(self._problem.opens_s, slot.opens_s or 0)
        for before, distance_s in self._before[name]:
            from_s = max(from_s, placed[before].start_s + distance_s)
        for floor in slot.floors:
            free_s = from_s
            if floor in last:
                other = self._table[last[floor]]
                gap_s = other.length_s + self._problem.changeover_s(other, slot)
                free_s = max(free_s, placed[other.id].start_s + gap_s)
            start_s = self._fits_s(slot, floor, free_s, used)
            if start_s is not None:
                found.append(_Spot(start_s + list_s, start_s, name, floor))
        return min(found, default=None)

    def _fits_s(self, slot: Slot, floor: str, from_s: int, used: list[_Use]) -> int | None:
        """Return the first start at which a heat fits between pauses and finds what it needs."""
        start_s = from_s
        while True:
            opened_s = self._opened_s(slot, floor, round_up(start_s, self._problem.grid_s))
            if opened_s is None:
                return None
            later_s = self._supplied_s(slot, opened_s, used)
            if later_s == opened_s:
                return opened_s
            start_s = later_s

    def _opened_s(self, slot: Slot, floor: str, from_s: int) -> int | None:
        for stretch in self._open[floor]:
            start_s = max(from_s, round_up(stretch.start_s, self._problem.grid_s))
            if stretch.end_s is None or start_s + slot.length_s <= stretch.end_s:
                return start_s
        return None

    def _supplied_s(self, slot: Slot, start_s: int, used: list[_Use]) -> int:
        """Return the start, or the next moment at which something that is short is given back."""
        needs, end_s = self._pieces[slot.id], start_s + slot.length_s
        around = [use for use in used if use.start_s < end_s and start_s < use.end_s]
        for moment_s in (start_s, *(use.start_s for use in around if use.start_s > start_s)):
            now = [use for use in around if use.start_s <= moment_s < use.end_s]
            for name, count in needs.items():
                taken = sum(use.pieces.get(name, 0) for use in now)
                if taken and taken + count > self._limits[name]:
                    return min(use.end_s for use in now if use.pieces.get(name, 0))
        return start_s
