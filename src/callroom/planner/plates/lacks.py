"""What would have to be borrowed so that every load could be reached."""

from collections.abc import Sequence

import msgspec
import numpy as np

from callroom.model.mass import Mass
from callroom.planner.plates.grid import Whole
from callroom.planner.plates.make_loadings import need_of
from callroom.planner.plates.problem import (
    Loaded,
    Loadings,
    PlateProblem,
    scale_of,
    wants_by_spot,
)
from callroom.planner.plates.states import State, Ways


class Lack(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Pieces that are missing, and the first step in which they are."""

    kind: str
    mass: Mass
    pieces: int
    step: int


def lacks(problem: PlateProblem, loadings: Loadings) -> tuple[Lack, ...]:
    """Return what would have to be borrowed for the loads that are not reached.

    With all of it every such load is reached; it is not proven to be the least. Loads that
    no number of plates of the kinds there are could make are left out.
    """
    stock, wanted, scale = problem.stock, wants_by_spot(problem), scale_of(problem)
    many = tuple((mass, stock.most_on_sleeve) for mass, _ in stock.pairs)
    plenty = Ways(msgspec.structs.replace(stock, pairs=many), scale)
    there = np.array([count for _, count in (*stock.pairs, *stock.bars)], dtype=np.int64)
    borrowed = np.zeros_like(there)
    first: dict[int, int] = {}
    for step in range(problem.steps):
        here = [one for one in loadings.loaded if one.step == step]
        held = [need_of(_state(problem, one), len(there)) for one in here if one.reached]
        left = there + borrowed - np.sum(held, axis=0, dtype=np.int64)
        for one in here:
            if one.reached:
                continue
            need = _cheapest(plenty.of(wanted[one.place, step], scale), left)
            if need is None:
                continue
            more = np.maximum(need - left, 0)
            for kind in np.flatnonzero(more):
                first.setdefault(int(kind), step)
            borrowed, left = borrowed + more, left + more - need
    return _listed(problem, borrowed, first)


def _cheapest(ways: Sequence[State], left: Whole) -> Whole | None:
    """Return what the way needs that asks for the fewest pieces beyond what is left."""
    needs = [need_of(state, len(left)) for state in ways]
    return min(needs, key=lambda need: int(np.maximum(need - left, 0).sum()), default=None)


def _listed(problem: PlateProblem, borrowed: Whole, first: dict[int, int]) -> tuple[Lack, ...]:
    plates = len(problem.stock.pairs)
    masses = [mass for mass, _ in (*problem.stock.pairs, *problem.stock.bars)]
    return tuple(
        Lack(
            kind="plate" if kind < plates else "bar",
            mass=masses[kind],
            pieces=int(borrowed[kind]) * (2 if kind < plates else 1),
            step=first[kind],
        )
        for kind in sorted(first)
    )


def _state(problem: PlateProblem, one: Loaded) -> State:
    bars = [mass for mass, _ in problem.stock.bars]
    counts = tuple(one.sleeve.count(mass) for mass, _ in problem.stock.pairs)
    return State(-1 if one.bar is None else bars.index(one.bar), counts)
