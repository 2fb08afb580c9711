"""Values as TOML text."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import msgspec

from callroom.exchange.quantities import plain

TomlValue = (
    str | int | bool | Decimal | date | datetime | list["TomlValue"] | Mapping[str, "TomlValue"]
)

_SHORT = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def toml_value(value: "TomlValue") -> str:
    """Return a value in one line: ``"text"``, ``12``, ``[1, 2]``, ``{ women = 2 }``."""
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime):
        return value.isoformat(sep=" ").replace("+00:00", "Z")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, list):
        return f"[{', '.join(toml_value(one) for one in value)}]"
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{key} = {toml_value(one)}" for key, one in value.items())
        return f"{{ {pairs} }}" if pairs else "{}"
    return plain(Decimal(value))


def toml_lines(text: str) -> str:
    """Return a text in a string of several lines, for people to edit."""
    inside = "".join(_escaped(sign) if sign not in "\n\t" else sign for sign in text)
    return f'"""\n{inside}"""'


def toml_pairs(values: Mapping[str, "TomlValue"]) -> str:
    """Return one line for each key."""
    return "".join(f"{key} = {toml_value(value)}\n" for key, value in values.items())


def _quoted(text: str) -> str:
    return f'"{"".join(_escaped(sign) for sign in text)}"'


def _escaped(sign: str) -> str:
    if sign in _SHORT:
        return _SHORT[sign]
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x20 or ord(sign) == 0x7F else sign


class Column(msgspec.Struct, frozen=True):
    """How one field of a struct is written: under which key, how, and when it is left out."""

    field: str
    usual: Any
    key: str = ""
    write: Callable[[Any], Any] = lambda value: value


def chosen(thing: msgspec.Struct, columns: tuple[Column, ...]) -> dict[str, "TomlValue"]:
    """Return the fields of `thing` that are not as usual, as a file writes them."""
    return {
        column.key or column.field: column.write(getattr(thing, column.field))
        for column in columns
        if getattr(thing, column.field) != column.usual
    }
