"""A timetable held against the question it answers."""

from collections.abc import Iterator
from itertools import pairwise

from callroom.model.finding import Finding
from callroom.planner.check.floors import check_floors
from callroom.planner.check.rules import RULES
from callroom.planner.check.stay import DayRules, Rest, Stay, by_block
from callroom.planner.problem import Link, Problem, Slot
from callroom.planner.timetable import Timetable

Times = dict[str, Stay]


def check_timetable(problem: Problem, timetable: Timetable) -> tuple[Finding, ...]:
    """Return everything in which a timetable fails its problem; empty if it keeps to it."""
    slots = {slot.id: slot for slot in problem.slots}
    stays = tuple(
        Stay(
            id=place.slot,
            floor=place.floor,
            start_s=place.start_s,
            end_s=place.start_s + slots[place.slot].length_s,
            workout=slots[place.slot].workout,
            block=slots[place.slot].block,
            judges=slots[place.slot].judges,
        )
        for place in timetable.placed
        if place.slot in slots
    )
    return (
        *_placed(slots, timetable),
        *check_floors(stays, _rules(problem)),
        *_linked(problem, {stay.id: stay for stay in stays}),
        *_ranked(slots, stays),
        *_in_hours(slots, stays),
        *_pooled(problem, {stay.id: stay for stay in stays}),
        *_said(timetable, stays),
    )


def _rules(problem: Problem) -> DayRules:
    return DayRules(
        opens_s=problem.opens_s,
        closes_s=problem.closes_s,
        grid_s=problem.grid_s,
        same_s=problem.changeover.same_s,
        division_s=problem.changeover.division_s,
        workout_s=problem.changeover.workout_s,
        rhythm=problem.rhythm,
        whole_blocks=problem.shape == "blocks",
        judges_limit=problem.judges_limit,
        rests=tuple(Rest(b.id, b.start_s, b.end_s, b.floors) for b in problem.breaks),
    )


def _placed(slots: dict[str, Slot], timetable: Timetable) -> Iterator[Finding]:
    names = [place.slot for place in timetable.placed]
    for name in sorted(slots.keys() | set(names)):
        times = names.count(name)
        if times != 1 or name not in slots:
            yield RULES.found("check.not_placed_once", f"heat.{name}", heat=name, times=times)
    for place in timetable.placed:
        if place.slot in slots and place.floor not in slots[place.slot].floors:
            yield RULES.found(
                "check.floor_not_allowed",
                f"heat.{place.slot}",
                heat=place.slot,
                floor=place.floor,
            )


def _linked(problem: Problem, times: Times) -> Iterator[Finding]:
    choices: list[tuple[Link, ...]] = [(link,) for link in problem.links]
    choices += [(either.one, either.other) for either in problem.eithers]
    for choice in choices:
        if not any(_keeps(link, times) for link in choice):
            link = choice[0]
            yield RULES.found(
                "check.link_broken", f"heat.{link.after}", heat=link.after, before=link.before
            )


def _keeps(link: Link, times: Times) -> bool:
    before, after = times.get(link.before), times.get(link.after)
    return before is None or after is None or after.start_s >= before.end_s + link.lag_s


def _ranked(slots: dict[str, Slot], stays: tuple[Stay, ...]) -> Iterator[Finding]:
    """Heats of a block in rank order; those of one rank may come in either order."""
    for (workout, block), row in by_block(stays).items():
        if any(
            slots[after.id].rank < slots[before.id].rank and after.start_s > before.start_s
            for before, after in pairwise(row)
        ):
            yield RULES.found(
                "check.ranks_out_of_order", f"workout.{workout}", workout=workout, division=block
            )


def _in_hours(slots: dict[str, Slot], stays: tuple[Stay, ...]) -> Iterator[Finding]:
    for stay in stays:
        slot = slots[stay.id]
        early = slot.opens_s is not None and stay.start_s < slot.opens_s
        late = slot.closes_s is not None and stay.end_s > slot.closes_s
        if early or late:
            yield RULES.found(
                "check.slot_hours_broken",
                f"heat.{stay.id}",
                heat=stay.id,
                start_at_s=stay.start_s,
                end_at_s=stay.end_s,
            )


def _pooled(problem: Problem, times: Times) -> Iterator[Finding]:
    """What is needed of each pool at every moment at which more is needed, or less is there."""
    for pool in problem.pools:
        spans = []
        for need in pool.needs:
            if need.slot in times and need.length_s:
                from_s = times[need.slot].start_s + need.from_s
                spans.append((from_s, from_s + need.length_s, need.count, need.slot))
        spans += [(dip.start_s, dip.end_s, min(dip.count, pool.limit), "") for dip in pool.dips]
        for start_s, _, _, name in spans:
            here = [span for span in spans if span[0] <= start_s < span[1]]
            needed = sum(span[2] for span in here)
            if needed > pool.limit:
                yield RULES.found(
                    "check.pool_short",
                    f"heat.{name}",
                    heat=name or next((span[3] for span in here if span[3]), ""),
                    pool=pool.id,
                    start_at_s=start_s,
                    needed=needed,
                    limit=pool.limit,
                )


def _said(timetable: Timetable, stays: tuple[Stay, ...]) -> Iterator[Finding]:
    """What the timetable says of itself."""
    if not stays:
        return
    finish_s = max(stay.end_s for stay in stays)
    if timetable.finish_s != finish_s:
        yield RULES.found(
            "check.finish_wrong", "day", said_at_s=timetable.finish_s, true_at_s=finish_s
        )
    if finish_s < timetable.certificate_s:
        yield RULES.found(
            "check.bound_wrong", "day", said_at_s=timetable.certificate_s, true_at_s=finish_s
        )
