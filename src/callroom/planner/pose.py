"""An event's wishes and its heats, turned into the question the solver is asked."""

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.wish_rows import Lock
from callroom.model.wishes import Wishes
from callroom.planner.heat_teams import HeatTeams, division_row
from callroom.planner.particular import (
    apart_eithers,
    final_links,
    finals,
    locked_heats,
    team_hours,
    turns,
    wave_links,
)
from callroom.planner.pools import pools
from callroom.planner.problem import Break, Changeover, Either, Link, Problem, Slot

Heats = Sequence[HeatTeams]
FINAL = " (final)"
"""Behind the divisions of a block that is a final, in words that a finding may quote."""


def pose(event: Event, heats: Heats) -> Problem:
    """Return the timetable question of a day.

    Every wish becomes a rule here; whether the answer keeps the wishes is judged elsewhere
    (``check``), from the event and not from this.
    """
    wishes = event.wishes
    by_workout: dict[str, list[HeatTeams]] = {workout.id: [] for workout in event.workouts}
    for heat in heats:
        by_workout[heat.workout].append(heat)
    listed = wishes.workout_order == "listed"
    kept = [
        links
        for one, other in _pairs(event)
        for links in _between(event, one, other, (by_workout[one], by_workout[other]))
    ]
    best = finals(event, heats)
    slots = tuple(_slots(event, heats, best))
    eithers = () if listed else tuple(Either(one=forth, other=back) for forth, back in kept)
    return Problem(
        floors=tuple(floor.id for floor in event.floors),
        slots=slots,
        links=(
            *(link for mine in by_workout.values() for link in _mixed_first(mine)),
            *(forth for forth, _ in kept if listed),
            *final_links(slots, best),
            *wave_links(event, heats, slots, best),
        ),
        eithers=(*eithers, *apart_eithers(event, heats)),
        waits=tuple(_waits(event, by_workout)) if listed else (),
        breaks=tuple(
            Break(
                id=pause.id,
                start_s=pause.start_s,
                end_s=pause.start_s + pause.length_s,
                floors=pause.floors,
            )
            for pause in wishes.pauses
        ),
        changeover=Changeover(
            same_s=wishes.changeover_same_s,
            division_s=wishes.changeover_division_s,
            workout_s=wishes.changeover_workout_s,
        ),
        opens_s=max(wishes.first_heat_s, wishes.warm_up_s + wishes.briefing_s),
        closes_s=wishes.finish_by_s,
        grid_s=wishes.slot_s,
        rhythm=wishes.constant_rhythm,
        shape="blocks" if wishes.constant_rhythm else "heats",
        judges_limit=None if wishes.judge_spells else wishes.judges_at_once,
        pools=tuple(pools(event, heats)),
        turns=turns(event, heats, best),
        least_pitch_s=_least_pitch_s(wishes),
        early=tuple(heat.id for heat in heats if set(heat.divisions) & set(wishes.early)),
    )


