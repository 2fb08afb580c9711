"""Heat: the heat index, the wet-bulb globe temperature, and what published limits say of them.

Every limit here is guidance for planning: on the day the medical lead decides.
"""

from math import sqrt
from typing import Literal, get_args

import msgspec

HeatLevel = Literal["usual", "watch", "limit", "stop", "cancel"]
"""What the limits of 2007 say, from nothing to add up to no activity at all."""

LEVELS: tuple[HeatLevel, ...] = get_args(HeatLevel)

IndexBand = Literal["usual", "caution", "extreme_caution", "danger", "extreme_danger"]

# The table has no lower end to "more rest, shorter activity" for people not used to heat, and
# would say so on a winter's day: here it starts at 18 °C (common practice, no source).
_MILD_BELOW_F10 = 644

# ACSM position stand, exertional heat illness during training and competition, MSSE 39(3):
# 556-572, 2007; table 3 as reprinted in J Athl Train 51(8):593, 2016. Tenths of a degree
# Fahrenheit where the next row begins: people who are not used to heat, then people who are.
_UNUSED_FROM_F10: tuple[tuple[int, HeatLevel], ...] = (
    (901, "cancel"),
    (861, "stop"),
    (821, "limit"),
    (_MILD_BELOW_F10, "watch"),
)
_USED_FROM_F10: tuple[tuple[int, HeatLevel], ...] = (
    (901, "cancel"),
    (861, "limit"),
    (821, "watch"),
)

# American Academy of Pediatrics, restraints on activities at different levels of heat stress,
# table 1 (degrees Celsius).
_CHILDREN_FROM_C10: tuple[tuple[int, HeatLevel], ...] = (
    (290, "cancel"),
    (260, "limit"),
    (240, "watch"),
)

# National Weather Service, categories in current use (degrees Fahrenheit).
_BANDS_FROM_F: tuple[tuple[int, IndexBand], ...] = (
    (125, "extreme_danger"),
    (103, "danger"),
    (90, "extreme_caution"),
    (80, "caution"),
)
FULL_SUN_ADDS_F = 15
"""Full sun can add up to this to the heat index [°F] (National Weather Service)."""


class WorkRest(msgspec.Struct, frozen=True, kw_only=True):
    """Minutes of hard work and of rest in an hour, and water to drink in it.

    `work_min` is 60 where the table sets no limit.
    """

    work_min: int
    rest_min: int
    water_ml: int


_QUART_ML = 946.352946
MOST_WATER_ML_AN_HOUR = round(1.5 * _QUART_ML)
"""More than this in an hour risks too little sodium in the blood."""

# US Army heat guidance table (people used to heat, four hours): Fahrenheit tenths from which a
# row holds; hard work and rest [min]; quarts of water an hour.
_HARD_WORK: tuple[tuple[int, int, int, float], ...] = (
    (900, 10, 50, 1.0),
    (880, 20, 40, 1.0),
    (850, 30, 30, 1.0),
    (820, 30, 30, 1.0),
    (780, 40, 20, 0.75),
)


def fahrenheit(celsius: float) -> float:
    """Return degrees Celsius in degrees Fahrenheit."""
    return celsius * 9 / 5 + 32


def celsius(fahrenheit_: float) -> float:
    """Return degrees Fahrenheit in degrees Celsius."""
    return (fahrenheit_ - 32) * 5 / 9


def heat_index_f(temperature_f: float, humidity_percent: float) -> float:
    """Return the heat index in the shade [°F] by the National Weather Service's whole procedure.

    Source: The Heat Index Equation, NOAA NWS Weather Prediction Center (Rothfusz, technical
    attachment SR 90-23, 1990). Its error is about 1.3 °F.

    Parameters
    ----------
    temperature_f
        Of the air [°F].
    humidity_percent
        Relative humidity [%].
    """
    t, r = temperature_f, humidity_percent
    simple = (t + 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + r * 0.094)) / 2
    if simple < 80:
        return simple
    index = heat_index_regression_f(t, r)
    if r < 13 and 80 <= t <= 112:
        index -= (13 - r) / 4 * sqrt((17 - abs(t - 95)) / 17)
    elif r > 85 and 80 <= t <= 87:
        index += (r - 85) / 10 * ((87 - t) / 5)
    return index


def heat_index_regression_f(temperature_f: float, humidity_percent: float) -> float:
    """Return the regression alone, which the printed chart of the service shows [°F]."""
    t, r = temperature_f, humidity_percent
    return (
        -42.379
        + 2.04901523 * t
        + 10.14333127 * r
        - 0.22475541 * t * r
        - 0.00683783 * t * t
        - 0.05481717 * r * r
        + 0.00122874 * t * t * r
        + 0.00085282 * t * r * r
        - 0.00000199 * t * t * r * r
    )


def index_band(heat_index: float) -> IndexBand:
    """Return the weather service's category of a heat index [°F]."""
    return next((band for least, band in _BANDS_FROM_F if heat_index >= least), "usual")


def wet_bulb_globe_c(wet_bulb_c: float, globe_c: float, dry_bulb_c: float | None = None) -> float:
    """Return the wet-bulb globe temperature [°C].

    Source: ISO 7243:2017. With a dry bulb it is the one for the sun, without it the one for
    indoors and shade.
    """
    if dry_bulb_c is None:
        return 0.7 * wet_bulb_c + 0.3 * globe_c
    return 0.7 * wet_bulb_c + 0.2 * globe_c + 0.1 * dry_bulb_c


def heat_level(wbgt_c: float, *, used_to_heat: bool = False, children: bool = False) -> HeatLevel:
    """Return what the published limits say of a wet-bulb globe temperature [°C].

    The stricter of the table for adults and, where `children` take part, the table for them.
    """
    table = _USED_FROM_F10 if used_to_heat else _UNUSED_FROM_F10
    level = _level(table, round(fahrenheit(wbgt_c) * 10))
    if children:
        level = max(level, _level(_CHILDREN_FROM_C10, round(wbgt_c * 10)), key=LEVELS.index)
    return level


def heat_limits_c10(*, used_to_heat: bool, children: bool) -> tuple[int, int, int]:
    """Return from where to watch, to limit and to stop by the same tables [0.1 °C]."""
    first = {
        least: next(
            tenths
            for tenths in range(_COLDEST_C10, _HOTTEST_C10)
            if LEVELS.index(heat_level(tenths / 10, used_to_heat=used_to_heat, children=children))
            >= LEVELS.index(least)
        )
        for least in _NAMED
    }
    return first["watch"], first["limit"], first["stop"]


_COLDEST_C10, _HOTTEST_C10 = 0, 500
_NAMED: tuple[HeatLevel, ...] = ("watch", "limit", "stop")


def _level(table: tuple[tuple[int, HeatLevel], ...], tenths: int) -> HeatLevel:
    for least, level in table:
        if tenths >= least:
            return level
    return "usual"


def work_and_rest(wbgt_c: float) -> WorkRest | None:
    """Return hard work and rest in an hour at a wet-bulb globe temperature [°C]; None below.

    Source: US Army heat guidance table, for people used to heat and for four hours: others
    need more rest than it says.
    """
    tenths_f = round(fahrenheit(wbgt_c) * 10)
    for least, work_min, rest_min, quarts in _HARD_WORK:
        if tenths_f >= least:
            water_ml = round(quarts * _QUART_ML)
            return WorkRest(work_min=work_min, rest_min=rest_min, water_ml=water_ml)
    return None
