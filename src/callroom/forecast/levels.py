"""How good a division's athletes are taken to be."""

import math
from collections.abc import Mapping
from types import MappingProxyType

from callroom.forecast.loads import grams
from callroom.forecast.parameters import athlete_model
from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.steps import loads_for

# Common practice, no source: directors publish lighter loads for whom they take to be weaker,
# and lighten them by about twice what strength differs.
LOADS_PER_STRENGTH = 2.0
HEAVIEST_ABOVE_USUAL = 0.2
BOUNDS = (-0.5, 1.2)


def guessed_levels(event: Event) -> Mapping[str, float]:
    """Return a level for every division by id: 0 intermediate, 1 advanced.

    Divisions whose loads differ from the heaviest are taken to be weaker; where no loads
    differ, all are at the usual level of 0.5. A director who knows better says so.
    """
    usual = athlete_model().levels.usual
    lighter = {division.id: _lighter(event, division) for division in event.divisions}
    if max(lighter.values(), default=0.0) == min(lighter.values(), default=0.0):
        return MappingProxyType(dict.fromkeys(lighter, usual))
    strongest = usual + HEAVIEST_ABOVE_USUAL
    per_level = athlete_model().growth.strength * LOADS_PER_STRENGTH
    low, high = BOUNDS
    return MappingProxyType(
        {
            division: round(min(max(strongest + gap / per_level, low), high), 2)
            for division, gap in lighter.items()
        }
    )


def _lighter(event: Event, division: Division) -> float:
    """Return the mean logarithm of the division's loads over the heaviest; nought or less."""
    gaps = []
    for workout in event.workouts:
        for part in workout.parts:
            for task in (task for block in part.blocks for task in block.tasks):
                heaviest: dict[str, float] = {}
                for other in event.divisions:
                    for load in loads_for(task, other):
                        known = heaviest.get(load.category, 0.0)
                        heaviest[load.category] = max(known, grams(load))
                gaps += [
                    math.log(grams(load) / heaviest[load.category])
                    for load in loads_for(task, division)
                    if grams(load) > 0
                ]
    return sum(gaps) / len(gaps) if gaps else 0.0
