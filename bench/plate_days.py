"""Invented days of lifting, for the benchmark of the plates: 10 lanes, 60 heats.

Three divisions, each with a usual load for the heat and lanes up to 15 kg from it in steps of
2.5 kg; plates in pairs that are just enough for the heavy heats.
"""

import random
from decimal import Decimal

from callroom.model import Mass
from callroom.planner.plates.problem import PlateProblem, Stock, Want

LANES, HEATS = 10, 60
PAIRS = {"25": 4, "20": 6, "15": 6, "10": 10, "5": 10, "2.5": 10, "1.25": 10}


def kg(amount: str | int | Decimal) -> Mass:
    """Return a mass in kilograms."""
    return Mass(amount=Decimal(amount), unit="kg")


def lifting_day(seed: int, *, lanes: int = LANES, heats: int = HEATS) -> PlateProblem:
    """Return a day in which every lane wants a load of its own in every heat."""
    draw = random.Random(seed)
    wants = []
    for heat in range(heats):
        usual = draw.choice((40, 55, 70, 85, 100))
        for lane in range(lanes):
            load = Decimal(usual) + Decimal(draw.randrange(-6, 7)) * Decimal("2.5")
            wants.append(Want(place=str(lane), step=heat, loads=(kg(load),)))
    stock = Stock(
        bars=((kg(20), lanes),),
        pairs=tuple((kg(mass), count) for mass, count in PAIRS.items()),
    )
    return PlateProblem(
        places=tuple(str(lane) for lane in range(lanes)),
        steps=heats,
        wants=tuple(wants),
        stock=stock,
    )
