"""The reserve above critical power: it drains with work and comes back with rest.

Source: the differential form of 2015 in P. F. Skiba and D. C. Clarke, The W' Balance Model:
Mathematical and Methodological Considerations, IJSPP 16(11):1561-1572, 2021. The reserve is
kept here as a share of the whole, so 1 is fresh and 0 is spent.
"""

from typing import TypeVar

import numpy as np

from callroom.forecast.arrays import Floats

Number = TypeVar("Number", float, Floats)


def after_rest(reserve: Number, rest_s: Number, recovery_s: Number) -> Number:
    """Return the reserve after resting: the deficit shrinks by ``exp(-rest_s / recovery_s)``.

    `recovery_s` is W' / (CP - P): the whole reserve over the power below the critical one.
    """
    kept: Number = np.exp(-rest_s / recovery_s)
    return 1 - (1 - reserve) * kept


def drained_per_s(power_ratio: Number, span_s: Number) -> Number:
    """Return the share of the reserve a second of work takes; negative below critical power.

    `power_ratio` is P / CP and `span_s` W' / CP: the reserve in seconds of critical power.
    """
    return (power_ratio - 1) / span_s


def recovery_s(span_s: Number, rest_ratio: float) -> Number:
    """Return the time constant of recovery [s] at rest with power ``rest_ratio`` x CP."""
    return span_s / (1 - rest_ratio)
