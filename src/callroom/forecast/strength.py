"""Repetitions in one go at a share of the most that can be lifted once.

Source: B. Epley, Boyd Epley Workout, 1985: the most lifted once is w (1 + r / 30). Between
two and ten repetitions it lies within the other published formulas and the usual training load
chart; beyond ten it is carried on for want of better, as the formulas hold for ten or fewer.
"""

from typing import TypeVar

from callroom.forecast.arrays import Floats

Number = TypeVar("Number", float, Floats)

EPLEY = 30


def drained_per_rep(share: Number) -> Number:
    """Return the part of a full set that one repetition takes at `share` of the maximum.

    One over the repetitions possible, r = 30 (1 / share - 1), for shares below 1.
    """
    return share / (EPLEY * (1 - share))
