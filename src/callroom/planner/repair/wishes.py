"""What the event wishes of the heats to come, as far as the published plan keeps it.

A wish that the published plan breaks is known to everybody and not mended on the day; one that it
keeps shall be kept by its repair as well.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from typing import NamedTuple

from callroom.model.wishes import OrderRule
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.pools import pools
from callroom.planner.problem import Dip
from callroom.planner.repair.to_come import Coming, Rest

Follow = tuple[str, str, int]
"""One heat is over so long before the other starts [s]."""


class Use(NamedTuple):
    """So many pieces of something from when until when, from the start of a heat [s]."""

    from_s: int
    until_s: int
    pieces: int


class Store(NamedTuple):
    """Something of which there is only so much at once: who needs what, and when there is less."""

    limit: int
    needs: Mapping[str, Use]
    dips: tuple[Dip, ...]


class Hours(NamedTuple):
    """When a heat may start, from the earliest to the latest [s]; None: there is no latest."""

    from_s: int
    until_s: int | None


def stores(rest: Rest) -> tuple[Store, ...]:
    """Return what the heats to come share with each other and with what has begun."""
    event = rest.event
    wishes = event.wishes
    shared = wishes.shared_kit or wishes.judge_spells or wishes.warm_up_heats or wishes.briefing_s
    if not shared:
        return ()
    row = (*rest.running, *rest.heats)
    asked = {
        HeatTeams(workout=heat.workout, divisions=(), rank=n, teams=rest.competing(heat)): heat
        for n, heat in enumerate(row)
    }
    by_name = {one.id: heat for one, heat in asked.items()}
    found = []
    for pool in pools(event, tuple(asked)):
        needs = {}
        for need in pool.needs:
            heat = by_name[need.slot]
            if need.count:
                until_s = need.from_s + need.length_s
                stays = need.from_s == 0 and not _is_ahead(pool.id)
                needs[heat.id] = Use(
                    need.from_s, _length_s(rest, heat) if stays else until_s, need.count
                )
        found.append(Store(pool.limit, needs, pool.dips))
    return tuple(found)


def _is_ahead(pool: str) -> bool:
    return pool in {"warm-up", "briefing"}


def _length_s(rest: Rest, heat: Coming) -> int:
    """Return how long a heat holds what it needs: its planned time, or its real one [s]."""
    end_s = rest.ends_s.get(heat.id)
    return heat.length_s if end_s is None else end_s - heat.earliest_s


def follows(rest: Rest) -> tuple[Follow, ...]:
    """Return which heats come after which: waves, finals, teams apart, rests that are promised.

    Only between heats of which the second is still to come; what has begun is in it as the first.
    """
    row = sorted((*rest.running, *rest.heats), key=lambda heat: (heat.published_s, heat.number))
    coming = {heat.id for heat in rest.heats}
    found: dict[tuple[str, str], int] = {}
    for one, other, gap_s in (*_waves(rest, row), *_finals(rest, row), *_apart(rest, row),
                              *_promised(rest, row)):  # fmt: skip
        told_s = other.published_s - one.published_s - one.length_s
        kept = told_s >= gap_s or one.is_new or other.is_new
        if kept and other.id in coming:
            found[one.id, other.id] = max(gap_s, found.get((one.id, other.id), gap_s))
    return tuple((one, other, gap_s) for (one, other), gap_s in found.items())


Asked = Iterator[tuple[Coming, Coming, int]]


def _waves(rest: Rest, row: Sequence[Coming]) -> Asked:
    best = _final_heats(rest, row)
    for wave, then in pairwise(rest.event.wishes.waves):
        first = [heat for heat in row if _of(heat, wave) and heat.id not in best]
        for other in row:
            if _of(other, then) and other.id not in best:
                day = _day(rest, other)
                yield from ((one, other, 0) for one in first if _day(rest, one) == day)


def _finals(rest: Rest, row: Sequence[Coming]) -> Asked:
    best = _final_heats(rest, row)
    for final in (heat for heat in row if heat.id in best):
        yield from ((one, final, 0) for one in row if one.id not in best)


def _final_heats(rest: Rest, row: Sequence[Coming]) -> set[str]:
    """Return each division's last heat of the last workout, if finals are wished last."""
    if not rest.event.wishes.finals_last:
        return set()
    last = [heat for heat in row if heat.workout == rest.event.workouts[-1].id]
    found = set()
    for division in rest.event.divisions:
        mine = [heat for heat in last if _of(heat, (division.id,)) and not heat.is_new]
        found |= {heat.id for heat in mine[-1:]}
    return found


