"""Tiny days solved by trying everything, to hold the solver against.

Nothing clever: every floor and every start on the grid, slot after slot, with the rules
written out once more in the plainest way.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from callroom.planner import Link, Placed, Problem, Slot


class Stand(NamedTuple):
    """A slot put down."""

    slot: Slot
    floor: str
    start_s: int

    @property
    def end_s(self) -> int:
        return self.start_s + self.slot.length_s


class Best(NamedTuple):
    """The least finish of a day, with it the least longest wait, with both the changeovers.

    Last the ends of the blocks wished early. None where the solver does not pursue the aim: no
    waits, heats that take turns, nothing wished early.
    """

    finish_s: int
    wait_s: int | None
    changeovers_s: int | None
    early_s: int | None = None


def best(problem: Problem, until_s: int) -> Best | None:
    """Return the best of all timetables that end by `until_s`, or None if there is none."""
    found: Best | None = None
    for stands in _all(problem, (), until_s):
        finish_s = max(stand.end_s for stand in stands)
        one = Best(
            finish_s,
            longest_wait_s(problem, stands) if problem.waits else None,
            between_blocks_s(problem, stands) if problem.shape == "blocks" else None,
            early_s(problem, stands) if problem.early else None,
        )
        if found is None or one < found:
            found = one
    return found


def _all(problem: Problem, stands: tuple[Stand, ...], until_s: int) -> Iterator[tuple[Stand, ...]]:
    if len(stands) == len(problem.slots):
        if _whole_blocks(problem, stands) and _rhythm(problem, stands):
            yield stands
        return
    slot = problem.slots[len(stands)]
    end_s = until_s if problem.closes_s is None else min(until_s, problem.closes_s)
    for floor in slot.floors:
        for start_s in range(0, end_s - slot.length_s + 1, problem.grid_s):
            one = Stand(slot, floor, start_s)
            if _alone_fits(problem, one) and all(_pair_fits(problem, one, o) for o in stands):
                more = (*stands, one)
                if _judged(problem, more) and _pooled(problem, more):
                    yield from _all(problem, more, until_s)


def _alone_fits(problem: Problem, one: Stand) -> bool:
    if one.start_s < problem.opens_s:
        return False
    if one.slot.opens_s is not None and one.start_s < one.slot.opens_s:
        return False
    if one.slot.closes_s is not None and one.end_s > one.slot.closes_s:
        return False
    return not any(
        one.start_s < pause.end_s and pause.start_s < one.end_s
        for pause in problem.breaks
        if not pause.floors or one.floor in pause.floors
    )


def _pair_fits(problem: Problem, one: Stand, other: Stand) -> bool:
    names = {one.slot.id, other.slot.id}
    links = [link for link in problem.links if {link.before, link.after} == names]
    if not all(_keeps(link, one, other) for link in links):
        return False
    for either in problem.eithers:
        if {either.one.before, either.one.after} == names and not (
            _keeps(either.one, one, other) or _keeps(either.other, one, other)
        ):
            return False
    first, then = sorted((one, other), key=lambda stand: stand.start_s)
    alike = (one.slot.workout, one.slot.block) == (other.slot.workout, other.slot.block)
    if alike and first.start_s < then.start_s and first.slot.rank > then.slot.rank:
        return False
    if one.floor != other.floor:
        return True
    if alike and then.start_s < first.start_s + problem.least_pitch_s:
        return False
    needed_s = problem.changeover.same_s
    if one.slot.workout != other.slot.workout:
        needed_s = problem.changeover.workout_s
    elif one.slot.block != other.slot.block:
        needed_s = problem.changeover.division_s
    return then.start_s >= first.end_s + needed_s


def _keeps(link: Link, one: Stand, other: Stand) -> bool:
    before, after = (one, other) if one.slot.id == link.before else (other, one)
    return after.start_s >= before.end_s + link.lag_s


def _judged(problem: Problem, stands: tuple[Stand, ...]) -> bool:
    limit = problem.judges_limit
    return limit is None or all(
        sum(o.slot.judges for o in stands if o.start_s <= one.start_s < o.end_s) <= limit
        for one in stands
    )


def _pooled(problem: Problem, stands: tuple[Stand, ...]) -> bool:
    """Second by second, what is needed of each pool; a dip needs as well."""
    at = {stand.slot.id: stand.start_s for stand in stands}
    for pool in problem.pools:
        used: dict[int, int] = {}
        for need in pool.needs:
            if need.slot in at:
                from_s = at[need.slot] + need.from_s
                for second in range(from_s, from_s + need.length_s):
                    used[second] = used.get(second, 0) + need.count
        for dip in pool.dips:
            for second in range(dip.start_s, dip.end_s):
                used[second] = used.get(second, 0) + min(dip.count, pool.limit)
        if any(pieces > pool.limit for pieces in used.values()):
            return False
    return True


def early_s(problem: Problem, stands: tuple[Stand, ...]) -> int:
    """Return the sum of the ends of the blocks wished early."""
    ends: dict[tuple[str, str], int] = {}
    for stand in stands:
        if stand.slot.id in problem.early:
            key = stand.slot.workout, stand.slot.block
            ends[key] = max(ends.get(key, 0), stand.end_s)
    return sum(ends.values())


def _rows(stands: tuple[Stand, ...]) -> dict[str, list[Stand]]:
    rows: dict[str, list[Stand]] = {}
    for stand in sorted(stands, key=lambda stand: stand.start_s):
        rows.setdefault(stand.floor, []).append(stand)
    return rows


def _whole_blocks(problem: Problem, stands: tuple[Stand, ...]) -> bool:
    if problem.shape == "heats":
        return True
    seen: list[tuple[str, str, str]] = []
    for floor, row in _rows(stands).items():
        for stand in row:
            key = floor, stand.slot.workout, stand.slot.block
            if not seen or seen[-1] != key:
                seen.append(key)
    blocks = [(workout, block) for _, workout, block in seen]
    return len(set(blocks)) == len(blocks)


def _rhythm(problem: Problem, stands: tuple[Stand, ...]) -> bool:
    if not problem.rhythm:
        return True
    for row in _rows(stands).values():
        for first, then in pairwise(row):
            if (first.slot.workout, first.slot.block) != (then.slot.workout, then.slot.block):
                continue
            paused = any(
                first.end_s <= pause.start_s and pause.end_s <= then.start_s
                for pause in problem.breaks
                if not pause.floors or first.floor in pause.floors
            )
            closest_s = max(first.slot.length_s + problem.changeover.same_s, problem.least_pitch_s)
            pitch_s = -(-closest_s // problem.grid_s) * problem.grid_s
            if not paused and then.start_s - first.start_s != pitch_s:
                return False
    return True


def longest_wait_s(problem: Problem, stands: tuple[Stand, ...]) -> int:
    """Return the longest wait between two heats of a team, without common breaks."""
    at = {stand.slot.id: stand for stand in stands}
    resting = {
        second
        for pause in problem.breaks
        if not pause.floors
        for second in range(pause.start_s, pause.end_s)
    }
    return max(
        len(set(range(at[before].end_s, at[after].start_s)) - resting)
        for before, after in problem.waits
    )


def between_blocks_s(problem: Problem, stands: tuple[Stand, ...]) -> int:
    """Return the changeover time where one block follows another."""
    return sum(
        problem.changeover.workout_s
        if first.slot.workout != then.slot.workout
        else problem.changeover.division_s
        for row in _rows(stands).values()
        for first, then in pairwise(row)
        if (first.slot.workout, first.slot.block) != (then.slot.workout, then.slot.block)
    )


def stands_of(problem: Problem, placed: tuple[Placed, ...]) -> tuple[Stand, ...]:
    """Return a timetable as stands."""
    slots = {slot.id: slot for slot in problem.slots}
    return tuple(Stand(slots[place.slot], place.floor, place.start_s) for place in placed)
