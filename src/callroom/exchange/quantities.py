"""Durations, loads and heights as a coach types them, and back to text.

Every reader raises :class:`Unreadable`, which says what form was expected; whoever called
knows the place and makes the finding.
"""

import re
from decimal import Decimal

from callroom.model import CallroomError

LONGEST_S = 7 * 24 * 3600
"""Longest duration a file may give [s]: a week, far beyond any day of competition."""

_CLOCKED = re.compile(r"(?:(\d{1,3}):)?(\d{1,4}):([0-5]\d)")
_NUMBER = r"\d{1,6}(?:[.,]\d{1,4})?"
_SPOKEN_PART = re.compile(rf"\s*({_NUMBER})\s*([a-z]+)\s*(?:,|and\s)?")
_UNIT_S = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), 1),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), 60),
    **dict.fromkeys(("h", "hour", "hours"), 3600),
}
_TIMES = r"(?:(\d{1,2})\s*[x×]\s*)?"
_PAIR = rf"({_NUMBER})\s*([a-z]+)(?:\s*/\s*({_NUMBER})\s*([a-z]+))?"
_LOAD = re.compile(_TIMES + _PAIR)
_HEIGHT = re.compile(_PAIR)

# A metre is 100 cm and a foot 12 in, exactly (international foot, 1959).
_CENTIMETRES = {"cm": Decimal(1), "m": Decimal(100)}
_INCHES = {"in": Decimal(1), "ft": Decimal(12)}
_KILOGRAMS = {"kg": Decimal(1)}
_POUNDS = {"lb": Decimal(1), "lbs": Decimal(1)}


class Unreadable(CallroomError):
    """A text that is not of the form named by its rule."""


def read_duration_ms(text: str) -> int:
    """Return a duration [ms]: ``"12:00"``, ``"1:05:00"``, ``"45 s"``, ``"1 h 30 min"``."""
    duration_ms = _duration_ms(text.strip().casefold())
    if duration_ms is None:
        raise Unreadable("toml.no_duration", given=text)
    if duration_ms > LONGEST_S * 1000:
        raise Unreadable("toml.duration_long", given=text, most=write_duration(LONGEST_S))
    return duration_ms


def read_duration_s(text: str) -> int:
    """Return a duration in whole seconds; see :func:`read_duration_ms`."""
    duration_ms = read_duration_ms(text)
    if duration_ms % 1000:
        raise Unreadable("toml.duration_split", given=text)
    return duration_ms // 1000


def _duration_ms(text: str) -> int | None:
    clocked = _CLOCKED.fullmatch(text)
    if clocked is not None:
        hours, minutes, seconds = (int(part or 0) for part in clocked.groups())
        if clocked[1] is not None and minutes > 59:
            return None
        return (hours * 3600 + minutes * 60 + seconds) * 1000
    total = Decimal(0)
    at = 0
    while at < len(text):
        part = _SPOKEN_PART.match(text, at)
        if part is None or part[2] not in _UNIT_S:
            return None
        total += _decimal(part[1]) * _UNIT_S[part[2]] * 1000
        at = part.end()
    return int(total) if text and total == int(total) else None


def write_duration(duration_s: int) -> str:
    """Return whole seconds as :func:`read_duration_s` reads them: ``"45 s"``, ``"12:00"``."""
    if duration_s < 60 or (duration_s < 120 and duration_s % 60):
        return f"{duration_s} s"
    minutes, seconds = divmod(duration_s, 60)
    if minutes < 60:
        return f"{minutes}:{seconds:02}"
    return f"{minutes // 60}:{minutes % 60:02}:{seconds:02}"


def write_milliseconds(duration_ms: int) -> str:
    """Return milliseconds as :func:`read_duration_ms` reads them: ``"1 s"``, ``"0.01 s"``."""
    return f"{plain(Decimal(duration_ms) / 1000)} s"


def read_load(text: str) -> tuple[int, Decimal | None, Decimal | None]:
    """Return how many one athlete holds, and the load in kg and in lb as published.

    ``"43 kg / 95 lb"``, ``"2 x 15 kg"``, ``"95 lb"``.
    """
    match = _LOAD.fullmatch(text.strip().casefold())
    if match is None or match[1] in {"0", "00"}:
        raise Unreadable("toml.no_load", given=text)
    kg, lb = _both(match.groups()[1:], _KILOGRAMS, _POUNDS, "toml.no_load", text)
    return int(match[1] or 1), kg, lb


def write_load(count: int, kg: Decimal | None, lb: Decimal | None) -> str:
    """Return a load as :func:`read_load` reads it."""
    times = f"{count} x " if count != 1 else ""
    return times + _written(((kg, "kg"), (lb, "lb")))


def read_height(text: str) -> tuple[Decimal | None, Decimal | None]:
    """Return a height in cm and in inches as published: ``"60 cm / 24 in"``, ``"3 m / 10 ft"``."""
    match = _HEIGHT.fullmatch(text.strip().casefold())
    if match is None:
        raise Unreadable("toml.no_height", given=text)
    return _both(match.groups(), _CENTIMETRES, _INCHES, "toml.no_height", text)


def write_height(cm: Decimal | None, inch: Decimal | None) -> str:
    """Return a height as :func:`read_height` reads it, high ones in metres and feet."""
    metric, imperial = (cm, "cm"), (inch, "in")
    if cm is not None and cm >= 200:
        metric = (cm / 100, "m")
    if inch is not None and inch >= 72 and not inch % 12:
        imperial = (inch / 12, "ft")
    return _written((metric, imperial))


def _both(
    pair: tuple[str | None, ...],
    metric: dict[str, Decimal],
    other: dict[str, Decimal],
    rule: str,
    text: str,
) -> tuple[Decimal | None, Decimal | None]:
    said: dict[str, Decimal] = {}
    for number, unit in (pair[:2], pair[2:]):
        if number is None or unit is None:
            continue
        side = "metric" if unit in metric else "other"
        factor = metric.get(unit) or other.get(unit)
        if factor is None or side in said:
            raise Unreadable(rule, given=text)
        said[side] = _decimal(number) * factor
    return said.get("metric"), said.get("other")


def _written(amounts: tuple[tuple[Decimal | None, str], ...]) -> str:
    return " / ".join(f"{plain(amount)} {unit}" for amount, unit in amounts if amount is not None)


def _decimal(text: str) -> Decimal:
    return Decimal(text.replace(",", "."))


def plain(amount: Decimal) -> str:
    """Return a decimal without exponent and without noughts at its end."""
    return f"{amount.normalize():f}" if amount else "0"
