"""Heat, cold and wind against published charts and tables; the sources are beside each check."""

from typing import Any

import pytest

from callroom.safety.heat import (
    FULL_SUN_ADDS_F,
    MOST_WATER_ML_AN_HOUR,
    celsius,
    fahrenheit,
    heat_index_f,
    heat_index_regression_f,
    heat_level,
    index_band,
    wet_bulb_globe_c,
    work_and_rest,
)
from callroom.safety.weather import wind_chill_f

# Heat Index Information, US National Weather Service, Tulsa office: chart in degrees Fahrenheit,
# http://www.srh.noaa.gov/tsa/?n=heatindex. Row i is for 80 + 2i °F; short rows end with the chart.
HUMIDITY = range(40, 101, 5)
CHART = (
    (80, 80, 81, 81, 82, 82, 83, 84, 84, 85, 86, 86, 87),
    (81, 82, 83, 84, 84, 85, 86, 88, 89, 90, 91, 93, 95),
    (83, 84, 85, 86, 88, 89, 90, 92, 94, 96, 98, 100, 103),
    (85, 87, 88, 89, 91, 93, 95, 97, 100, 102, 105, 108, 112),
    (88, 89, 91, 93, 95, 98, 100, 103, 106, 110, 113, 117, 121),
    (91, 93, 95, 97, 100, 103, 106, 109, 113, 117, 122, 127, 132),
    (94, 96, 99, 101, 105, 108, 112, 116, 121, 126, 131),
    (97, 100, 103, 106, 110, 114, 119, 124, 129, 135),
    (101, 104, 108, 112, 116, 121, 126, 132),
    (105, 109, 113, 117, 123, 128, 134),
    (109, 114, 118, 124, 129, 136),
    (114, 119, 124, 130, 137),
    (119, 124, 131, 137),
    (124, 130, 137),
    (130, 137),
    (136,),
)
CELLS = [
    (80 + 2 * row, humidity, shown)
    for row, line in enumerate(CHART)
    for humidity, shown in zip(HUMIDITY, line, strict=False)
]


def test_the_regression_is_the_printed_chart_but_for_one_cell() -> None:
    assert len(CELLS) == 135
    off = [(t, r, shown) for t, r, shown in CELLS if round(heat_index_regression_f(t, r)) != shown]
    assert off == [(90, 45, 93)]  # 92.49: the chart itself rounds up
    assert max(abs(heat_index_regression_f(t, r) - shown) for t, r, shown in CELLS) < 0.51


def test_the_whole_procedure_differs_only_where_the_chart_leaves_an_adjustment_out() -> None:
    off = {(t, r) for t, r, shown in CELLS if round(heat_index_f(t, r)) != shown}
    assert len(CELLS) - len(off) == 126
    assert all(t <= 86 and r >= 90 for t, r in off - {(90, 45)})
    assert max(heat_index_f(t, r) - heat_index_regression_f(t, r) for t, r, _ in CELLS) <= 2.11


def test_mild_air_has_the_simple_formula() -> None:
    # The same page: below 80 °F of their mean, the simple formula averaged with the temperature.
    assert heat_index_f(70, 50) == pytest.approx((70 + 0.5 * (70 + 61 + 2.4 + 4.7)) / 2)
    assert heat_index_f(95, 10) < heat_index_regression_f(95, 10)


@pytest.mark.parametrize(
    ("index", "band"),
    [
        (79.9, "usual"),
        (80, "caution"),
        (90, "extreme_caution"),
        (103, "danger"),
        (124.9, "danger"),
        (125, "extreme_danger"),
    ],
)
def test_bands_are_those_of_the_weather_service(index: float, band: str) -> None:
    # What is heat index (NWS categories in current use),
    # https://w12thrd.blogspot.com/2015/07/what-is-heat-index.html
    assert index_band(index) == band
    assert FULL_SUN_ADDS_F == 15


