"""The values of an event file as the texts of a form, and back."""

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation
from typing import Any

import msgspec
from msgspec.structs import replace

from callroom.bootstrap.event_asking import FaultyEvent, event_values, read_event_values, slug
from callroom.model import Event, Finding
from callroom.web.event_pages.asked import Field, Part, Rows

NEW = "new"
"""Stands for the id of a row that is being added."""

MOST_ROWS = 200
_WHOLE_MINUTES = re.compile(r"(\d{1,2}):00")
_FOR_EVER = "until erased"
_BARE = re.compile(r"\d{1,4}")
_WAVES = "wishes.waves"


class SetupForm(msgspec.Struct, frozen=True, kw_only=True):
    """What is typed, by field, the rows there are of each table, and what is wrong beside what.

    A field of a row is named by the table, the row and its own key: ``"floors.main.lanes"``.
    """

    texts: Mapping[str, str]
    rows: Mapping[str, tuple[str, ...]]
    faults: Mapping[str, Finding] = {}

    def text(self, name: str) -> str:
        """Return what stands in a field; empty if nothing does."""
        return self.texts.get(name, "")

    def chosen(self, name: str) -> tuple[str, ...]:
        """Return what is chosen of several."""
        return tuple(one for one in self.text(name).split(",") if one)

    def fault(self, name: str) -> Finding | None:
        """Return what is wrong with a field, or None."""
        return self.faults.get(name)


def row_field(rows: Rows, row: str, field: Field) -> str:
    """Return the name of a field of a row."""
    return ".".join(step for step in (rows.key, row, field.key) if step)


def written_form(event: Event, part: Part) -> SetupForm:
    """Return the event as it stands, as far as `part` asks for it."""
    values = _values(event)
    texts = {field.key: _written(field, _found(values, field.key)) for field in part.fields}
    listed: dict[str, tuple[str, ...]] = {}
    for rows in part.rows:
        table = _found(values, rows.key) or ()
        named = table if isinstance(table, dict) else {str(n): v for n, v in enumerate(table, 1)}
        kept: dict[str, Any] = dict(named)
        listed[rows.key] = (*kept, NEW)
        for row, one in kept.items():
            for field in rows.fields:
                value = _found(one, field.key) if field.key else one
                texts[row_field(rows, row, field)] = _written(field, value)
    return SetupForm(texts=texts, rows=listed)


def typed_form(part: Part, posted: Mapping[str, str]) -> SetupForm:
    """Return what was typed, to be shown again."""
    texts = _joined(posted)
    listed = {
        rows.key: (*(row for row in _posted_rows(rows, texts) if row != NEW), NEW)
        for rows in part.rows
    }
    return SetupForm(texts=texts, rows=listed)


def read_form(event: Event, part: Part, posted: Mapping[str, str]) -> Event | SetupForm:
    """Return the event with what was posted in it, or the form with what is wrong in it.

    Workouts and movements stay as they are, unless the day's start moves: times that are told
    on the clock then stay where they are on it.
    """
    posted = _joined(posted)
    base = _on_day(event, posted)
    values = _values(base)
    for field in part.fields:
        _put(values, field, field.key, posted)
    typed_as: dict[str, str] = {}
    listed: dict[str, tuple[str, ...]] = {}
    for rows in part.rows:
        listed[rows.key] = _put_rows(values, rows, posted, typed_as)
    _put_waves(values)
    try:
        read = read_event_values(values)
    except FaultyEvent as fault:
        faults = dict(_beside(part, fault.findings, typed_as, listed))
        return SetupForm(texts=posted, rows=listed, faults=faults)
    if read.start_s == base.start_s and read.zone == base.zone:
        read = replace(read, workouts=event.workouts)
    return replace(read, movements=event.movements)


def _joined(posted: Mapping[str, str]) -> dict[str, str]:
    """Return the texts with what is chosen one by one, ``"early~open"``, as one list."""
    joined: dict[str, str] = {}
    for name, text in posted.items():
        field, several, _ = name.partition("~")
        if not several:
            joined[name] = text
        elif text.strip():
            joined[field] = f"{joined[field]},{text}" if joined.get(field) else text
    return joined


