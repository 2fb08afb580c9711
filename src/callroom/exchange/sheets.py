"""A table as somebody made it: every sheet with its cells, before anybody says what they mean."""

import csv
import io
from collections import Counter
from collections.abc import Iterator

import msgspec
import python_calamine

from callroom.exchange.faults import NOWHERE, Faults
from callroom.exchange.table_cells import (
    DELIMITERS,
    LONGEST_BYTES,
    OLD_OFFICE_START,
    ZIP_START,
    cell_text,
)
from callroom.exchange.text_encoding import NotText, decode_table
from callroom.exchange.workbook_guard import MOST_COLUMNS, MOST_ROWS, Unsound, sound_workbook

MOST_SHEETS = 30


class Sheet(msgspec.Struct, frozen=True):
    """One sheet: its name (empty for text) and its rows, all of one width, empty rows included."""

    name: str
    rows: tuple[tuple[str, ...], ...]

    @property
    def width(self) -> int:
        """How many columns it has."""
        return len(self.rows[0]) if self.rows else 0


def sheets_of(data: bytes, file: str) -> tuple[Sheet, ...]:
    """Return the sheets of a CSV or XLSX file that have anything in them.

    Raises
    ------
    BadInput
        If it is no table, too large, or protected.
    """
    faults = Faults(file)
    if not data.strip():
        faults.add("file.empty", NOWHERE, "file")
    elif len(data) > LONGEST_BYTES:
        faults.add("file.too_large", NOWHERE, "file", given=len(data), most=LONGEST_BYTES)
    elif data.startswith(OLD_OFFICE_START):
        faults.add("table.old_workbook", NOWHERE, "file")
    faults.refuse_if_any()
    found: tuple[Sheet, ...] = ()
    try:
        found = tuple(_workbook(data)) if data.startswith(ZIP_START) else (_text(data),)
    except Unsound as fault:
        facts: dict[str, int | str] = fault.facts
        faults.add(fault.rule, NOWHERE, "file", **facts)
    except NotText:
        faults.add("table.not_text", NOWHERE, "file")
    found = tuple(sheet for sheet in found if sheet.rows)
    if not found:
        faults.add("file.empty", NOWHERE, "file")
    faults.refuse_if_any()
    return found


def _workbook(data: bytes) -> Iterator[Sheet]:
    sound = sound_workbook(data)
    try:
        book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(sound.data))
        for about in book.sheets_metadata[:MOST_SHEETS]:
            if about.typ == python_calamine.SheetTypeEnum.WorkSheet:
                sheet = book.get_sheet_by_name(about.name)
                values = sheet.to_python(skip_empty_area=False)
                rows = [[cell_text(value) for value in row] for row in values]
                _fill_down(rows, sheet.merged_cell_ranges or [])
                yield _even(about.name, rows)
    except (python_calamine.CalamineError, ValueError, OSError) as fault:
        raise Unsound("table.no_workbook") from fault


def _fill_down(
    rows: list[list[str]], merged: list[tuple[tuple[int, int], tuple[int, int]]]
) -> None:
    """Give every row beside a merged cell its text: a team's name stands beside all its athletes."""
    for (first, column), (last, _) in merged[:MOST_ROWS]:
        for row in rows[first + 1 : last + 1]:
            if column < len(row) and first < len(rows):
                row[column] = rows[first][column]


def _text(data: bytes) -> Sheet:
    text, _ = decode_table(data)
    tried = [_parsed(text, delimiter) for delimiter in DELIMITERS]
    return _even("", max(tried, key=_evenness))


def _parsed(text: str, delimiter: str) -> list[list[str]]:
    rows: list[list[str]] = []
    try:
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
            rows.append(row)
            if len(rows) > MOST_ROWS:
                raise Unsound("table.rows_many", given=len(rows), most=MOST_ROWS)
    except csv.Error:
        return []
    return rows


def _evenness(rows: list[list[str]]) -> tuple[int, int]:
    """How well a delimiter fits: rows of the commonest width, and that width; one column is none."""
    widths = Counter(len(row) for row in rows if len(row) > 1)
    if not widths:
        return 0, 0
    width, count = widths.most_common(1)[0]
    return count, width


def _even(name: str, rows: list[list[str]]) -> Sheet:
    filled = [row for row in rows if any(cell.strip() for cell in row)]
    width = max((len(row) for row in filled), default=0)
    if width > MOST_COLUMNS:
        raise Unsound("table.columns_many", given=width, most=MOST_COLUMNS)
    if len(rows) > MOST_ROWS:
        raise Unsound("table.rows_many", given=len(rows), most=MOST_ROWS)
    if not filled:
        return Sheet(name, ())
    return Sheet(name, tuple(tuple((row + [""] * width)[:width]) for row in rows))