@pytest.mark.parametrize(
    ("readings", "wbgt"),
    [
        ({"wet_bulb_c": 25, "globe_c": 32}, 27.1),
        ({"wet_bulb_c": 25, "globe_c": 32, "dry_bulb_c": 20}, 25.9),
    ],
)
def test_wet_bulb_globe_temperature(readings: dict[str, Any], wbgt: float) -> None:
    # ISO 7243:2017 as implemented in pythermalcomfort 4.8.1, its documented examples.
    assert wet_bulb_globe_c(**readings) == pytest.approx(wbgt)


@pytest.mark.parametrize(
    ("wbgt_f", "unused", "used"),
    [
        (82.0, "watch", "usual"),
        (82.1, "limit", "watch"),
        (86.0, "limit", "watch"),
        (86.1, "stop", "limit"),
        (90.0, "stop", "limit"),
        (90.1, "cancel", "cancel"),
    ],
)
def test_limits_for_adults(wbgt_f: float, unused: str, used: str) -> None:
    # ACSM position stand, MSSE 39(3):556-572, 2007, table 3, reprinted in J Athl Train
    # 51(8):593, 2016.
    at_c = celsius(wbgt_f)
    assert heat_level(at_c) == unused
    assert heat_level(at_c, used_to_heat=True) == used


@pytest.mark.parametrize(
    ("wbgt_c", "level"), [(23.9, "usual"), (24.0, "watch"), (26, "limit"), (29, "cancel")]
)
def test_limits_for_children(wbgt_c: float, level: str) -> None:
    # AAP, restraints on activities at different levels of heat stress, table 1.
    assert heat_level(wbgt_c, used_to_heat=True, children=True) == level


def test_children_are_never_allowed_more() -> None:
    levels = ("usual", "watch", "limit", "stop", "cancel")
    for tenths in range(150, 350):
        for used in (True, False):
            alone = heat_level(tenths / 10, used_to_heat=used)
            with_children = heat_level(tenths / 10, used_to_heat=used, children=True)
            assert levels.index(with_children) >= levels.index(alone)


@pytest.mark.parametrize(
    ("wbgt_f", "work_rest", "quarts"),
    [
        (78.0, (40, 20), 0.75),
        (82.0, (30, 30), 1.0),
        (87.9, (30, 30), 1.0),
        (88.0, (20, 40), 1.0),
        (90.0, (10, 50), 1.0),
    ],
)
def test_work_and_rest(wbgt_f: float, work_rest: tuple[int, int], quarts: float) -> None:
    # US Army heat guidance table, hard work, http://www.irwin.amedd.army.mil/pages/wbgt.htm
    found = work_and_rest(celsius(wbgt_f))
    assert found is not None
    assert (found.work_min, found.rest_min) == work_rest
    assert found.water_ml == pytest.approx(quarts * 946.35, abs=1)
    assert found.water_ml <= MOST_WATER_ML_AN_HOUR
    assert work_and_rest(celsius(77.9)) is None


def test_degrees_go_both_ways() -> None:
    assert [fahrenheit(degrees) for degrees in (-40, 0, 37, 100)] == [-40, 32, 98.6, 212]
    assert celsius(fahrenheit(21.5)) == pytest.approx(21.5)


# National Weather Service wind chill chart, in force since November 2001, as reprinted at
# http://home1.gte.net/res09v44/windchill.htm: wind 5 to 60 mph in steps of 5.
CHILL = {
    40: (36, 34, 32, 30, 29, 28, 28, 27, 26, 26, 25, 25),
    20: (13, 9, 6, 4, 3, 1, 0, -1, -2, -3, -3, -4),
    0: (-11, -16, -19, -22, -24, -26, -27, -29, -30, -31, -32, -33),
    -20: (-34, -41, -45, -48, -51, -53, -55, -57, -58, -60, -61, -62),
    -45: (-63, -72, -77, -81, -84, -87, -89, -91, -93, -95, -97, -98),
}


def test_wind_chill_is_the_published_chart() -> None:
    for temperature_f, line in CHILL.items():
        made = tuple(round(wind_chill_f(temperature_f, mph) or 0) for mph in range(5, 61, 5))
        assert made == line
    assert wind_chill_f(51, 20) is None
    assert wind_chill_f(20, 2) is None
