"""What the last readings of the weather mean, floor by floor."""

from collections.abc import Iterator

import msgspec

from callroom.model import Event, Fact, Finding, State
from callroom.model.finding import Severity
from callroom.model.safety import SafetyFacts, Weather
from callroom.safety import (
    heat_index_f,
    heat_level,
    index_band,
    wet_bulb_globe_c,
    wind_chill_f,
    wind_level,
    work_and_rest,
)
from callroom.safety.heat import FULL_SUN_ADDS_F, celsius, fahrenheit
from callroom.safety.weather import FROSTBITE_FROM_F, LIGHTNING_WAIT_MIN, mph

_HOT_FROM_C10 = 250
"""From here a reading without a globe is worth a word (common practice, no source)."""


class WeatherTold(msgspec.Struct, frozen=True, kw_only=True):
    """A reading or a forecast with what it means; `floor` is the floor's name."""

    weather: Weather
    floor: str
    wbgt_c10: int | None
    points: tuple[Finding, ...]

    @property
    def alarming(self) -> bool:
        """Whether something must be done."""
        return any(point.severity == "warning" for point in self.points)


def weather_now(state: State, event: Event, now_ms: int) -> tuple[WeatherTold, ...]:
    """Return the last reading of each floor, and the next forecast for it, in that order."""
    told = []
    for floor in event.floors:
        own = [one for one in state.weather.values() if one.floor == floor.id]
        read = [one for one in own if not one.forecast and one.at_ms <= now_ms]
        ahead = [one for one in own if one.forecast and one.at_ms > now_ms]
        if read:
            told.append(
                weather_told(max(read, key=_at), floor.name, state.safety, outdoor=floor.outdoor)
            )
        if ahead:
            told.append(
                weather_told(min(ahead, key=_at), floor.name, state.safety, outdoor=floor.outdoor)
            )
    return tuple(told)


def _at(weather: Weather) -> int:
    return weather.at_ms


def weather_told(weather: Weather, floor: str, facts: SafetyFacts, *, outdoor: bool) -> WeatherTold:
    """Return what a reading means for a floor; `outdoor`: the sun may shine on it."""
    wbgt_c = _wbgt_c(weather, outdoor=outdoor)
    points = (*_thunder(weather), *_heat(weather, wbgt_c, facts), *_wind(weather))
    return WeatherTold(
        weather=weather,
        floor=floor,
        wbgt_c10=None if wbgt_c is None else round(wbgt_c * 10),
        points=points,
    )


def _wbgt_c(weather: Weather, *, outdoor: bool) -> float | None:
    if weather.wet_bulb_c10 is None or weather.globe_c10 is None:
        return None
    dry = weather.air_c10 if outdoor else None
    return wet_bulb_globe_c(
        weather.wet_bulb_c10 / 10, weather.globe_c10 / 10, None if dry is None else dry / 10
    )


def _thunder(weather: Weather) -> Iterator[Finding]:
    if weather.thunder:
        yield _point("thunder_now", "warning", wait_min=LIGHTNING_WAIT_MIN)


def _heat(weather: Weather, wbgt_c: float | None, facts: SafetyFacts) -> Iterator[Finding]:
    if wbgt_c is not None:
        level = heat_level(wbgt_c, used_to_heat=facts.used_to_heat, children=facts.minors)
        severity: Severity = "note" if level in {"usual", "watch"} else "warning"
        yield _point(f"heat_{level}", severity)
        work = work_and_rest(wbgt_c)
        if work is not None and level != "cancel":
            yield _point(
                "work_rest",
                work_min=work.work_min,
                rest_min=work.rest_min,
                water_ml=work.water_ml,
            )
    if weather.air_c10 is None:
        return
    if weather.humidity_percent is not None:
        index_f = heat_index_f(fahrenheit(weather.air_c10 / 10), weather.humidity_percent)
        band = index_band(index_f)
        if band != "usual":
            yield _point(
                "index",
                "note" if band == "caution" else "warning",
                index_c=f"{celsius(index_f):.0f}",
                band=band,
                sun_c=f"{FULL_SUN_ADDS_F * 5 / 9:.0f}",
            )
    if wbgt_c is None and weather.air_c10 >= _HOT_FROM_C10:
        yield _point("no_globe", "warning")


def _wind(weather: Weather) -> Iterator[Finding]:
    if weather.gust_m_s10 is None:
        return
    gust = weather.gust_m_s10 / 10
    level = wind_level(gust)
    if level != "usual":
        yield _point(f"wind_{level}", "warning", gust=f"{gust:.1f}")
    if weather.air_c10 is None:
        return
    chill_f = wind_chill_f(fahrenheit(weather.air_c10 / 10), mph(gust))
    if chill_f is not None and chill_f <= 32:
        freezes = chill_f <= FROSTBITE_FROM_F
        yield _point(
            "frostbite" if freezes else "chill",
            "warning" if freezes else "note",
            chill_c=f"{celsius(chill_f):.0f}",
        )


def _point(rule: str, severity: Severity = "note", **facts: Fact) -> Finding:
    return Finding(rule=f"safety.{rule}", severity=severity, subject="weather", facts=facts)
