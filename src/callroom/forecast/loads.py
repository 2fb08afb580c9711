"""The load that is published for an athlete."""

from collections.abc import Sequence

from callroom.model.mass import GRAMS_PER_POUND, PublishedLoad


def grams(load: PublishedLoad) -> float:
    """Return the mass of all the implements one athlete holds [g]."""
    if load.kg is not None:
        return float(load.kg) * 1000 * load.count
    if load.lb is not None:
        return float(load.lb) * float(GRAMS_PER_POUND) * load.count
    return 0.0


def load_g(loads: Sequence[PublishedLoad], category: str) -> float:
    """Return the load for an athlete of `category` [g]; nought if none is published."""
    own = [load for load in loads if load.category == category]
    for load in own or [load for load in loads if not load.category]:
        return grams(load)
    return 0.0
