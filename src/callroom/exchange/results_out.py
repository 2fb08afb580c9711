"""Results as files: CSV and XLSX for people, JSON for programs."""

import io
import re
from collections.abc import Callable, Iterator
from datetime import date, datetime
from decimal import Decimal

import msgspec
import xlsxwriter

from callroom.exchange.csv_out import CsvValue, csv_bytes, is_formula_like
from callroom.model.words import N_

RESULTS_FORMAT = 1
"""Version of the JSON form, described in ``docs/formats.md``."""

Say = Callable[[str], str]

_PLAIN_POINTS = re.compile(r"-?[0-9]{1,12}(?:\.[0-9]{1,6})?")
_NOT_IN_SHEET_NAMES = re.compile(r"[\[\]:*?/\\']")
_LONGEST_SHEET_NAME = 31
_LONGEST_XLSX_TEXT = 32_767


class ResultPart(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One team's result in one scored part.

    Attributes
    ----------
    place, points
        None and an empty text where there are none.
    result
        As it is said: ``"7:32"``, ``"cap + 23 done"``.
    outcome, time_ms, work, distance_m, load_g, tiebreak_ms
        The same as values; `load_g` is an exact number of grams, maybe a fraction.
    """

    workout: str
    workout_name: str
    part: str
    part_name: str = ""
    place: int | None = None
    points: str = ""
    result: str = ""
    outcome: str = ""
    time_ms: int | None = None
    work: int | None = None
    distance_m: int | None = None
    load_g: str | None = None
    tiebreak_ms: int | None = None
    confirmed: bool = False


class ResultRow(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One team overall; `standing` says why it has no place where it has none."""

    division: str
    division_name: str
    team: str
    team_name: str
    place: int | None = None
    standing: str = ""
    points: str = ""
    parts: tuple[ResultPart, ...] = ()


class Results(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """All results of an event at one moment, in the order in which they are listed.

    Attributes
    ----------
    as_of
        When they were taken from the book.
    final
        Every division was posted as final.
    seal
        The printed seal of the journal they rest on; empty without one.
    rehearsal, invented
        They are no real results; every file says so.
    """

    event: str
    event_name: str
    day: date
    as_of: datetime
    rows: tuple[ResultRow, ...]
    final: bool = False
    seal: str = ""
    rehearsal: bool = False
    invented: bool = False


def results_json(results: Results) -> bytes:
    """Return results as JSON, exact numbers as texts."""
    fields = {"format": "callroom results", "version": RESULTS_FORMAT}
    return msgspec.json.format(
        msgspec.json.encode(fields | msgspec.to_builtins(results, str_keys=True)), indent=1
    )


def results_csv(results: Results, say: Say = str) -> bytes:
    """Return results as one CSV table, one row for each team; headings in the words of `say`."""
    note = " ".join(_warnings(results, say))
    marked: list[CsvValue] = [note] if note else []
    headings: list[CsvValue] = [*_headings(results.rows, say)]
    heading: list[CsvValue] = [say(N_("Note"))] if note else []
    return csv_bytes([headings + heading, *(_cells(row) + marked for row in results.rows)])


def results_xlsx(results: Results, say: Say = str) -> bytes:
    """Return results as a workbook with a sheet for each division, and one that says what it is."""
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        book.set_properties(
            {"title": results.event_name, "created": results.as_of.replace(tzinfo=None)}
        )
        names = _SheetNames()
        for division, rows in _by_division(results.rows):
            sheet = book.add_worksheet(names.free(division))
            page = _Page(book, sheet)
            page.headings(_headings(rows, say))
            for row in rows:
                page.row(_cells(row))
        about = _Page(book, book.add_worksheet(names.free(say(N_("About")))))
        for line in _about(results, say):
            about.row(line)
    return stream.getvalue()


def _headings(rows: tuple[ResultRow, ...], say: Say) -> list[str]:
    first = [N_("Division"), N_("Place"), N_("Team id"), N_("Team"), N_("Points"), N_("Standing")]
    headings = [say(word) for word in first]
    for part in rows[0].parts if rows else ():
        name = f"{part.workout_name}: {part.part_name}" if part.part_name else part.workout_name
        columns = (N_("{part}, result"), N_("{part}, place"), N_("{part}, points"))
        headings += [say(column).format(part=name) for column in columns]
    return headings


def _cells(row: ResultRow) -> list[CsvValue]:
    cells: list[CsvValue] = [
        row.division_name,
        row.place,
        row.team,
        row.team_name,
        _points(row.points),
        row.standing,
    ]
    for part in row.parts:
        cells += [part.result, part.place, _points(part.points)]
    return cells


def _points(text: str) -> CsvValue:
    return Decimal(text) if _PLAIN_POINTS.fullmatch(text) else text


def _by_division(rows: tuple[ResultRow, ...]) -> Iterator[tuple[str, tuple[ResultRow, ...]]]:
    for division in dict.fromkeys(row.division for row in rows):
        mine = tuple(row for row in rows if row.division == division)
        yield mine[0].division_name, mine


def _about(results: Results, say: Say) -> Iterator[list[CsvValue]]:
    yield [say(N_("Event")), results.event_name]
    yield [say(N_("Day")), results.day.isoformat()]
    yield [say(N_("As of")), results.as_of.isoformat(sep=" ", timespec="seconds")]
    yield [say(N_("State")), say(N_("final")) if results.final else say(N_("not final"))]
    if results.seal:
        yield [say(N_("Seal")), results.seal]
    for warning in _warnings(results, say):
        yield [warning]


def _warnings(results: Results, say: Say) -> list[str]:
    """Return what must be said before anybody believes the results."""
    warnings = []
    if results.rehearsal:
        warnings.append(say(N_("REHEARSAL: these are no real results.")))
    if results.invented:
        warnings.append(say(N_("Everything in this event is invented.")))
    return warnings


class _SheetNames:
    """Names of sheets as a workbook allows them: short, without some signs, each once."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def free(self, wanted: str) -> str:
        plain = _NOT_IN_SHEET_NAMES.sub(" ", wanted).strip() or "–"
        name, number = plain[:_LONGEST_SHEET_NAME], 1
        while name.casefold() in self._taken or name.casefold() == "history":
            number += 1
            tail = f" {number}"
            name = plain[: _LONGEST_SHEET_NAME - len(tail)] + tail
        self._taken.add(name.casefold())
        return name


class _Page:
    """A sheet being filled: texts are never formulas, numbers stay numbers."""

    def __init__(self, book: xlsxwriter.Workbook, sheet: xlsxwriter.worksheet.Worksheet) -> None:
        self._sheet = sheet
        self._bold = book.add_format({"bold": True})
        self._quoted = book.add_format({"quote_prefix": True})
        self._next = 0

    def headings(self, texts: list[str]) -> None:
        for column, text in enumerate(texts):
            self._sheet.write_string(0, column, text, self._bold)
            self._sheet.set_column(column, column, max(8, min(len(text) + 2, 30)))
        self._sheet.freeze_panes(1, 4)
        self._next = 1

    def row(self, cells: list[CsvValue]) -> None:
        for column, value in enumerate(cells):
            if isinstance(value, str):
                # The quote prefix keeps it a text when somebody edits the cell.
                style = self._quoted if is_formula_like(value) else None
                self._sheet.write_string(self._next, column, value[:_LONGEST_XLSX_TEXT], style)
            elif value is not None:
                self._sheet.write_number(self._next, column, value)
        self._next += 1