def _least_pitch_s(wishes: Wishes) -> int:
    """Return how far apart the heats of a rhythm are for warm-up and briefing to keep up [s]."""
    warm_up_s = -(-wishes.warm_up_s // wishes.warm_up_heats) if wishes.warm_up_heats else 0
    return max(warm_up_s, wishes.briefing_s)


def _pairs(event: Event) -> list[tuple[str, str]]:
    """Return the workouts between which teams rest, each before the one that may follow it.

    In a listed order each workout holds back the next, and so all that follow; only a longer
    rest of its own needs saying.
    """
    names = [workout.id for workout in event.workouts]
    if event.wishes.workout_order == "free":
        return list(combinations(names, 2))
    told = {(rest.before, rest.after) for rest in event.wishes.rests}
    return list(
        dict.fromkeys([*pairwise(names), *(p for p in combinations(names, 2) if p in told)])
    )


def _slots(event: Event, heats: Heats, best: frozenset[str]) -> Iterator[Slot]:
    wishes = event.wishes
    workouts = {workout.id: workout for workout in event.workouts}
    locks, hours = locked_heats(event, heats), team_hours(event, heats)
    for heat in heats:
        workout = workouts[heat.workout]
        slot = Slot(
            id=heat.id,
            workout=workout.id,
            block="+".join(heat.divisions) + (FINAL if heat.id in best else ""),
            rank=heat.rank,
            floors=wishes.floors_for(workout.id, workout.floor),
            length_s=workout.floor_s,
            judges=workout.judges_per_lane * len(heat.teams),
            opens_s=hours.get(heat.id, (None, None))[0],
            closes_s=hours.get(heat.id, (None, None))[1],
        )
        for lock in locks.get(heat.id, ()):
            slot = _locked(slot, lock)
        yield slot


def _locked(slot: Slot, lock: Lock) -> Slot:
    floors = (lock.floor,) if lock.floor else slot.floors
    if lock.at_s is None:
        return replace(slot, floors=floors)
    closes_s = lock.at_s + slot.length_s
    return replace(
        slot,
        floors=floors,
        opens_s=lock.at_s if slot.opens_s is None else max(lock.at_s, slot.opens_s),
        closes_s=closes_s if slot.closes_s is None else min(closes_s, slot.closes_s),
    )


def _mixed_first(heats: Heats) -> Iterator[Link]:
    """A mixed heat holds its divisions' last ranks, so their own heats come after it."""
    for mixed in heats:
        for pure in heats:
            first = pure.rank == 1 and len(pure.divisions) == 1
            if len(mixed.divisions) > 1 and first and pure.divisions[0] in mixed.divisions:
                yield Link(before=mixed.id, after=pure.id)


def _between(
    event: Event, one: str, other: str, heats: tuple[Heats, Heats]
) -> Iterator[tuple[Link, Link]]:
    """Yield, both ways round, the links between two workouts' heats that may share a team."""
    forth_s = event.wishes.rest_between_s(one, other)
    back_s = event.wishes.rest_between_s(other, one)
    for (first, last), (then, at_last) in _meetings(event, other, heats):
        yield (
            Link(before=last.id, after=then.id, lag_s=forth_s),
            Link(before=at_last.id, after=first.id, lag_s=back_s),
        )


Ends = tuple[HeatTeams, HeatTeams]


def _meetings(event: Event, into: str, heats: tuple[Heats, Heats]) -> Iterator[tuple[Ends, Ends]]:
    """Yield first and last heat on both sides wherever a team may come from one to the other."""
    order = event.wishes.order_into(into)
    if order == "reseeded":
        for block, later in _division_blocks(*heats):
            yield (block[0], block[-1]), (later[0], later[-1])
        return
    reach = 1 if order == "neighbours" else 0
    for heat in heats[0]:
        for then in _near(heat, heats[1], reach):
            yield (heat, heat), (then, then)


def _division_blocks(one: Heats, other: Heats) -> Iterator[tuple[Heats, Heats]]:
    """Yield the two workouts' heats block by block, wherever a division is in both."""
    for first in _blocks(one):
        for then in _blocks(other):
            if set(first[0].divisions) & set(then[0].divisions):
                yield first, then


def _blocks(heats: Heats) -> list[list[HeatTeams]]:
    found: dict[tuple[str, ...], list[HeatTeams]] = {}
    for heat in heats:
        found.setdefault(heat.divisions, []).append(heat)
    return [sorted(block, key=lambda heat: heat.rank) for block in found.values()]


def _near(heat: HeatTeams, others: Heats, reach: int) -> list[HeatTeams]:
    """Return the heats that hold a team of `heat`, or come within `reach` of one that does."""
    near: dict[str, HeatTeams] = {}
    for division in heat.divisions:
        row = division_row(others, others[0].workout, division) if others else []
        for place, other in enumerate(row):
            if set(heat.teams) & set(other.teams):
                near |= {one.id: one for one in row[max(0, place - reach) : place + reach + 1]}
    return list(near.values())


def _waits(event: Event, by_workout: dict[str, list[HeatTeams]]) -> Iterator[tuple[str, str]]:
    """Yield the heats between which teams wait: of one workout and the next in the list."""
    for one, other in pairwise(event.workouts):
        if event.wishes.order_into(other.id) == "reseeded":
            for block, later in _division_blocks(by_workout[one.id], by_workout[other.id]):
                yield block[0].id, later[-1].id
        else:
            for heat in by_workout[one.id]:
                for then in _near(heat, by_workout[other.id], 0):
                    yield heat.id, then.id