def _values(event: Event) -> dict[str, Any]:
    values = event_values(event)
    waves = values.get("wishes", {}).pop("waves", [])
    if waves:
        numbered = {one: n for n, wave in enumerate(waves, 1) for one in wave}
        values["wishes"]["waves"] = numbered
    return values


def _put_waves(values: dict[str, Any]) -> None:
    numbered = values.get("wishes", {}).get("waves")
    if isinstance(numbered, dict):
        wrong = [one for one in numbered.values() if not isinstance(one, int)]
        waves = sorted({n for n in numbered.values() if isinstance(n, int)})
        lists: list[Any] = [[one for one, n in numbered.items() if n == wave] for wave in waves]
        values["wishes"]["waves"] = lists + wrong
        if not lists + wrong:
            del values["wishes"]["waves"]


def _on_day(event: Event, posted: Mapping[str, str]) -> Event:
    """Return the event on the day that is posted: what is planned moves with the day."""
    try:
        return replace(event, day=date.fromisoformat(posted.get("event.day", "").strip()))
    except ValueError:
        return event


def _found(values: Any, key: str) -> Any:  # noqa: ANN401 - values of a file are of any kind
    for step in key.split("."):
        if not isinstance(values, dict) or step not in values:
            return None
        values = values[step]
    return values


def _set(values: dict[str, Any], key: str, value: Any) -> None:  # noqa: ANN401 - as above
    *steps, last = key.split(".")
    for step in steps:
        values = values.setdefault(step, {})
    if value is None:
        values.pop(last, None)
    else:
        values[last] = value


def _written(field: Field, value: Any) -> str:  # noqa: ANN401 - as above
    if value is None:
        return field.usual
    if field.kind == "tick":
        return "yes" if value else ""
    if field.kind == "days" and value == _FOR_EVER:
        return ""
    whole_minutes = _WHOLE_MINUTES.fullmatch(str(value)) if field.kind == "span" else None
    if whole_minutes is not None:
        return f"{whole_minutes[1]} min"
    if isinstance(value, list):
        between = ", " if field.kind in {"numbers", "wholes"} else ","
        return between.join(map(str, value))
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="minutes")
    if isinstance(value, time):
        return value.isoformat(timespec="minutes")
    return str(value)


def _put(values: dict[str, Any], field: Field, key: str, posted: Mapping[str, str]) -> None:
    _set(values, key, _read(field, posted.get(key, "").strip()))


def _put_rows(
    values: dict[str, Any], rows: Rows, posted: Mapping[str, str], typed_as: dict[str, str]
) -> tuple[str, ...]:
    """Put the posted rows in the place of those there are; return their names in the form.

    `typed_as` takes the name in the form for a row's path in the file, where they differ.
    """
    before = _found(values, rows.key) or {}
    found: dict[str, Any] = {}
    shown = _posted_rows(rows, posted)
    for row in shown:
        if posted.get(f"{rows.key}.{row}.remove"):
            continue
        kept = before.get(row) if rows.by_id and isinstance(before, dict) else None
        one = _row(rows, row, posted, dict(kept) if isinstance(kept, dict) else {})
        if row == NEW and not _begun(rows, posted):
            continue
        name = row if row != NEW else _new_id(rows, posted, before)
        found[name] = one
        path = name if rows.by_id else str(len(found))
        typed_as[f"{rows.key}.{path}"] = f"{rows.key}.{row}"
    told: Any = found if rows.by_id else list(found.values())
    _set(values, rows.key, told or None)
    return (*(row for row in shown if row != NEW), NEW)


def _posted_rows(rows: Rows, posted: Mapping[str, str]) -> list[str]:
    start = f"{rows.key}."
    found: dict[str, None] = {}
    for name in posted:
        if name.startswith(start):
            found[name[len(start) :].split(".", 1)[0]] = None
    return list(found)[:MOST_ROWS]


