"""Rules of floors and hours: one heat at a time, changeovers, pauses, clean starts."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from callroom.model.finding import Finding
from callroom.planner.check.rules import RULES
from callroom.planner.check.stay import DayRules, Rest, Stay, by_block, by_floor


def check_floors(stays: Sequence[Stay], rules: DayRules) -> Iterator[Finding]:
    """Yield what is wrong with the heats as pieces of floor time."""
    yield from _turned(stays)
    yield from _doubled(stays)
    yield from _changeovers(stays, rules)
    yield from _pauses(stays, rules)
    yield from _hours(stays, rules)
    yield from _judges(stays, rules)
    if rules.rhythm:
        yield from _rhythm(stays, rules)
    if rules.whole_blocks:
        yield from _interrupted(stays)


def _turned(stays: Sequence[Stay]) -> Iterator[Finding]:
    for stay in stays:
        if stay.end_s <= stay.start_s:
            yield RULES.found(
                "check.ends_before_start",
                f"heat.{stay.id}",
                heat=stay.id,
                start_at_s=stay.start_s,
                end_at_s=stay.end_s,
            )


def _doubled(stays: Sequence[Stay]) -> Iterator[Finding]:
    """Two heats on one floor at once. The last to leave counts, not only the neighbour."""
    for floor, row in by_floor(stays).items():
        holder = row[0]
        for stay in row[1:]:
            if stay.start_s < holder.end_s:
                yield RULES.found(
                    "check.floor_doubled",
                    f"heat.{stay.id}",
                    heat=stay.id,
                    other=holder.id,
                    floor=floor,
                    start_at_s=stay.start_s,
                    free_at_s=holder.end_s,
                )
            holder = max(holder, stay, key=lambda one: one.end_s)


def _changeovers(stays: Sequence[Stay], rules: DayRules) -> Iterator[Finding]:
    for floor, row in by_floor(stays).items():
        for before, after in pairwise(row):
            needed_s = rules.same_s
            if before.workout != after.workout:
                needed_s = rules.workout_s
            elif before.block != after.block:
                needed_s = rules.division_s
            given_s = after.start_s - before.end_s
            if 0 <= given_s < needed_s:
                yield RULES.found(
                    "check.changeover_short",
                    f"heat.{after.id}",
                    heat=after.id,
                    before=before.id,
                    floor=floor,
                    given_s=given_s,
                    needed_s=needed_s,
                )


def _pauses(stays: Sequence[Stay], rules: DayRules) -> Iterator[Finding]:
    for stay in stays:
        for rest in rules.rests:
            here = not rest.floors or stay.floor in rest.floors
            if here and stay.start_s < rest.end_s and rest.start_s < stay.end_s:
                yield RULES.found(
                    "check.pause_broken",
                    f"heat.{stay.id}",
                    heat=stay.id,
                    pause=rest.id,
                    start_at_s=stay.start_s,
                    end_at_s=stay.end_s,
                    from_at_s=rest.start_s,
                    until_at_s=rest.end_s,
                )


def _hours(stays: Sequence[Stay], rules: DayRules) -> Iterator[Finding]:
    for stay in stays:
        at, heat, start_s = f"heat.{stay.id}", stay.id, stay.start_s
        if start_s < rules.opens_s:
            yield RULES.found(
                "check.too_early", at, heat=heat, start_at_s=start_s, opens_at_s=rules.opens_s
            )
        if rules.closes_s is not None and stay.end_s > rules.closes_s:
            yield RULES.found(
                "check.too_late", at, heat=heat, end_at_s=stay.end_s, finish_by_at_s=rules.closes_s
            )
        if start_s % rules.grid_s:
            yield RULES.found(
                "check.odd_start", at, heat=heat, start_at_s=start_s, slot_s=rules.grid_s
            )


def _judges(stays: Sequence[Stay], rules: DayRules) -> Iterator[Finding]:
    """More judges at work than there are. The count only rises when a heat starts."""
    if rules.judges_limit is None:
        return
    for stay in stays:
        at_work = sum(
            other.judges for other in stays if other.start_s <= stay.start_s < other.end_s
        )
        if at_work > rules.judges_limit:
            yield RULES.found(
                "check.judges_short",
                f"heat.{stay.id}",
                heat=stay.id,
                start_at_s=stay.start_s,
                needed=at_work,
                limit=rules.judges_limit,
            )


def _rhythm(stays: Sequence[Stay], rules: DayRules) -> Iterator[Finding]:
    """Heats of a block at more than one spacing, though no pause lies between."""
    for (workout, block), row in by_block(stays).items():
        spacings = {
            after.start_s - before.start_s
            for before, after in pairwise(row)
            if not any(_between(before, after, rest) for rest in (*rules.rests, *rules.nights))
        }
        if len(spacings) > 1:
            yield RULES.found(
                "check.rhythm_broken",
                f"workout.{workout}",
                workout=workout,
                division=block,
                least_s=min(spacings),
                most_s=max(spacings),
            )


def _interrupted(stays: Sequence[Stay]) -> Iterator[Finding]:
    """Blocks with a heat of another block in between on their floor."""
    for floor, row in by_floor(stays).items():
        closed: set[tuple[str, str]] = set()
        for before, after in pairwise(row):
            block = after.workout, after.block
            if (before.workout, before.block) != block:
                closed.add((before.workout, before.block))
            if block in closed:
                yield RULES.found(
                    "check.block_interrupted",
                    f"heat.{after.id}",
                    heat=after.id,
                    workout=after.workout,
                    division=after.block,
                    floor=floor,
                    by=before.id,
                )


def _between(before: Stay, after: Stay, rest: Rest) -> bool:
    here = not rest.floors or after.floor in rest.floors
    return here and before.end_s <= rest.start_s and rest.end_s <= after.start_s
