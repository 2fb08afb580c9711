"""Loadings held against the kit list and the loads they say they give."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from callroom.model.finding import Fact, Finding
from callroom.model.kit import KitItem
from callroom.model.plates import Loading
from callroom.planner.check.plates_rules import RULES

GRAMS_PER_KG = 1000


def check_loadings(
    kit: Iterable[KitItem],
    loadings: Sequence[Loading],
    *,
    collar_g: Fraction = Fraction(0),
    most_on_sleeve: int = 8,
) -> tuple[Finding, ...]:
    """Return everything in which the loadings of one floor are impossible or miss a load.

    Parameters
    ----------
    kit
        What the floor can use.
    loadings
        What is on every bar, by heat and rung; all those of a moment are there at once.
    collar_g
        What one collar counts as load [g].
    most_on_sleeve
        Plates that fit on a sleeve.
    """
    stock = _pieces(kit)
    moments: dict[tuple[str, int], list[Loading]] = {}
    for one in loadings:
        moments.setdefault((one.heat, one.rung), []).append(one)
    return (
        *(found for (heat, _), there in moments.items() for found in _moment(heat, there, stock)),
        *(found for one in loadings for found in _bar(one, collar_g, most_on_sleeve)),
    )


def count_moves(loadings: Sequence[Loading], order: Sequence[tuple[str, int]]) -> int:
    """Return the moves of a day: plates off and on, both sleeves, and bars, which count two.

    `order` are the heats and rungs as they are run; a lane that wants nothing at some moment
    keeps what it has.
    """
    at = {(one.heat, one.rung, one.lane, one.station): one for one in loadings}
    spots = sorted({(one.lane, one.station) for one in loadings})
    total = 0
    for spot in spots:
        here = [at[moment + spot] for moment in order if moment + spot in at]
        nothing = Loading(heat="", lane=spot[0], station=spot[1])
        total += sum(_moves(before, after) for before, after in pairwise([nothing, *here]))
    return total


def _moves(before: Loading, after: Loading) -> int:
    """Take plates off from outside until what is left is where the new load begins."""
    stack = list(before.sleeve)
    same_bar = before.bar == after.bar
    moved = 0
    while stack and not (same_bar and list(after.sleeve[: len(stack)]) == stack):
        stack.pop()
        moved += 2
    moved += 2 * (len(after.sleeve) - len(stack))
    return moved if same_bar else moved + 2 * sum(one.bar is not None for one in (before, after))


def _pieces(kit: Iterable[KitItem]) -> Mapping[tuple[str, Fraction], int]:
    stock: Counter[tuple[str, Fraction]] = Counter()
    for item in kit:
        if item.kind in {"bar", "plate"} and item.mass is not None:
            stock[item.kind, item.mass.grams()] += item.count
    return stock


def _moment(
    heat: str, there: list[Loading], stock: Mapping[tuple[str, Fraction], int]
) -> Iterator[Finding]:
    """Yield what is used more often than there is."""
    at = f"heat.{heat}"
    plates = Counter(plate.grams() for one in there for plate in one.sleeve for _ in "lr")
    bars = Counter(one.bar.grams() for one in there if one.bar is not None)
    for kind, used in (("plate", plates), ("bar", bars)):
        for grams, count in used.items():
            available = stock.get((kind, grams), 0)
            if count > available:
                rule = "check.plates_too_many" if kind == "plate" else "check.bars_too_many"
                yield RULES.found(rule, at, heat=heat, mass=_kg(grams), used=count, there=available)
    for one in there:
        for plate in dict.fromkeys(one.sleeve):
            if ("plate", plate.grams()) not in stock:
                yield RULES.found(
                    "check.plate_unknown", at, heat=heat, lane=one.lane, mass=_kg(plate.grams())
                )
    for (lane, station), times in Counter((one.lane, one.station) for one in there).items():
        if times > 1:
            yield RULES.found("check.load_doubled", at, heat=heat, lane=lane, station=station)


def _bar(one: Loading, collar_g: Fraction, most: int) -> Iterator[Finding]:
    at = f"heat.{one.heat}"
    facts: dict[str, Fact] = {"heat": one.heat, "lane": one.lane, "station": one.station}
    if one.bar is None:
        rule = "check.plates_without_bar" if one.sleeve else "check.lane_without_bar"
        yield RULES.found(rule, at, **facts)
        return
    if any(outer.grams() > inner.grams() for inner, outer in pairwise(one.sleeve)):
        yield RULES.found("check.light_inside", at, **facts)
    if len(one.sleeve) > most:
        yield RULES.found(
            "check.sleeve_too_full",
            at,
            heat=one.heat,
            lane=one.lane,
            plates=len(one.sleeve),
            most=most,
        )
    given = one.grams(collar_g)
    wanted = [load.grams() for load in one.wanted]
    # Collars that count are not on an empty bar's account.
    if (wanted and given not in wanted) or (not wanted and one.sleeve):
        said = _kg(wanted[0]) if wanted else "0 kg"
        yield RULES.found("check.load_not_reached", at, **facts, wanted=said, given=_kg(given))


def _kg(grams: Fraction) -> str:
    amount = float(grams / GRAMS_PER_KG)
    return f"{amount:.3f}".rstrip("0").rstrip(".") + " kg"
