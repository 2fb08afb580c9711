"""How pace falls with distance, and how long a power above the critical one can be held."""

import math

# Source: P. S. Riegel, Athletic Records and Human Endurance, American Scientist 69(3):285-290,
# 1981: times over two distances, a straight line in log-log from 3.5 minutes to 3 h 50 min.
RIEGEL_EXPONENT = 1.06


def time_over_s(distance_m: float, known_m: float, known_s: float) -> float:
    """Return the time over `distance_m` [s] of somebody who covers `known_m` in `known_s`.

    The endurance formula of Riegel (1981), for times from 3.5 minutes to 3 h 50 min.
    """
    return known_s * math.pow(distance_m / known_m, RIEGEL_EXPONENT)


def held_power_w(time_s: float, critical_w: float, reserve_j: float) -> float:
    """Return the power that can just be held for `time_s` [W]: critical power, and the reserve
    spread over the time.

    Source: the critical power relation as in Skiba, Chidnok, Vanhatalo and Jones, Med Sci
    Sports Exerc 44(8):1526-1532, 2012; useful between about 2 and 30 minutes.
    """
    return critical_w + reserve_j / time_s
