"""Wind, cold and lightning: what published guidance says of a reading."""

from typing import Literal

WindLevel = Literal["usual", "structures", "stop"]
"""Nothing to add; tents, arches and banners come down or are left; nothing goes on outdoors."""

_METRES_PER_SECOND_PER_MPH = 0.44704

# Inclement Weather Guidelines for Outdoor Events, Florida State University Emergency
# Management: 20 mph where tents or inflatables are in use, 35 mph for anything outdoors. What the
# supplier of a structure says of it comes first.
STRUCTURES_FROM_MPH, STOP_FROM_MPH = 20, 35

STRUCTURES_FROM_M_S = int(STRUCTURES_FROM_MPH * _METRES_PER_SECOND_PER_MPH)
STOP_FROM_M_S = int(STOP_FROM_MPH * _METRES_PER_SECOND_PER_MPH)

# NOAA: indoors at the first thunder, and for 30 minutes after the last.
LIGHTNING_WAIT_MIN = 30

# National Weather Service wind chill chart: frostbite within 30 minutes at or below this.
FROSTBITE_FROM_F = -18

_CHILL_AT_MOST_F, _CHILL_FROM_MPH = 50, 3


def mph(metres_per_second: float) -> float:
    """Return a wind speed in miles an hour."""
    return metres_per_second / _METRES_PER_SECOND_PER_MPH


def wind_level(gust_m_s: float) -> WindLevel:
    """Return what gusts of a speed [m/s] ask for."""
    gust_mph = mph(gust_m_s)
    if gust_mph > STOP_FROM_MPH:
        return "stop"
    return "structures" if gust_mph > STRUCTURES_FROM_MPH else "usual"


def wind_chill_f(temperature_f: float, wind_mph: float) -> float | None:
    """Return the wind chill temperature [°F], None where it is not defined.

    Source: US National Weather Service (2001), for at most 50 °F and at least 3 mph.
    """
    if temperature_f > _CHILL_AT_MOST_F or wind_mph < _CHILL_FROM_MPH:
        return None
    power: float = wind_mph**0.16
    return 35.74 + 0.6215 * temperature_f - 35.75 * power + 0.4275 * temperature_f * power
