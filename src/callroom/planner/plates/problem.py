"""The plates as a question: which load is wanted where and when, and what there is to load it.

Everything here is exact. Masses of any unit are brought to whole numbers of one small unit
(:func:`scale_of`), in which a load is either reached or not.
"""

from collections.abc import Iterable, Mapping
from math import lcm

import msgspec

from callroom.model.kit import KitItem
from callroom.model.mass import Mass

MOST_ON_SLEEVE = 8
"""Plates that fit on one sleeve, inside the collar. Common practice, no source."""


class Stock(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What there is: bars with their number, and plates with the number of *pairs*.

    Both are in order from heavy to light. `collar` is the mass of one collar where collars
    count as load, else None.
    """

    bars: tuple[tuple[Mass, int], ...]
    pairs: tuple[tuple[Mass, int], ...]
    collar: Mass | None = None
    most_on_sleeve: int = MOST_ON_SLEEVE


class Want(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A load wanted at a `place` in a `step` of the day.

    `loads` are the masses any of which will do (published in kilograms and in pounds);
    none: an empty bar. `bar` is the bar it must be; None: any.
    """

    place: str
    step: int
    loads: tuple[Mass, ...] = ()
    bar: Mass | None = None


class PlateProblem(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The bars of one floor through a day: `steps` moments in order, at some `places`."""

    places: tuple[str, ...]
    steps: int
    wants: tuple[Want, ...]
    stock: Stock


class Loaded(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What stands at a place in a step: a bar and one sleeve from the inside outwards.

    `reached`: the load wanted, exactly; always so where nothing is wanted.
    """

    place: str
    step: int
    bar: Mass | None
    sleeve: tuple[Mass, ...]
    reached: bool


class Loadings(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The loading of every place in every step.

    `moves` counts plates (and bars, twice) put on or taken off over the day; `least_moves`
    is a number that no loading of the day goes below, given which loads are not reached.
    """

    loaded: tuple[Loaded, ...]
    moves: int
    least_moves: int

    def at(self) -> dict[tuple[str, int], Loaded]:
        """Return what stands where, by place and step."""
        return {(one.place, one.step): one for one in self.loaded}


def stock_of(
    kit: Iterable[KitItem], *, collars_count: bool = False, most_on_sleeve: int = MOST_ON_SLEEVE
) -> Stock:
    """Return the bars and pairs of plates of a kit list; like masses of all lenders together.

    A plate without a partner of its mass is of no use on a bar. What has no mass is left out.
    """
    items = tuple(kit)
    collars = [item.mass for item in items if item.kind == "collar" and item.mass is not None]
    return Stock(
        bars=_pieces(items, "bar"),
        pairs=tuple((mass, count // 2) for mass, count in _pieces(items, "plate")),
        collar=collars[0] if collars and collars_count else None,
        most_on_sleeve=most_on_sleeve,
    )


def _pieces(items: tuple[KitItem, ...], kind: str) -> tuple[tuple[Mass, int], ...]:
    """Return how many pieces there are of each mass, from heavy to light."""
    usable = [item for item in items if item.kind == kind and item.mass is not None]
    masses = {item.mass.grams(): item.mass for item in usable if item.mass is not None}
    return tuple(
        (
            masses[grams],
            sum(item.count for item in usable if item.mass and item.mass.grams() == grams),
        )
        for grams in sorted(masses, reverse=True)
    )


def scale_of(problem: PlateProblem) -> int:
    """Return how many small units make a gram, so that every mass is a whole number of them."""
    stock = problem.stock
    masses = [mass for mass, _ in (*stock.bars, *stock.pairs)]
    masses += [load for want in problem.wants for load in want.loads]
    masses += [] if stock.collar is None else [stock.collar]
    return lcm(*(mass.grams().denominator for mass in masses))


def wants_by_spot(problem: PlateProblem) -> Mapping[tuple[str, int], Want]:
    """Return what is wanted, by place and step."""
    return {(want.place, want.step): want for want in problem.wants}
