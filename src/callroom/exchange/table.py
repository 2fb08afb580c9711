"""A table with headings, as a file of teams, crew or kit is read.

Columns may stand in any order and be called by any of their names. Every fault is kept with
the row and the column as a spreadsheet program names them.
"""

import unicodedata
from collections.abc import Mapping, Sequence
from datetime import date

import msgspec

from callroom.exchange.faults import Faults, Spot, is_unseen, nearest, shown
from callroom.exchange.table_cells import Grid, plain_heading, read_grid
from callroom.exchange.workbook_guard import column_letters
from callroom.model import Fact

LONGEST_CELL = 200
_HEAD_ROWS = 20
_YES = frozenset({"yes", "y", "true", "x", "1", "✓"})
_NO = frozenset({"no", "n", "false", "0", "-", "–"})
_BLANKS = "\ufeff\u200b"


class TableColumn(msgspec.Struct, frozen=True):
    """A column that a table may have: its name in messages, its other names, if it must be."""

    name: str
    other_names: tuple[str, ...] = ()
    needed: bool = False

    @property
    def plain_names(self) -> frozenset[str]:
        """Every name in the form in which headings are compared."""
        return frozenset(plain_heading(name) for name in (self.name, *self.other_names))


class Row:
    """One row below the headings; cells are asked for by the name of their column."""

    def __init__(
        self, number: int, cells: Mapping[str, str], letters: Mapping[str, str], faults: Faults
    ) -> None:
        self.number = number
        self.cells = cells
        self.letters = letters
        self.faults = faults

    def spot(self, column: str) -> Spot:
        """Return the place of a cell."""
        return Spot(self.number, self.letters.get(column, ""))

    def fault(self, rule: str, column: str, /, **facts: Fact) -> None:
        """Keep a fault of `rule` at the cell under `column`."""
        self.faults.add(rule, self.spot(column), f"row {self.number}", heading=column, **facts)

    def given(self, column: str) -> str:
        """Return what stands in a cell, in one line, whatever may be wrong with it."""
        return _in_one_line(self.cells.get(column, ""))

    def text(self, column: str, *, needed: bool = False) -> str:
        """Return a text in one line, empty where the cell is."""
        text = self.given(column)
        unseen = [sign for sign in text if is_unseen(sign)]
        if unseen:
            self.fault(
                "table.text_unseen", column, given=shown(text), code=f"U+{ord(unseen[0]):04X}"
            )
        elif len(text) > LONGEST_CELL:
            self.fault(
                "table.text_long",
                column,
                given=shown(text),
                length=len(text),
                most=LONGEST_CELL,
            )
        elif not text and needed and column in self.letters:
            self.fault("table.cell_empty", column)
        else:
            return text
        return ""

    def named(self, column: str, names: Mapping[str, str], *, needed: bool = False) -> str:
        """Return the id of what the cell names; `names` are the possible ones by their ids.

        The cell may hold the name or the id, in capitals or not.
        """
        return self._known(column, self.text(column, needed=needed), names)

    def all_named(self, column: str, names: Mapping[str, str]) -> tuple[str, ...]:
        """Return the ids of all that the cell names, parted by semicolons, each once."""
        given = (text.strip() for text in self.text(column).split(";"))
        known = (self._known(column, text, names) for text in given)
        return tuple(dict.fromkeys(one for one in known if one))

    def _known(self, column: str, text: str, names: Mapping[str, str]) -> str:
        if not text:
            return ""
        for known, name in names.items():
            if text.casefold() in {known.casefold(), name.casefold()}:
                return known
        near = nearest(text, names.values()) or names.get(nearest(text, names), "")
        rule = "table.not_known_near" if near else "table.not_known"
        self.fault(rule, column, given=shown(text), near=near, known=", ".join(names.values()))
        return ""

    def whole(self, column: str, least: int, most: int = 10**6) -> int | None:
        """Return a whole number, None where the cell is empty or unreadable."""
        text = self.text(column)
        if not text:
            return None
        digits = text.isascii() and text.isdigit() and len(text) <= 9
        if not digits or not least <= int(text) <= most:
            self.fault("table.no_whole", column, given=shown(text), least=least, most=most)
            return None
        return int(text)

    def flag(self, column: str) -> bool:
        """Return yes or no; an empty cell is no."""
        text = self.text(column).casefold()
        if text and text not in _YES | _NO:
            self.fault("table.no_flag", column, given=shown(text))
        return self.is_yes(column)

    def is_yes(self, column: str) -> bool:
        """Whether the cell says yes, whatever else may be wrong with it."""
        return self.given(column).casefold() in _YES

    def date(self, column: str) -> date | None:
        """Return a calendar day, ``2001-04-30`` or ``30.04.2001``."""
        text = self.text(column)
        if not text:
            return None
        parts = text.rstrip(".").split(".")
        turned = "-".join(part.strip().zfill(2) for part in reversed(parts))
        try:
            return date.fromisoformat(turned if len(parts) == 3 else text)
        except ValueError:
            self.fault("table.no_date", column, given=shown(text))
            return None


