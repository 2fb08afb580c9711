"""Workbooks and CSV texts for tests."""

import io
import zipfile
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import xlsxwriter


def workbook(
    rows: Sequence[Sequence[Any]],
    *,
    sheet: str = "Teams",
    first_row: int = 0,
    more: Callable[[Any, Any], object] | None = None,
) -> bytes:
    """Return an XLSX file with `rows`, the first at `first_row` (from 0); `more` adds to it."""
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        page = book.add_worksheet(sheet)
        for number, row in enumerate(rows, start=first_row):
            for column, value in enumerate(row):
                page.write(number, column, value)
        if more is not None:
            more(book, page)
    return stream.getvalue()


def repacked(data: bytes, changes: Mapping[str, bytes]) -> bytes:
    """Return the archive with some parts replaced or added."""
    stream = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as old,
        zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        parts = {name: old.read(name) for name in old.namelist()}
        for name, content in {**parts, **changes}.items():
            new.writestr(name, content)
    return stream.getvalue()


def sheet_part(data: bytes) -> bytes:
    """Return the XML of the first sheet."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return archive.read("xl/worksheets/sheet1.xml")
