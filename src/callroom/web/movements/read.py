"""From a posted form to a movement, with every fault at its field."""

import re
import unicodedata
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import msgspec

from callroom.model import Finding
from callroom.model.movement import Movement
from callroom.standards import read_movement
from callroom.web.movements.form import LINES, LISTS, PLAIN, TABLES, TICKS, MovementForm
from callroom.web.movements.measures import read_measures

# A row counts as filled in if one of these has text; choices alone make no row.
_SAID = {
    "points": ("says", "measures"),
    "variations": ("name", "says"),
    "no_reps": ("label", "says"),
    "counting": ("counts",),
    "kit": ("item",),
    "cadence": ("low", "high", "source"),
    "figures": ("pose",),
}
_WHOLE = frozenset({"mark", "count", "strain_percent"})
_NUMBERS = frozenset({"low", "high", "length_m", "width_m", "height_m"})
_NAMED_BY = {"variations": "name", "no_reps": "label"}
_LONGEST_ID = 40


class ReadForm(msgspec.Struct, frozen=True, kw_only=True):
    """The movement of a form, None with `faults`, which are by the name of their field."""

    movement: Movement | None
    faults: Mapping[str, Finding]


def read_form(form: MovementForm, base: Movement) -> ReadForm:
    """Return what a form says; figures keep the things that are drawn in those of `base`."""
    reader = _Reader(form, base)
    read = read_movement(reader.table())
    faults = dict(reader.faults)
    for finding in read.findings:
        if finding.severity == "error":
            faults.setdefault(reader.field(str(finding.facts["key"])), plain(finding))
    return ReadForm(movement=None if faults else read.movements[0], faults=faults)


def plain(finding: Finding) -> Finding:
    """Return a finding that is told beside its field, so without its place."""
    return msgspec.structs.replace(finding, facts={**finding.facts, "file": "", "key": ""})


def free_id(name: str, taken: frozenset[str]) -> str:
    """Return an id made of a name's letters and digits: ``"log_pull"``, numbered if taken."""
    bare = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = "_".join(re.findall(r"[a-z0-9]+", bare))[:_LONGEST_ID].strip("_")
    made = words if words[:1].isalpha() else f"own_{words}".strip("_")
    number, found = 1, made
    while found in taken:
        number += 1
        found = f"{made[: _LONGEST_ID - 4]}_{number}"
    return found


class _Reader:
    """Reads the fields; remembers which row of the form became which row of the data."""

    def __init__(self, form: MovementForm, base: Movement) -> None:
        self._form = form
        self._base = base
        self._rows: dict[str, list[int]] = {}
        self.faults: dict[str, Finding] = {}

    def table(self) -> dict[str, Any]:
        """Return the whole movement as a table of data."""
        value = self._form.value
        table: dict[str, Any] = {name: value(name) for name in PLAIN}
        for name, columns in TABLES.items():
            table[name] = {
                column: self._typed(f"{name}.{column}", value(f"{name}.{column}"))
                for column in columns
            }
        for name in TICKS:
            table[name] = self._ticked(name)
        for name in LINES:
            table[name] = [line.strip() for line in value(name).splitlines() if line.strip()]
        for name in LISTS:
            table[name] = self._list(name)
        return table

    def field(self, key: str) -> str:
        """Return the field that a place in the data concerns: ``"no_reps 2, label"``."""
        steps = [step.split(" ") for step in key.split(", ")] if key else [["name"]]
        name = steps[0][0]
        if name in LISTS:
            number = int(steps[0][1]) if len(steps[0]) > 1 else 0
            rows = self._rows[name]
            row = rows[number - 1] if 0 < number <= len(rows) else 0
            column = steps[1][0] if len(steps) > 1 else ""
            known = column in LISTS[name] and column != "id"
            return f"{name}.{row}.{column if known else _SAID[name][0]}"
        if name in TABLES:
            return f"{name}.{steps[1][0] if len(steps) > 1 else TABLES[name][0]}"
        return name if name != "id" else "name"

    def _ticked(self, name: str) -> list[str]:
        """Return what is ticked, first what was before: the first one says what it is above all."""
        start = f"{name}:"
        ticked = [one[len(start) :] for one in self._form.values if one.startswith(start)]
        before = [one for one in getattr(self._base, name) if one in ticked]
        return [*before, *(one for one in ticked if one not in before)]

    def _list(self, name: str) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = []
        kept: list[int] = []
        for row in range(self._form.rows[name]):
            cells = {column: self._form.value(f"{name}.{row}.{column}") for column in LISTS[name]}
            if not any(cells[column] for column in _SAID[name]):
                continue
            found.append(self._row(name, row, cells, found))
            kept.append(row)
        self._rows[name] = kept
        return found

    def _row(
        self, name: str, row: int, cells: dict[str, str], before: list[dict[str, Any]]
    ) -> dict[str, Any]:
        if name in _NAMED_BY and not cells["id"]:
            taken = frozenset(one["id"] for one in before)
            cells["id"] = free_id(cells[_NAMED_BY[name]], taken)
        if name == "figures":
            return self._figure(cells)
        made: dict[str, Any] = {
            column: self._typed(f"{name}.{row}.{column}", text) for column, text in cells.items()
        }
        if name == "points":
            made["measures"], odd = read_measures(cells["measures"])
            if odd:
                self.faults[f"points.{row}.measures"] = Finding(
                    rule="movement.measure_unreadable",
                    severity="error",
                    subject=f"points.{row}.measures",
                    facts={"given": odd[:60]},
                )
        return {
            key: value for key, value in made.items() if value != "" or key in {"says", "label"}
        }

    def _figure(self, cells: dict[str, str]) -> dict[str, Any]:
        """Return a figure with the things around it that the one it was begun from has."""
        made = {column: cells[column] for column in ("stage", "pose", "caption")}
        figures = self._base.figures
        of = int(cells["of"]) if cells["of"].isascii() and cells["of"].isdigit() else len(figures)
        if of < len(figures):
            return {**msgspec.to_builtins(figures[of]), **made}
        return made

    def _typed(self, field: str, text: str) -> Any:  # noqa: ANN401 - as the data has it
        """Return a field's text as the kind of value its column has; 1 for a faulty number."""
        column = field.rpartition(".")[2]
        if column not in _WHOLE | _NUMBERS or (column in _WHOLE and not text):
            return text
        form = r"\d{1,6}" if column in _WHOLE else r"\d{1,4}(?:[.,]\d{1,3})?"
        if re.fullmatch(form, text, re.ASCII):
            return int(text) if column in _WHOLE else Decimal(text.replace(",", "."))
        rule = "entry.count_unreadable" if column in _WHOLE else "movement.number_unreadable"
        self.faults[field] = Finding(
            rule=rule, severity="error", subject=field, facts={"given": text[:40]}
        )
        return 1
