"""Loads and heights as a director types them: ``"43 kg / 95 lb"``, ``"2 x 15 kg"``, ``"60 cm"``."""

import re
from decimal import Decimal

from callroom.model import PublishedHeight, PublishedLoad
from callroom.model.mass import MassUnit
from callroom.views.wording import decimal

_NUMBER = r"(\d{1,4}(?:[.,]\d{1,3})?)"
_LOAD = re.compile(
    rf"(?:(\d{{1,2}})\s*[x×]\s*)?{_NUMBER}\s*(kg|lb)?(?:\s*/\s*{_NUMBER}\s*(kg|lb))?", re.ASCII
)
_HEIGHT = re.compile(rf"{_NUMBER}\s*(cm|m|in|ft)?(?:\s*/\s*{_NUMBER}\s*(cm|m|in|ft))?", re.ASCII)
# A metre is 100 cm and a foot 12 in, exactly (international foot, 1959).
_METRIC = {"cm": Decimal(1), "m": Decimal(100)}
_FOOT = {"in": Decimal(1), "ft": Decimal(12)}


def read_load(text: str, unit: MassUnit) -> PublishedLoad | None:
    """Return a load for nobody in particular, in the event's `unit` where none is typed."""
    found = _LOAD.fullmatch(text.strip().casefold())
    if found is None:
        return None
    times, first, first_unit, second, second_unit = found.groups()
    said = {first_unit or unit: _decimal(first)}
    if second is not None:
        if second_unit in said:
            return None
        said[second_unit] = _decimal(second)
    return PublishedLoad(kg=said.get("kg"), lb=said.get("lb"), count=int(times or 1))


def write_load(load: PublishedLoad) -> str:
    """Return a load as :func:`read_load` reads it."""
    times = f"{load.count} x " if load.count != 1 else ""
    return times + _both((load.kg, "kg"), (load.lb, "lb"))


def read_height(text: str, unit: MassUnit) -> PublishedHeight | None:
    """Return a height for nobody in particular; centimetres, or inches where pounds are usual."""
    found = _HEIGHT.fullmatch(text.strip().casefold())
    if found is None:
        return None
    first, first_unit, second, second_unit = found.groups()
    cm = inch = None
    for number, given in ((first, first_unit), (second, second_unit)):
        named = given or ("cm" if unit == "kg" else "in")
        if number is None:
            continue
        if named in _METRIC:
            if cm is not None:
                return None
            cm = _decimal(number) * _METRIC[named]
        elif inch is not None:
            return None
        else:
            inch = _decimal(number) * _FOOT[named]
    return PublishedHeight(cm=cm, inch=inch)


def write_height(height: PublishedHeight) -> str:
    """Return a height as :func:`read_height` reads it."""
    return _both((height.cm, "cm"), (height.inch, "in"))


def _both(*amounts: tuple[Decimal | None, str]) -> str:
    return " / ".join(f"{decimal(one)} {unit}" for one, unit in amounts if one is not None)


def _decimal(text: str) -> Decimal:
    return Decimal(text.replace(",", "."))
