"""The reserve above critical power: it drains with work and comes back with rest.

Source: the differential form of 2015 in P. F. Skiba and D. C. Clarke, The W' Balance Model:
Mathematical and Methodological Considerations, IJSPP 16(11):1561-1572, 2021. What is kept here
is the share of the reserve that is spent: 0 is fresh, 1 is empty.
"""

from typing import TypeVar

import numpy as np

from callroom.forecast.arrays import Floats

Number = TypeVar("Number", float, Floats)


def after_rest(spent: Floats, rest_s: Floats, recovery_s: Floats | float) -> Floats:
    """Return what is still spent after resting: it shrinks by ``exp(-rest_s / recovery_s)``.

    `recovery_s` is W' / (CP - P): the whole reserve over the power below the critical one.
    """
    kept = rest_s * (-1 / recovery_s)
    np.exp(kept, out=kept)
    kept *= spent
    return kept


def spent_per_s(power_ratio: Floats, span_s: Floats | float) -> Floats:
    """Return the share of the reserve a second of work takes; negative below critical power.

    `power_ratio` is P / CP and `span_s` W' / CP: the reserve in seconds of critical power.
    """
    taken = power_ratio - 1
    taken *= 1 / span_s
    return taken


def recovery_s(span_s: Number, rest_ratio: float) -> Number:
    """Return the time constant of recovery [s] at rest with power ``rest_ratio`` x CP."""
    return span_s / (1 - rest_ratio)
