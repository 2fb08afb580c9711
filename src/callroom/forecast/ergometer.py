"""Pace, power and calories on an air-braked rowing or ski ergometer."""

# Source: the usual monitor relation, watts = 2.80 / (seconds per metre)^3.
WATTS_AT_1_S_PER_M = 2.80


def watts(pace_s_per_m: float) -> float:
    """Return the power [W] at a pace [s/m]."""
    return WATTS_AT_1_S_PER_M / pace_s_per_m**3


def kcal_shown(work_kj: float, seconds: float) -> float:
    """Return the calories a monitor shows [kcal] for mechanical work [kJ] and time [s].

    Four times the mechanical work and 0.35 kJ a second for moving oneself, at 4.2 kJ a
    calorie. Source: the constants of Dudhia, The Physics of Ergometers, section 11.
    """
    return (4 * work_kj + 0.35 * seconds) / 4.2


def seconds_per_kcal(pace: float) -> float:
    """Return how long one calorie takes [s] at a pace [s/m]."""
    return 1 / kcal_shown(watts(pace) / 1000, 1)
