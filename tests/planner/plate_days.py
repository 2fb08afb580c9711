"""Small plate questions for tests, and a search that tries everything."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import product

from callroom.model import KitItem, Mass
from callroom.model.plates import Loading
from callroom.planner.check.plates import count_moves
from callroom.planner.plates import Loadings, PlateProblem, Stock, Want


def kg(amount: str | int) -> Mass:
    return Mass(amount=Decimal(amount), unit="kg")


def lb(amount: str | int) -> Mass:
    return Mass(amount=Decimal(amount), unit="lb")


def stock(pairs: dict[str, int], bars: int = 2, *, most_on_sleeve: int = 8) -> Stock:
    return Stock(
        bars=((kg(20), bars),),
        pairs=tuple((kg(mass), count) for mass, count in pairs.items()),
        most_on_sleeve=most_on_sleeve,
    )


def problem(rows: list[list[int | str]], there: Stock) -> PlateProblem:
    """Return the question for loads [kg] by step and place."""
    places = tuple(str(lane) for lane in range(len(rows[0])))
    return PlateProblem(
        places=places,
        steps=len(rows),
        wants=tuple(
            Want(place=place, step=step, loads=(kg(load),))
            for step, row in enumerate(rows)
            for place, load in zip(places, row, strict=True)
        ),
        stock=there,
    )


def kit_of(there: Stock) -> tuple[KitItem, ...]:
    bars = [
        KitItem(id=f"bar{n}", name="Bar", kind="bar", count=count, mass=mass)
        for n, (mass, count) in enumerate(there.bars)
    ]
    plates = [
        KitItem(id=f"plate{n}", name="Plate", kind="plate", count=2 * pairs, mass=mass)
        for n, (mass, pairs) in enumerate(there.pairs)
    ]
    return (*bars, *plates)


def as_loadings(asked: PlateProblem, answer: Loadings) -> list[Loading]:
    wanted = {(want.place, want.step): want.loads for want in asked.wants}
    return [
        Loading(
            heat=str(one.step),
            lane=int(one.place),
            wanted=wanted[one.place, one.step],
            bar=one.bar,
            sleeve=one.sleeve,
        )
        for one in answer.loaded
    ]


def least_moves(asked: PlateProblem) -> int | None:
    """Return the fewest moves that reach every load, by trying everything; None: none does.

    One kind of bar only. Every joint loading of a step is a node of a shortest path.
    """
    rows = [
        [
            next(want.loads for want in asked.wants if (want.place, want.step) == (place, step))
            for place in asked.places
        ]
        for step in range(asked.steps)
    ]
    best: dict[tuple[tuple[Mass, ...], ...], int] = {((),) * len(asked.places): 0}
    bare = True
    for loads in rows:
        after: dict[tuple[tuple[Mass, ...], ...], int] = {}
        for joint in _joint(asked.stock, [one[0] for one in loads]):
            costs = [
                cost + sum(_moves(a, b, bare=bare) for a, b in zip(before, joint, strict=True))
                for before, cost in best.items()
            ]
            if costs:
                after[joint] = min(costs)
        best, bare = after, False
    return min(best.values(), default=None)


def _moves(before: tuple[Mass, ...], after: tuple[Mass, ...], *, bare: bool) -> int:
    """Moves of one bar, counted by the check; `bare`: there was no bar yet."""
    here = [Loading(heat="b", lane=1, bar=kg(20), sleeve=after)]
    if not bare:
        here.insert(0, Loading(heat="a", lane=1, bar=kg(20), sleeve=before))
    order = [(one.heat, 1) for one in here]
    first = count_moves(here[:1], order[:1])
    return count_moves(here, order) - (0 if bare else first)


def _joint(there: Stock, loads: list[Mass]) -> Iterator[tuple[tuple[Mass, ...], ...]]:
    options = [list(_sleeves(there, load)) for load in loads]
    for joint in product(*options):
        if all(sum(sleeve.count(mass) for sleeve in joint) <= pairs for mass, pairs in there.pairs):
            yield joint


def _sleeves(there: Stock, load: Mass) -> Iterator[tuple[Mass, ...]]:
    for counts in product(*(range(pairs + 1) for _, pairs in there.pairs)):
        sleeve = tuple(
            mass for (mass, _), count in zip(there.pairs, counts, strict=True) for _ in range(count)
        )
        total = kg(20).grams() + 2 * sum(mass.grams() for mass in sleeve)
        if total == load.grams() and len(sleeve) <= there.most_on_sleeve:
            yield sleeve
