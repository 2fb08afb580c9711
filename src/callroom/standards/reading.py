"""From TOML tables to structs, with every fault of a file found at once."""

import difflib
from collections.abc import Mapping
from decimal import Decimal
from types import UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin

import msgspec

from callroom.model import Fact, Finding
from callroom.standards.rules import RULES

MOST_SHOWN = 60
"""Characters of a given value that a message quotes."""

MOST_WRITTEN: int = 10**60

Built = TypeVar("Built", bound=msgspec.Struct)


class Place:
    """Where reading is in a file, and the faults found in it so far."""

    def __init__(
        self, file: str, path: tuple[str, ...] = (), faults: list[Finding] | None = None
    ) -> None:
        """Start at `path` of `file`; places below share the same list of faults."""
        self.file = file
        self.path = path
        self.faults: list[Finding] = [] if faults is None else faults

    def below(self, *steps: str) -> "Place":
        """Return the place one step further down."""
        return Place(self.file, (*self.path, *steps), self.faults)

    @property
    def key(self) -> str:
        """The place as a person reads it."""
        return ", ".join(self.path)

    def fault(self, rule: str, /, **facts: Fact) -> None:
        """Keep what `rule` finds here."""
        found = RULES.found(rule, self.key, file=self.file, key=self.key, **facts)
        self.faults.append(msgspec.structs.replace(found, source=f"{self.file}: {self.key}"))


def shown(value: object) -> str:
    """Return a value as it was typed, cut to a length that a message can quote."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | dict):
        return "[…]" if isinstance(value, list) else "{…}"
    if isinstance(value, int) and abs(value) >= MOST_WRITTEN:
        return "…"  # Python refuses to write thousands of digits
    text = "".join(
        sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in str(value)
    )
    return text if len(text) <= MOST_SHOWN else text[: MOST_SHOWN - 1] + "…"


def nearest(given: str, known: tuple[str, ...]) -> str:
    """Return the known word most like `given`; empty if none is like it."""
    found = difflib.get_close_matches(given[:100], known, n=1, cutoff=0.6)
    return found[0] if found else ""


def read_struct(kind: type[Built], table: object, place: Place) -> Built | None:
    """Return `table` as a struct of `kind`, or None after noting every fault of it."""
    if not isinstance(table, dict):
        place.fault("standards.no_table", given=shown(table))
        return None
    before = len(place.faults)
    fields = {field.name: field for field in msgspec.structs.fields(kind)}
    tag = kind.__struct_config__.tag_field
    for key in table:
        if key not in fields and key != tag:
            known = tuple(fields)
            place.below(key).fault(
                "standards.key_unknown", near=nearest(key, known), known=", ".join(known)
            )
    values = {}
    for name, field in fields.items():
        if name in table:
            values[name] = _read(field.type, table[name], place.below(name))
        elif field.required:
            place.below(name).fault("standards.key_missing")
    return None if len(place.faults) > before else kind(**values)


def _read(kind: Any, value: object, place: Place) -> Any:  # noqa: ANN401 - any field's type
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
        return read_struct(kind, value, place)
    origin, choices = get_origin(kind), get_args(kind)
    if origin is tuple and choices[-1] is Ellipsis:
        return _read_list(choices[0], value, place)
    if origin in {Union, UnionType} and _all_structs(choices):
        return _read_tagged(choices, value, place)
    return _read_value(kind, value, place)


def _all_structs(kinds: tuple[Any, ...]) -> bool:
    return all(isinstance(kind, type) and issubclass(kind, msgspec.Struct) for kind in kinds)


def _read_list(kind: Any, value: object, place: Place) -> tuple[Any, ...]:  # noqa: ANN401
    if not isinstance(value, list | tuple):
        place.fault("standards.no_list", given=shown(value))
        return ()
    return tuple(
        _read(kind, item, Place(place.file, _numbered(place.path, number), place.faults))
        for number, item in enumerate(value, start=1)
    )


def _numbered(path: tuple[str, ...], number: int) -> tuple[str, ...]:
    return (*path[:-1], f"{path[-1]} {number}")


def _read_tagged(kinds: tuple[Any, ...], value: object, place: Place) -> Any:  # noqa: ANN401
    if not isinstance(value, dict):
        place.fault("standards.no_table", given=shown(value))
        return None
    tags = {kind.__struct_config__.tag: kind for kind in kinds}
    field = kinds[0].__struct_config__.tag_field
    given = value.get(field)
    if field not in value:
        place.below(field).fault("standards.key_missing")
    elif not isinstance(given, str) or given not in tags:
        _no_such_choice(given, tuple(tags), place.below(field))
    else:
        return read_struct(tags[given], value, place)
    return None


def _no_such_choice(given: object, choices: tuple[str, ...], place: Place) -> None:
    near = nearest(given, choices) if isinstance(given, str) else ""
    place.fault(
        "standards.no_such_choice", given=shown(given), near=near, choices=", ".join(choices)
    )


def _read_value(kind: Any, value: object, place: Place) -> Any:  # noqa: ANN401
    if get_origin(kind) is Literal:
        if value not in get_args(kind) or isinstance(value, bool):
            _no_such_choice(value, get_args(kind), place)
            return None
        return value
    try:
        read = msgspec.convert(value, kind)
    except msgspec.ValidationError:
        place.fault("standards.wrong_kind", given=shown(value), wanted=_WANTED.get(kind, "number"))
        return None
    numbers: tuple[Any, ...] = read if isinstance(read, tuple) else (read,)
    # Written so that "not a number", which TOML allows, is out of bounds too.
    if any(
        isinstance(one, float | Decimal) and not abs(float(one)) <= MOST_NUMBER for one in numbers
    ):
        place.fault(
            "standards.number_bounds", given=shown(value), least=-MOST_NUMBER, most=MOST_NUMBER
        )
        return None
    return read


MOST_NUMBER = 1000
_WANTED: Mapping[Any, str] = {str: "text", int: "whole number", bool: "true or false"}