def _row(rows: Rows, row: str, posted: Mapping[str, str], one: dict[str, Any]) -> Any:  # noqa: ANN401
    for field in rows.fields:
        value = _read(field, posted.get(row_field(rows, row, field), "").strip())
        if not field.key:
            return value or ""
        _set(one, field.key, value)
    return {key: value for key, value in one.items() if value != {}}


def _begun(rows: Rows, posted: Mapping[str, str]) -> bool:
    """Whether anything was typed into the empty row."""
    fields = (field for field in rows.fields if field.kind != "tick")
    return any(
        posted.get(row_field(rows, NEW, field), "").strip() not in {"", field.usual}
        for field in fields
    )


def _new_id(rows: Rows, posted: Mapping[str, str], before: Any) -> str:  # noqa: ANN401
    named = ".".join(step for step in (rows.key, NEW, rows.named) if step)
    usual = rows.key.rpartition(".")[2]
    stem = slug(posted.get(named, ""), usual)
    stem = stem if stem[0].isalpha() else f"{usual}-{stem}"[:40]
    taken = set(before) if isinstance(before, dict) else set()
    taken |= {"all", "anyone", "everyone", "pair", NEW}
    ways = (stem, *(f"{stem[:36]}-{n}" for n in range(2, MOST_ROWS + 3)))
    return next(one for one in ways if one not in taken)


def _read(field: Field, text: str) -> Any:  # noqa: ANN401 - as above
    if field.kind == "tick":
        return bool(text)
    if field.kind == "days" and not text:
        return _FOR_EVER
    if not text:
        return None
    return _READERS.get(field.kind, str)(text)


def _whole(text: str) -> int | str:
    return int(text) if text.isascii() and text.removeprefix("-").isdigit() else text


def _number(text: str) -> Decimal | str:
    try:
        return Decimal(text.replace(",", "."))
    except InvalidOperation:
        return text


def _span(text: str) -> str:
    """Return a length of time; a bare number is minutes, as the page says."""
    return f"{text} min" if _BARE.fullmatch(text) else text


def _moment(text: str) -> str | datetime:
    if len(text) > len("12:30:00"):
        try:
            return datetime.fromisoformat(text)
        except ValueError:
            return text
    return text


def _several(text: str) -> Iterator[str]:
    return (one.strip() for one in text.split(",") if one.strip())


_READERS: Mapping[str, Callable[[str], Any]] = {
    "moment": _moment,
    "span": _span,
    "whole": _whole,
    "days": _whole,
    "number": _number,
    "numbers": lambda text: [_number(one) for one in _several(text)],
    "wholes": lambda text: [_whole(one) for one in _several(text)],
    "ticks": lambda text: list(_several(text)),
    "picks": lambda text: list(_several(text)),
}


def _beside(
    part: Part,
    findings: tuple[Finding, ...],
    typed_as: Mapping[str, str],
    listed: Mapping[str, tuple[str, ...]],
) -> Iterator[tuple[str, Finding]]:
    """Give each finding with the field it stands beside; one without a field by its own name."""
    fields = {field.key: field.label for field in part.fields}
    for rows in part.rows:
        for row in listed[rows.key]:
            fields |= {row_field(rows, row, field): field.label for field in rows.fields}
    seen: set[str] = set()
    for finding in findings:
        wanted = str(finding.facts.get("wanted", ""))
        name = f"{finding.subject}.{wanted}" if wanted else finding.subject
        for path, typed in typed_as.items():
            if name == path or name.startswith(f"{path}."):
                name = typed + name[len(path) :]
                break
        beside = next((one for one in fields if one == name or one.startswith(f"{name}.")), "")
        while not beside and "." in name:
            name = name.rpartition(".")[0]
            beside = name if name in fields else ""
        told = {
            key: value
            for key, value in finding.facts.items()
            if key not in {"file", "row", "column"}
        }
        label = fields.get(beside, "")
        if label:
            told |= {key: label for key in ("key", "wanted") if key in told}
        where = beside or finding.subject
        if where not in seen:
            seen.add(where)
            yield where, replace(finding, facts=told)
