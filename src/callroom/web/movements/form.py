"""The fields of a movement: a value for each name, and rows of lists with blank ones to fill in.

A field of the movement itself is named as in the data (``"start"``), one in a table with a dot
(``"judge.stands"``), one in a list by the row (``"no_reps.2.label"``), a box to tick with a
colon (``"capacities:pull"``).
"""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import msgspec

from callroom.model import Finding
from callroom.model.movement import THROUGHOUT, Movement
from callroom.web.movements.measures import write_measures

MOST_ROWS = 40
TICKED = "yes"

PLAIN = ("id", "name", "many", "family", "load", "start", "finish")
TABLES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "judge": ("stands", "watches"),
        "space": ("length_m", "width_m", "height_m", "says"),
    }
)
TICKS = ("settings", "capacities")
LINES = ("together", "cautions")
LISTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "points": ("at", "landmark", "says", "measures", "unless", "only_with"),
        "variations": ("id", "name", "says", "usual", "strain_percent"),
        "no_reps": ("id", "label", "says", "cost", "unless", "only_with"),
        "counting": ("unit", "counts", "mark"),
        "kit": ("item", "count", "per"),
        "cadence": ("unit", "level", "low", "high", "source", "who"),
        "figures": ("stage", "pose", "caption", "of"),
    }
)
BLANKS: Mapping[str, int] = MappingProxyType({"points": 2, "no_reps": 2})
"""How many empty rows stand below a list; one where nothing is said."""


class MovementForm(msgspec.Struct, frozen=True, kw_only=True):
    """A movement's form.

    `values` has what stands in each field by name, `rows` how many rows each list shows, and
    `faults` what is wrong, by the name of the field it concerns.
    """

    values: Mapping[str, str]
    rows: Mapping[str, int]
    faults: Mapping[str, Finding] = {}

    def value(self, name: str) -> str:
        """Return what stands in a field."""
        return self.values.get(name, "")

    @property
    def first_fault(self) -> str:
        """The topmost field with something wrong, to go on at; empty if all is well."""
        return min(self.faults, key=_place, default="")

    def stages(self) -> tuple[str, ...]:
        """Return the stages that a point can be at."""
        drawn = (self.value(f"figures.{row}.stage") for row in range(self.rows["figures"]))
        typed = (self.value(f"points.{row}.at") for row in range(self.rows["points"]))
        known = dict.fromkeys(("start", "finish", THROUGHOUT, *drawn, *typed))
        return tuple(one for one in known if one)

    def variations(self) -> tuple[tuple[str, str], ...]:
        """Return the variations that can be named, as ids and names."""
        rows = range(self.rows["variations"])
        named = ((self.value(f"variations.{row}.id"), row) for row in rows)
        return tuple((one, self.value(f"variations.{row}.name")) for one, row in named if one)


def _place(field: str) -> tuple[int, int]:
    """Return where a field stands in the form, from the top."""
    name, *rest = re.split(r"[.:]", field)
    row = int(rest[0]) if rest and rest[0].isascii() and rest[0].isdigit() else 0
    return (_FROM_TOP.index(name) if name in _FROM_TOP else len(_FROM_TOP), row)


_FROM_TOP = (
    *("name", "many", "family", "load", "start", "finish", "points", "no_reps", "variations"),
    *("judge", "counting", "together", "kit", "space", "cadence", "settings", "capacities"),
    *("cautions", "figures"),
)


def form_of(movement: Movement, faults: Mapping[str, Finding] | None = None) -> MovementForm:
    """Return the form of a movement as it stands, with empty rows to add to."""
    values = {name: getattr(movement, name) for name in PLAIN}
    for table, names in TABLES.items():
        values |= {
            f"{table}.{name}": str(getattr(getattr(movement, table), name)) for name in names
        }
    for name in TICKS:
        values |= {f"{name}:{one}": TICKED for one in getattr(movement, name)}
    for name in LINES:
        values[name] = "\n".join(getattr(movement, name))
    for name, columns in LISTS.items():
        for row, thing in enumerate(getattr(movement, name)):
            values |= {f"{name}.{row}.{column}": _cell(thing, column, row) for column in columns}
    rows = {name: len(getattr(movement, name)) + BLANKS.get(name, 1) for name in LISTS}
    return MovementForm(values=values, rows=rows, faults=faults or {})


def _cell(thing: Any, column: str, row: int) -> str:  # noqa: ANN401 - a row of any list
    if column == "of":
        return str(row)
    value = getattr(thing, column)
    return write_measures(value) if column == "measures" else str(value)


def typed_form(
    typed: Mapping[str, str], faults: Mapping[str, Finding], *, more: bool = False
) -> MovementForm:
    """Return the form as it was typed; with `more` each list has further empty rows."""
    rows = {
        name: min(_rows_in(typed, name) + (BLANKS.get(name, 1) if more else 0), MOST_ROWS)
        for name in LISTS
    }
    return MovementForm(values=typed, rows=rows, faults=faults)


def _rows_in(typed: Mapping[str, str], name: str) -> int:
    steps = (field.split(".") for field in typed if field.startswith(f"{name}."))
    numbers = (
        int(step[1])
        for step in steps
        if len(step) == 3 and step[1].isascii() and step[1].isdigit() and len(step[1]) < 3
    )
    return min(max(numbers, default=-1) + 1, MOST_ROWS)
