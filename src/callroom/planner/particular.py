"""Wishes about particular heats and teams, as rules of the timetable: hours, floors, links."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations, pairwise

from callroom.model.event import Event
from callroom.model.wish_rows import Lock
from callroom.planner.heat_teams import HeatTeams, division_row
from callroom.planner.problem import Either, Link, Slot

Heats = Sequence[HeatTeams]
Hours = tuple[int | None, int | None]


def finals(event: Event, heats: Heats) -> frozenset[str]:
    """Return the ids of the heats that are finals: each division's best of the last workout."""
    if not event.wishes.finals_last:
        return frozenset()
    last = event.workouts[-1].id
    rows = [division_row(heats, last, division.id) for division in event.divisions]
    return frozenset(row[-1].id for row in rows if row)


def final_links(slots: Sequence[Slot], best: frozenset[str]) -> Iterator[Link]:
    """Yield that every final comes after the last heat of every other block."""
    others = [row[-1] for row in _blocks(slot for slot in slots if slot.id not in best)]
    for final in (slot for slot in slots if slot.id in best):
        for other in others:
            yield Link(before=other.id, after=final.id)


def wave_links(
    event: Event, heats: Heats, slots: Sequence[Slot], best: frozenset[str]
) -> Iterator[Link]:
    """Yield that the blocks of each wave come after those of the wave before, finals apart."""
    mine = {heat.id: set(heat.divisions) for heat in heats if heat.id not in best}
    slots = [slot for slot in slots if slot.id not in best]
    for wave, then in pairwise(event.wishes.waves):
        first = _blocks(slot for slot in slots if mine[slot.id] & set(wave))
        second = _blocks(slot for slot in slots if mine[slot.id] & set(then))
        for one in first:
            for other in second:
                yield Link(before=one[-1].id, after=other[0].id)


def turns(event: Event, heats: Heats, best: frozenset[str]) -> tuple[tuple[str, ...], ...]:
    """Return the ids of the heats of each wave, then those of the finals; none if there are none.

    A final is not counted in its wave: it comes when the others are over anyway.
    """
    waves = [
        tuple(h.id for h in heats if set(h.divisions) & set(wave) and h.id not in best)
        for wave in event.wishes.waves
    ]
    last = [tuple(heat.id for heat in heats if heat.id in best)] if best else []
    found = tuple(row for row in (*waves, *last) if row)
    return found if len(found) > 1 or last else ()


def _blocks(slots: Iterable[Slot]) -> list[list[Slot]]:
    found: dict[tuple[str, str], list[Slot]] = {}
    for slot in slots:
        found.setdefault((slot.workout, slot.block), []).append(slot)
    return [sorted(row, key=lambda slot: (slot.rank, slot.id)) for row in found.values()]


def apart_eithers(event: Event, heats: Heats) -> Iterator[Either]:
    """Yield, for teams that must not be on a floor at once, that one heat is over before."""
    for apart in event.wishes.apart:
        for one, other in combinations(apart.teams, 2):
            for heat in (heat for heat in heats if one in heat.teams):
                for then in (heat for heat in heats if other in heat.teams):
                    if heat.id != then.id:
                        yield Either(
                            one=Link(before=heat.id, after=then.id, lag_s=apart.gap_s),
                            other=Link(before=then.id, after=heat.id, lag_s=apart.gap_s),
                        )


def locked_heats(event: Event, heats: Heats) -> Mapping[str, tuple[Lock, ...]]:
    """Return the locks of time or floor that concern each heat, by its id."""
    found: dict[str, tuple[Lock, ...]] = {}
    for lock in event.wishes.locks:
        for workout in [lock.workout] if lock.workout else [w.id for w in event.workouts]:
            heat = _meant(lock, workout, heats)
            if heat is not None:
                found[heat.id] = (*found.get(heat.id, ()), lock)
    return found


def _meant(lock: Lock, workout: str, heats: Heats) -> HeatTeams | None:
    if lock.team:
        own = [h for h in heats if h.workout == workout and lock.team in h.teams]
        return own[0] if own else None
    row = division_row(heats, workout, lock.division)
    return row[lock.heat - 1] if 0 < lock.heat <= len(row) else None


def team_hours(event: Event, heats: Heats) -> Mapping[str, Hours]:
    """Return when each heat may start and must be over for its teams' sake [s], by its id.

    Where the standings may move teams, every heat that a team may come into keeps its hours.
    """
    found: dict[str, Hours] = {}
    for hours in event.wishes.team_hours:
        for heat in (heat for heat in heats if hours.team in heat.teams):
            for other in _reach(event, heats, heat):
                opens_s, closes_s = found.get(other.id, (None, None))
                found[other.id] = (
                    _latest(opens_s, hours.from_s), _earliest(closes_s, hours.until_s)
                )  # fmt: skip
    return found


def _reach(event: Event, heats: Heats, heat: HeatTeams) -> list[HeatTeams]:
    order = event.wishes.order_into(heat.workout)
    if order == "kept" or heat.workout == event.workouts[0].id:
        return [heat]
    found: dict[str, HeatTeams] = {}
    for division in heat.divisions:
        row = division_row(heats, heat.workout, division)
        place = [one.id for one in row].index(heat.id)
        near = row if order == "reseeded" else row[max(0, place - 1) : place + 2]
        found |= {one.id: one for one in near}
    return list(found.values())


def _latest(one: int | None, other: int | None) -> int | None:
    return max((s for s in (one, other) if s is not None), default=None)


def _earliest(one: int | None, other: int | None) -> int | None:
    return min((s for s in (one, other) if s is not None), default=None)
