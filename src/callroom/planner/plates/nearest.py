"""What can be loaded instead of a load that is not reached."""

from collections.abc import Sequence

from callroom.model.mass import Mass
from callroom.planner.plates.states import State, Ways


def loadable(ways: Ways, left: Sequence[int], only: Mass | None = None) -> dict[int, State]:
    """Return every mass that can be loaded from what is left, each with the fewest plates.

    `left` are pairs of each kind of plate, then bars of each kind; `only` is the one bar
    that may be used; None: any.
    """
    kinds, room = len(ways.plates), ways.stock.most_on_sleeve
    sleeves: dict[int, tuple[int, ...]] = {0: ()}
    for kind, mass in enumerate(ways.plates):
        more: dict[int, tuple[int, ...]] = {}
        for weight, counts in sleeves.items():
            for count in range(min(left[kind], room - sum(counts)) + 1):
                longer = (*counts, count)
                best = more.get(weight + count * mass)
                if best is None or sum(longer) < sum(best):
                    more[weight + count * mass] = longer
        sleeves = more
    return {
        base + 2 * weight: State(bar, counts)
        for bar, base in enumerate(ways.bars)
        if left[kinds + bar] > 0
        and (only is None or only.grams() == ways.stock.bars[bar][0].grams())
        for weight, counts in sleeves.items()
    }


def nearest(
    ways: Ways, left: Sequence[int], loads: Sequence[int], bar: Mass | None = None
) -> State | None:
    """Return the loading nearest to any of the loads, the lighter of two; None: no bar left.

    `bar` is the bar it must be; None: any.
    """
    masses = loadable(ways, left, bar)
    if not masses:
        return None
    best = min(masses, key=lambda mass: (min(abs(mass - load) for load in loads), mass))
    return masses[best]


def around(ways: Ways, load: int, bar: Mass | None = None) -> tuple[int | None, int | None]:
    """Return the nearest masses below and above a load that the whole stock can make."""
    everything = [*ways.pairs, *(count for _, count in ways.stock.bars)]
    masses = loadable(ways, everything, bar)
    below = max((mass for mass in masses if mass <= load), default=None)
    above = min((mass for mass in masses if mass >= load), default=None)
    return below, above
