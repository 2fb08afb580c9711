"""Who is in which heat where the director has a say: heats fixed for teams, teams kept apart.

Both are done by letting two teams of a division change places, the ones closest in rank, so
that the seeding stays as it was wherever nobody is concerned.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, takewhile
from typing import NamedTuple

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.team import Team
from callroom.model.wish_rows import Lock
from callroom.planner.heat_teams import HeatTeams, division_row
from callroom.planner.problem import BadProblem

Heats = tuple[HeatTeams, ...]


class _Entry(NamedTuple):
    """Divisions and seeded order of the teams, and those whose heats are fixed."""

    division: Mapping[str, str]
    rank: Mapping[str, int]
    fixed: frozenset[str]


class _Pair(NamedTuple):
    """Two teams to be kept apart, with what must lie between them [s]."""

    one: str
    other: str
    gap_s: int


def by_hand(
    event: Event, teams: Sequence[Team], ranked: Mapping[str, tuple[str, ...]], heats: Heats
) -> Heats:
    """Return the heats with teams moved as the wishes say; BadProblem if that cannot be.

    Parameters
    ----------
    event, teams
        The wishes, and every team that is in a heat.
    ranked
        Seeded order of each division, best first.
    heats
        As seeded.
    """
    wishes = event.wishes
    division = {team.id: team.division for team in teams}
    rank = {team: place for row in ranked.values() for place, team in enumerate(row)}
    put = [lock for lock in wishes.locks if lock.heat and lock.team in rank]
    entry = _Entry(division, rank, frozenset(lock.team for lock in put))
    for lock in put:
        for workout in [lock.workout] if lock.workout else [w.id for w in event.workouts]:
            heats = _into_heat(heats, entry, lock, workout)
    for pair in _pairs(event):
        if pair.one in rank and pair.other in rank:
            heats = _separated(event, heats, entry, pair)
    return heats


def _into_heat(heats: Heats, entry: _Entry, lock: Lock, workout: str) -> Heats:
    row = division_row(heats, workout, entry.division[lock.team])
    if not any(lock.team in heat.teams for heat in row):
        return heats
    if lock.heat > len(row):
        raise BadProblem(
            "planner.lock_no_such_heat", subject=lock.team, workout=workout, heat=lock.heat,
            heats=len(row),
        )  # fmt: skip
    target = row[lock.heat - 1]
    if lock.team in target.teams:
        return heats
    partners = _partners(entry, lock.team, target.teams)
    if not partners:
        raise BadProblem(
            "planner.lock_heat_full", subject=lock.team, workout=workout, heat=lock.heat
        )
    return tuple(
        _swapped(heat, lock.team, partners[0]) if heat.workout == workout else heat
        for heat in heats
    )


def _separated(event: Event, heats: Heats, entry: _Entry, pair: _Pair) -> Heats:
    """Let the lower-ranked of two teams change places until they are heats apart.

    Where the changeover is shorter than the gap wished, the heats next to each other of a block
    are too close; if that cannot be avoided, the timetable has to find room.
    """
    wanted = 1 if pair.gap_s <= event.wishes.changeover_same_s else 2
    for steps in range(wanted, 0, -1):
        found = _moved_apart(event, heats, entry, pair, steps)
        if found is not None:
            return found
    raise BadProblem("planner.apart_impossible", subject=pair.one, other=pair.other)


def _moved_apart(
    event: Event, heats: Heats, entry: _Entry, pair: _Pair, steps: int
) -> Heats | None:
    if not _close(heats, pair, steps):
        return heats
    movable = [team for team in (pair.one, pair.other) if team not in entry.fixed]
    settled = _pairs_until(event, pair)
    for mover in sorted(movable, key=lambda team: -entry.rank[team]):
        everybody = [team for team in entry.rank if team not in {pair.one, pair.other}]
        for partner in _partners(entry, mover, everybody):
            changed = tuple(_swapped(heat, mover, partner) for heat in heats)
            still = _close(changed, pair, steps)
            if not still and not any(_close(changed, one, 1) for one in settled):
                return changed
    return None


def _pairs(event: Event) -> Iterator[_Pair]:
    for apart in event.wishes.apart:
        for one, other in combinations(apart.teams, 2):
            yield _Pair(one, other, apart.gap_s)


def _pairs_until(event: Event, last: _Pair) -> list[_Pair]:
    """Return the pairs that are settled before `last`."""
    return list(takewhile(lambda pair: pair != last, _pairs(event)))


def _close(heats: Heats, pair: _Pair, steps: int) -> bool:
    """Whether two teams share a heat, or are less than so many heats apart in one block."""
    with_one = [heat for heat in heats if pair.one in heat.teams]
    with_other = [heat for heat in heats if pair.other in heat.teams]
    return any(
        (one.workout, one.divisions) == (other.workout, other.divisions)
        and abs(one.rank - other.rank) < steps
        for one in with_one
        for other in with_other
    )


def _partners(entry: _Entry, team: str, among: Sequence[str]) -> list[str]:
    """Return teams of the same division that may change places with one, closest in rank first."""
    able = [
        other
        for other in among
        if entry.division.get(other) == entry.division[team] and other not in entry.fixed
    ]
    return sorted(able, key=lambda other: (abs(entry.rank[other] - entry.rank[team]), other))


def _swapped(heat: HeatTeams, one: str, other: str) -> HeatTeams:
    if one not in heat.teams and other not in heat.teams:
        return heat
    names = {one: other, other: one}
    return replace(heat, teams=tuple(names.get(team, team) for team in heat.teams))
