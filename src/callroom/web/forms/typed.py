"""Reading what fast hands type: times, counts, loads."""

import re
from decimal import Decimal

from callroom.model import Mass
from callroom.model.mass import MassUnit

LONGEST = 40
_MOST_COUNT = 1_000_000
_CLOCK = re.compile(r"(?:(\d{1,2}):)?(\d{1,3}):(\d{2})(?:[.,](\d{1,3}))?", re.ASCII)
_DIGITS = re.compile(r"(\d{1,6})(?:[.,](\d{1,3}))?", re.ASCII)
_COUNT = re.compile(r"\d{1,7}", re.ASCII)
_LOAD = re.compile(r"(\d{1,4}(?:[.,]\d{1,3})?)\s*(kg|lb)?", re.ASCII | re.IGNORECASE)


def read_time_ms(text: str) -> int | None:
    """Return a time [ms] typed with or without its colon, or None if it is none.

    ``"7:32"``, ``"7:32.4"``, ``"1:05:00"``; on a number pad ``"732"`` is 7:32, ``"45"``
    is 0:45 and ``"10500"`` is 1:05:00: the last two digits are seconds.
    """
    plain = text.strip()
    clock = _CLOCK.fullmatch(plain)
    if clock is not None:
        hours, minutes, seconds, fraction = clock.groups()
        return _milliseconds(int(hours or 0), int(minutes), int(seconds), fraction, hours)
    digits = _DIGITS.fullmatch(plain)
    if digits is None:
        return None
    number, fraction = int(digits[1]), digits[2]
    hours_typed = number // 10000
    return _milliseconds(
        hours_typed, number // 100 % 100, number % 100, fraction, str(hours_typed or "")
    )


def _milliseconds(
    hours: int, minutes: int, seconds: int, fraction: str | None, hours_typed: str | None
) -> int | None:
    if seconds > 59 or (hours_typed and minutes > 59):
        return None
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + int((fraction or "0").ljust(3, "0"))


def read_count(text: str) -> int | None:
    """Return a whole number of at most seven digits, or None if it is none."""
    plain = text.strip()
    if _COUNT.fullmatch(plain) is None or int(plain) > _MOST_COUNT:
        return None
    return int(plain)


def read_mass(text: str, unit: MassUnit) -> Mass | None:
    """Return a load as typed, in the event's `unit` unless another is typed behind it."""
    found = _LOAD.fullmatch(text.strip())
    if found is None:
        return None
    typed = (found[2] or unit).lower()
    return Mass(amount=Decimal(found[1].replace(",", ".")), unit="lb" if typed == "lb" else "kg")
