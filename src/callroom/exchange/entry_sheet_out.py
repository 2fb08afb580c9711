"""A workbook for a team to fill in, one row for each athlete; the file of teams reads it back."""

import io

import xlsxwriter

from callroom.exchange.csv_out import is_formula_like
from callroom.model import Division, Event
from callroom.model.entering import Entering

SHEET = "teams"
_ROWS_TO_CHECK = 60


def entry_xlsx(
    event: Event, division: Division, entering: Entering, notes: tuple[str, ...]
) -> bytes:
    """Return the workbook of one division, its categories filled in.

    The headings are those that the file of teams knows, in any language of the event; `notes`
    stand above them. A row in which nobody is named is passed over when it is read.
    """
    columns = _columns(division, event, entering)
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        book.set_properties({"title": event.name})
        sheet = book.add_worksheet(SHEET)
        bold, plain = book.add_format({"bold": True}), book.add_format({"num_format": "@"})
        quoted = book.add_format({"num_format": "@", "quote_prefix": True})
        for row, note in enumerate(notes):
            sheet.write_string(row, 0, note, quoted if is_formula_like(note) else None)
        head = len(notes) + 1
        for column, (name, width) in enumerate(columns.items()):
            sheet.write_string(head, column, name, bold)
            sheet.set_column(column, column, width, plain)
        for number, (category, reserve) in enumerate(_rows(event, division), start=1):
            cells = {"division": division.name, "category": category, "reserve": reserve}
            for column, name in enumerate(columns):
                text = cells.get(name, "")
                style = quoted if is_formula_like(text) else plain
                if text:
                    sheet.write_string(head + number, column, text, style)
        if "shirt" in columns:
            sheet.data_validation(
                head + 1,
                list(columns).index("shirt"),
                head + _ROWS_TO_CHECK,
                list(columns).index("shirt"),
                {"validate": "list", "source": list(entering.shirt_sizes)},
            )
        sheet.freeze_panes(head + 1, 2)
    return stream.getvalue()


def _columns(division: Division, event: Event, entering: Entering) -> dict[str, int]:
    """Return the headings with their widths [characters]."""
    columns = {"team": 24, "athlete": 24}
    if len(event.categories) > 1:
        columns["category"] = 12
    if division.reserves:
        columns["reserve"] = 9
    columns |= {"e-mail": 28, "phone": 18, "emergency contact": 30}
    if division.id in entering.ages_in:
        columns["birth date"] = 12
    columns["guardian"] = 24
    if entering.shirt_sizes and sum(len(size) + 1 for size in entering.shirt_sizes) < 255:
        columns["shirt"] = 8
    return columns | {"gym": 20, "say it": 20, "division": 20}


def _rows(event: Event, division: Division) -> list[tuple[str, str]]:
    """Return the category, and whether it is a reserve, of each row."""
    names = {one.id: one.name for one in event.categories}
    rows = [
        (names.get(one.category, one.category), "")
        for one in division.make_up
        for _ in range(one.count)
    ]
    return rows + [("", "yes")] * division.reserves