def _apart(rest: Rest, row: Sequence[Coming]) -> Asked:
    """Teams that must not meet keep the order in which they were told to start."""
    for apart in rest.event.wishes.apart:
        for one, other in combinations(apart.teams, 2):
            for heat in (heat for heat in row if one in heat.teams):
                for then in (heat for heat in row if other in heat.teams):
                    if heat.id != then.id:
                        first, second = sorted((heat, then), key=lambda h: h.published_s)
                        yield first, second, apart.gap_s


def _promised(rest: Rest, row: Sequence[Coming]) -> Asked:
    """Rests that hold whatever heat the standings put a team into."""
    wishes = rest.event.wishes
    if wishes.workout_order == "free":
        return
    for before, after in pairwise(rest.event.workouts):
        order = wishes.order_into(after.id)
        if order == "kept":
            continue
        gap_s = wishes.rest_between_s(before.id, after.id)
        for division in rest.event.divisions:
            mine = [heat for heat in row if _of(heat, (division.id,))]
            later = [heat for heat in mine if heat.workout == after.id]
            for one in (heat for heat in mine if heat.workout == before.id):
                yield from ((one, then, gap_s) for then in _about(one, later, order))


def _about(heat: Coming, row: Sequence[Coming], order: OrderRule) -> Sequence[Coming]:
    """Return the heats that a team of `heat` may come into."""
    if order == "reseeded":
        return row
    places = [place for place, other in enumerate(row) if set(other.teams) & set(heat.teams)]
    near = {place + step for place in places for step in (-1, 0, 1)}
    return [other for place, other in enumerate(row) if place in near]


def hours(rest: Rest) -> Mapping[str, Hours]:
    """Return when each heat to come may start, for the sake of teams, locks and opening hours."""
    return {heat.id: _hours(rest, heat) for heat in rest.heats}


def _hours(rest: Rest, heat: Coming) -> Hours:
    wishes = rest.event.wishes
    release_s = rest.event.workout(heat.workout).release_s
    from_s: list[int] = [0 if release_s is None else release_s]
    until_s: list[int] = []
    for told in wishes.team_hours:
        mine = told.team in rest.competing(heat)
        if mine and told.from_s is not None:
            from_s.append(told.from_s)
        if mine and told.until_s is not None:
            until_s.append(told.until_s - heat.length_s)
    for day in wishes.days:
        if day.opens_s <= heat.published_s < day.closes_s:
            from_s.append(day.opens_s)
            until_s.append(day.closes_s - heat.length_s)
    if not wishes.days and wishes.finish_by_s is not None:
        until_s.append(wishes.finish_by_s - heat.length_s)
    if _is_locked(rest, heat):
        from_s.append(heat.published_s)
        until_s.append(heat.published_s)
    kept_from_s = [value_s for value_s in from_s if value_s <= heat.published_s]
    kept_until_s = [value_s for value_s in until_s if value_s >= heat.published_s]
    return Hours(max(kept_from_s, default=0), min(kept_until_s, default=None))


def _is_locked(rest: Rest, heat: Coming) -> bool:
    """Whether the director has fixed the time at which a heat was published."""
    return not heat.is_new and any(
        lock.at_s == heat.published_s
        and lock.workout in {"", heat.workout}
        and (lock.team in heat.teams or (not lock.team and _of(heat, (lock.division,))))
        for lock in rest.event.wishes.locks
    )


def _of(heat: Coming, divisions: Sequence[str]) -> bool:
    return any(name in divisions for name in heat.mix.split("+"))


def _day(rest: Rest, heat: Coming) -> int:
    """Return on which day of the event a heat was published."""
    return sum(day.opens_s <= heat.published_s for day in rest.event.wishes.days)
