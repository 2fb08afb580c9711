"""The cells of a CSV or XLSX file, row by row as a spreadsheet program numbers them."""

import csv
import io
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

import msgspec
import python_calamine

from callroom.exchange.faults import NOWHERE, Faults, Spot
from callroom.exchange.text_encoding import NotText, decode_table
from callroom.exchange.workbook_guard import (
    MOST_COLUMNS,
    MOST_ROWS,
    OddCell,
    Unsound,
    sound_workbook,
)

LONGEST_BYTES = 5_000_000
DELIMITERS = (",", ";", "\t", "|")

ZIP_START = b"PK\x03\x04"
OLD_OFFICE_START = b"\xd0\xcf\x11\xe0"  # .xls, and .xlsx with a password
_HEAD_ROWS = 20


class Grid(msgspec.Struct, frozen=True):
    """All rows of a table, the first being row 1, with what each cell shows as text.

    `odd` are cells that show something which could not be read; `merged` the ranges of
    cells made one, as first row, first column, last row, last column, counted from 1.
    """

    rows: Sequence[Sequence[str]]
    odd: tuple[OddCell, ...] = ()
    merged: tuple[tuple[int, int, int, int], ...] = ()


def read_grid(data: bytes, sheet: str, headings: frozenset[str], faults: Faults) -> Grid:
    """Return the cells of a file.

    Parameters
    ----------
    data
        The bytes of a CSV file (any of the usual delimiters) or an XLSX file.
    sheet
        The sheet to prefer in a workbook that has several.
    headings
        Words by which the row of headings is known, in the form of :func:`plain_heading`.
    faults
        Where what is wrong is kept.

    Raises
    ------
    BadInput
        If it is no table at all.
    """
    if not data.strip():
        faults.add("file.empty", NOWHERE, "file")
    elif len(data) > LONGEST_BYTES:
        faults.add("file.too_large", NOWHERE, "file", given=len(data), most=LONGEST_BYTES)
    elif data.startswith(OLD_OFFICE_START):
        faults.add("table.old_workbook", NOWHERE, "file")
    faults.refuse_if_any()
    try:
        if data.startswith(ZIP_START):
            return _workbook(data, sheet, faults)
        return _csv(data, headings, faults)
    except Unsound as fault:
        facts: dict[str, int | str] = fault.facts
        faults.add(fault.rule, NOWHERE, "file", **facts)
    except NotText as fault:
        faults.add("table.not_text", Spot(fault.row), "file")
    faults.refuse_if_any()
    return Grid(())


def plain_heading(text: str) -> str:
    """Return a heading as it is compared: ``"E-mail "`` and ``"e_mail"`` are one."""
    return "".join(sign for sign in text.casefold() if sign.isalnum())


def _csv(data: bytes, headings: frozenset[str], faults: Faults) -> Grid:
    text, guessed = decode_table(data)
    if guessed:
        row = next((n for n, line in enumerate(text.splitlines(), 1) if not line.isascii()), 1)
        faults.add("table.encoding_guessed", Spot(row), "file", encoding=guessed)
    delimiter = _delimiter(text, headings)
    rows: list[list[str]] = []
    try:
        for cells in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True):
            rows.append(cells)
            _bounded(len(rows), len(cells))
    except csv.Error:
        faults.add("table.quotes", Spot(len(rows) + 1), "file")
        faults.refuse_if_any()
    return Grid(rows)


def _bounded(rows: int, columns: int) -> None:
    if rows > MOST_ROWS:
        raise Unsound("table.rows_many", given=rows, most=MOST_ROWS)
    if columns > MOST_COLUMNS:
        raise Unsound("table.columns_many", given=columns, most=MOST_COLUMNS)


def _delimiter(text: str, headings: frozenset[str]) -> str:
    """Return the delimiter that shows the most known headings in one of the first rows."""
    lines = text.splitlines()[:_HEAD_ROWS]

    def known(delimiter: str) -> int:
        cells = (line.split(delimiter) for line in lines)
        return max(
            (sum(plain_heading(cell) in headings for cell in row) for row in cells), default=0
        )

    return max(DELIMITERS, key=known)


def _workbook(data: bytes, wanted: str, faults: Faults) -> Grid:
    sound = sound_workbook(data)
    try:
        book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(sound.data))
        visible = [
            about.name
            for about in book.sheets_metadata
            if about.visible == python_calamine.SheetVisibleEnum.Visible
            and about.typ == python_calamine.SheetTypeEnum.WorkSheet
        ]
        full = [name for name in visible if book.get_sheet_by_name(name).height]
        if not full:
            faults.add("file.empty", NOWHERE, "file")
            faults.refuse_if_any()
        name = next((name for name in full if plain_heading(name) == wanted), full[0])
        sheet = book.get_sheet_by_name(name)
        rows = sheet.to_python(skip_empty_area=False)
        merged = sheet.merged_cell_ranges or []
    except (python_calamine.CalamineError, ValueError, OSError) as fault:
        raise Unsound("table.no_workbook") from fault
    if len(full) > 1:
        faults.add("table.sheet_chosen", NOWHERE, "file", sheet=name, count=len(full))
    return Grid(
        [[cell_text(value) for value in row] for row in rows],
        sound.odd.get(name, ()),
        tuple((r + 1, c + 1, last_r + 1, last_c + 1) for (r, c), (last_r, last_c) in merged),
    )


def cell_text(value: object) -> str:
    """Return what a cell of a workbook shows, whole numbers without the reader's ``.0``."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, datetime) and value.time() == time():
        return value.date().isoformat()
    if isinstance(value, datetime | date):
        return value.isoformat(sep=" ") if isinstance(value, datetime) else value.isoformat()
    if isinstance(value, time):
        return value.isoformat("seconds" if value.second else "minutes")
    if isinstance(value, timedelta):
        return str(value)
    return str(value)