class Table(msgspec.Struct, frozen=True):
    """The rows that hold anything, and the names of the columns that the file has."""

    rows: tuple[Row, ...]
    columns: frozenset[str]


def read_table(data: bytes, sheet: str, columns: tuple[TableColumn, ...], faults: Faults) -> Table:
    """Return the table in a CSV or XLSX file.

    Raises
    ------
    BadInput
        If it is no table, or has no row of headings: nothing below could be understood.
    """
    known = {name: column.name for column in columns for name in column.plain_names}
    grid = read_grid(data, sheet, frozenset(known), faults)
    head = _head_row(grid, frozenset(known))
    if head is None:
        wanted = ", ".join(column.name for column in columns if column.needed)
        faults.add("table.no_headings", Spot(1), "headings", wanted=wanted)
        faults.refuse_if_any()
        return Table((), frozenset())
    letters = _headings(grid.rows[head], head + 1, columns, known, faults)
    _odd_cells(grid, head, faults)
    width = len(grid.rows[head])
    rows: list[Row] = []
    for number, given in enumerate(grid.rows[head + 1 :], start=head + 2):
        cells = _cells(given, letters)
        if cells:
            rows.append(Row(number, cells, letters, faults))
            _cells_beyond(given[width:], number, width, faults)
    if not rows:
        faults.add("table.no_rows", Spot(head + 1), "rows")
    return Table(tuple(rows), frozenset(letters))


def _in_one_line(text: str) -> str:
    return " ".join(unicodedata.normalize("NFC", text).strip(_BLANKS).split())


def _head_row(grid: Grid, known: frozenset[str]) -> int | None:
    """Return the row, from 0, with the most known headings among the first ones."""
    best, most = None, 0
    for number, row in enumerate(grid.rows[:_HEAD_ROWS]):
        count = sum(plain_heading(cell) in known for cell in row)
        if count > most:
            best, most = number, count
    return best


def _headings(
    row: Sequence[str],
    number: int,
    columns: tuple[TableColumn, ...],
    known: Mapping[str, str],
    faults: Faults,
) -> dict[str, str]:
    """Return the letter of each known column, with faults for the others."""
    letters: dict[str, str] = {}
    strangers: list[tuple[Spot, str]] = []
    for position, cell in enumerate(row, start=1):
        heading = _in_one_line(cell)
        name = known.get(plain_heading(heading), "")
        spot = Spot(number, column_letters(position))
        if name in letters:
            faults.add(
                "table.heading_twice",
                spot,
                "headings",
                given=shown(heading),
                name=name,
                other=letters[name],
            )
        elif name:
            letters[name] = spot.column
        elif heading:
            strangers.append((spot, heading))
    absent = [column.name for column in columns if column.name not in letters]
    for spot, heading in strangers:
        near = nearest(heading, absent)
        rule = "table.heading_near" if near else "table.heading_unused"
        faults.add(rule, spot, "headings", given=shown(heading), near=near)
    for column in columns:
        if column.needed and column.name not in letters:
            faults.add("table.heading_missing", Spot(number), "headings", wanted=column.name)
    return letters


def _odd_cells(grid: Grid, head: int, faults: Faults) -> None:
    for cell in grid.odd:
        if cell.row > head:
            spot = Spot(cell.row, column_letters(cell.column))
            faults.add(cell.rule, spot, f"row {cell.row}")
    for first_row, first_column, last_row, last_column in grid.merged:
        if last_row > head:
            spot = Spot(first_row, column_letters(first_column))
            until = f"{column_letters(last_column)}{last_row}"
            faults.add("table.merged", spot, f"row {first_row}", until=until)


def _cells(given: Sequence[str], letters: Mapping[str, str]) -> dict[str, str]:
    """Return the cells of a row by column, none for an empty row."""
    by_letter = {column_letters(at): cell for at, cell in enumerate(given, start=1)}
    cells = {name: by_letter.get(letter, "") for name, letter in letters.items()}
    return cells if any(_in_one_line(cell) for cell in cells.values()) else {}


def _cells_beyond(given: Sequence[str], number: int, width: int, faults: Faults) -> None:
    """Find the first cell to the right of the last heading: a cell was torn in two."""
    for at, cell in enumerate(given, start=width + 1):
        if cell.strip():
            spot = Spot(number, column_letters(at))
            faults.add("table.cell_beyond", spot, f"row {number}", given=shown(cell))
            return
