"""How pace falls with distance, and how long a power above the critical one can be held."""

import math

# Source: P. S. Riegel, Athletic Records and Human Endurance, American Scientist 69(3):285-290,
# 1981: times over two distances, a straight line in log-log from 3.5 minutes to 3 h 50 min.
RIEGEL_EXPONENT = 1.06
RIEGEL_FROM_S = 210
RIEGEL_UNTIL_S = 13_800


def time_over_s(distance_m: float, known_m: float, known_s: float) -> float:
    """Return the time over `distance_m` [s] of somebody who covers `known_m` in `known_s`.

    The endurance formula of Riegel (1981); it holds for times between ``RIEGEL_FROM_S`` and
    ``RIEGEL_UNTIL_S``.
    """
    return known_s * math.pow(distance_m / known_m, RIEGEL_EXPONENT)


def limit_time_s(power_w: float, critical_w: float, reserve_j: float) -> float:
    """Return how long `power_w` can be held [s]: the reserve over the power above critical.

    Source: the critical power relation as in Skiba, Chidnok, Vanhatalo and Jones, Med Sci
    Sports Exerc 44(8):1526-1532, 2012; useful between about 2 and 30 minutes. Infinite at or
    below the critical power.
    """
    above_w = power_w - critical_w
    return reserve_j / above_w if above_w > 0 else float("inf")


def held_power_w(time_s: float, critical_w: float, reserve_j: float) -> float:
    """Return the power that can just be held for `time_s` [W]: the same relation turned round."""
    return critical_w + reserve_j / time_s
