"""The overall order of a division: points added up, ties broken by the event's chain."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import groupby
from math import lcm
from typing import Literal

import msgspec

from callroom.model import Rules
from callroom.scoring.entrants import Entrant, EntrantStatus
from callroom.scoring.rank import NO_PLACE, ranking

OverallStanding = Literal["ranked", "below", "unranked", "waiting"]


class Counted(msgspec.Struct, frozen=True):
    """A part that counts overall: places and points of every entrant, in their order.

    `whole` are the points in whole parts of `scale`, so that adding them is quick.
    """

    workout: str
    part: str
    places: Sequence[int | None]
    points: Sequence[Fraction]
    scale: int
    whole: Sequence[int]


def counted(
    workout: str, part: str, places: Sequence[int | None], points: Sequence[Fraction]
) -> Counted:
    """Return a part as it counts.

    Points come from one table and mostly are the same few objects. Each is looked at once, told
    by `id`, which is its own as long as `points` holds it.
    """
    marks = list(map(id, points))
    values = dict(zip(marks, points, strict=True))
    scale = lcm(*{earned.denominator for earned in values.values()})
    whole = {
        mark: earned.numerator * (scale // earned.denominator) for mark, earned in values.items()
    }
    return Counted(workout, part, places, points, scale, [whole[mark] for mark in marks])


class OverallRow(msgspec.Struct, frozen=True, gc=False):
    """One team overall.

    Attributes
    ----------
    standing
        ``ranked``: a place in every part that counts. ``below``: not so, and ranked below
        all who have. ``unranked``: no place overall. ``waiting``: no part counts yet.
    place
        The overall place; None: none.
    points
        The sum over the parts that count.
    places
        The places in them, in order.
    """

    team: str
    status: EntrantStatus
    standing: OverallStanding
    place: int | None
    points: Fraction
    places: tuple[int | None, ...]


TieKey = Callable[[int], tuple[int, ...]]
"""What an item of the tie chain compares for one entrant, lowest first."""


def overall(
    field: Sequence[Entrant], counted: Sequence[Counted], rules: Rules, *, fewest_best: bool
) -> tuple[OverallRow, ...]:
    """Return the overall rows of `field`, the best first.

    Teams that are still level after the whole tie chain share the place. Among the teams
    without a place the order is that of their ids.
    """
    won = list(zip(*(part.places for part in counted), strict=True)) or [()] * len(field)
    standings = [
        _standing(entrant, places, rules) for entrant, places in zip(field, won, strict=True)
    ]
    scale, totals = _totals(len(field), counted)
    sign = 1 if fewest_best else -1
    below = 1 + 2 * max(map(abs, totals), default=0)
    keys = [
        sign * total + (below if standing == "below" else 0)
        if standing in {"ranked", "below"}
        else None
        for standing, total in zip(standings, totals, strict=True)
    ]
    found, order = ranking(keys)
    chain = _chain(rules.tie_chain, counted, won, sign)
    _break_ties(found, order, chain)
    points = {total: Fraction(total, scale) for total in set(totals)}
    return tuple(
        OverallRow(
            field[index].team,
            field[index].status,
            standings[index],
            found[index],
            points[totals[index]],
            won[index],
        )
        for index in order
    )


def _break_ties(found: list[int | None], order: list[int], chain: Sequence[TieKey]) -> None:
    """Part the teams that share a place in `found` as far as the chain can, in both lists."""
    start = 0
    while start < len(order) and found[order[start]] is not None:
        end = start + 1
        while end < len(order) and found[order[end]] == found[order[start]]:
            end += 1
        if end - start > 1:
            parted = _parted(order[start:end], chain)
            order[start:end] = [index for level in parted for index in level]
            place = start + 1
            for level in parted:
                for index in level:
                    found[index] = place
                place += len(level)
        start = end


def _standing(entrant: Entrant, places: tuple[int | None, ...], rules: Rules) -> OverallStanding:
    if entrant.status in {"disqualified", "out_of_competition"}:
        return "unranked"
    if not places:
        return "waiting"
    return rules.absent_overall if None in places else "ranked"


def _totals(teams: int, counted: Sequence[Counted]) -> tuple[int, list[int]]:
    """Return every entrant's points in whole parts of one scale."""
    scale = lcm(*(part.scale for part in counted))
    columns = [
        part.whole
        if part.scale == scale
        else [points * (scale // part.scale) for points in part.whole]
        for part in counted
    ]
    return scale, list(map(sum, zip(*columns, strict=True))) or [0] * teams


def _chain(
    items: Sequence[str],
    counted: Sequence[Counted],
    won: Sequence[tuple[int | None, ...]],
    sign: int,
) -> list[TieKey]:
    """Return what each item of the chain compares; items about parts still open drop out."""
    chain: list[TieKey] = []
    for item in items:
        if item == "shared":
            break
        if item == "most_firsts":
            chain.append(lambda index: best_places(won[index]))
            continue
        named = parts_named(item, [(part.workout, part.part) for part in counted])
        if named:
            chain.append(_best_in([counted[index] for index in named], sign))
    return chain


def best_places(places: Sequence[int | None]) -> tuple[int, ...]:
    """Return places from best to worst, a missing one last.

    Compared in order, they say who has most firsts; if as many, most seconds; and so on.
    """
    return tuple(sorted(NO_PLACE if place is None else place for place in places))


def parts_named(item: str, parts: Sequence[tuple[str, str]]) -> list[int]:
    """Return which of `parts` an item ``best_in:<workout>[/<part>]`` of the chain names."""
    workout, _, part = item.removeprefix("best_in:").partition("/")
    return [
        index for index, named in enumerate(parts) if named[0] == workout and part in {"", named[1]}
    ]


def _best_in(parts: Sequence[Counted], sign: int) -> TieKey:
    if len(parts) == 1:
        return lambda index: (parts[0].places[index] or NO_PLACE,)
    scale = lcm(*(points.denominator for part in parts for points in part.points))
    return lambda index: (
        int(sum((part.points[index] for part in parts), Fraction(0)) * sign * scale),
    )


def _parted(level: list[int], chain: Sequence[TieKey]) -> list[list[int]]:
    """Part teams level on points by the first item of the chain that can, and so on."""
    if len(level) == 1 or not chain:
        return [level]
    first, rest = chain[0], chain[1:]
    keyed = sorted((first(index), index) for index in level)
    parted: list[list[int]] = []
    for _, same in groupby(keyed, key=lambda each: each[0]):
        parted += _parted([index for _, index in same], rest)
    return parted
