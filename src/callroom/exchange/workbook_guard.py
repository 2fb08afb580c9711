"""What an XLSX file holds before it is trusted to the spreadsheet reader.

The reader allots memory for every cell between the first and the last one and unpacks
whatever it is given, so a small hostile file could exhaust a machine. Here the archive is
unpacked within bounds, its sheets are looked through cell by cell, and the reader gets a new
archive of what was found sound. The same pass finds formulas that have no saved value, which
the reader would give as empty cells.
"""

import io
import zipfile
import zlib
from collections.abc import Callable, Mapping
from xml.parsers import expat  # DTDs are refused below, so entities cannot be expanded

import msgspec

MOST_PARTS = 1000
MOST_UNPACKED_BYTES = 20_000_000
MOST_ROWS = 5000
MOST_COLUMNS = 200

OnStart = Callable[[str, Mapping[str, str]], None]
OnEnd = Callable[[str], None]

_KEPT = (".xml", ".rels")

# RuntimeError: a part with a password. The others: damaged, or packed in a newer way.
_DAMAGED = (
    zipfile.BadZipFile,
    RuntimeError,
    NotImplementedError,
    EOFError,
    ValueError,
    OSError,
    zlib.error,
)


class Unsound(Exception):
    """A file that is not read any further; `rule` says why, `facts` what was met."""

    def __init__(self, rule: str, **facts: int | str) -> None:
        super().__init__(rule)
        self.rule = rule
        self.facts = facts


class OddCell(msgspec.Struct, frozen=True):
    """A cell without a value that could be read: its row and column, counted from 1."""

    row: int
    column: int
    rule: str


class SoundWorkbook(msgspec.Struct, frozen=True):
    """An archive that is safe to read, and its odd cells by the name of the sheet."""

    data: bytes
    odd: Mapping[str, tuple[OddCell, ...]]


def sound_workbook(data: bytes) -> SoundWorkbook:
    """Return the archive of an XLSX file, looked through and packed anew.

    Raises
    ------
    Unsound
        If it is no XLSX file, or larger than any list of teams could be.
    """
    parts = _unpacked(data)
    if "xl/workbook.xml" not in parts:
        raise Unsound("table.no_workbook")
    odd: dict[str, tuple[OddCell, ...]] = {}
    names = _sheet_names(parts)
    # Every part is looked through: a sheet may hide under any path.
    for path, content in parts.items():
        name = names.get(path, "")
        odd[name] = tuple(_Sheet(name).read(content))
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for path, content in parts.items():
            archive.writestr(path, content)
    return SoundWorkbook(packed.getvalue(), odd)


def _unpacked(data: bytes) -> dict[str, bytes]:
    """Return the parts of the archive by path, in all no more than the bound."""
    parts: dict[str, bytes] = {}
    left = MOST_UNPACKED_BYTES
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
            if len(members) > MOST_PARTS:
                raise Unsound("table.workbook_large", most=MOST_PARTS)
            for member in members:
                if not member.filename.endswith(_KEPT):
                    continue
                if member.compress_type not in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}:
                    raise Unsound("table.no_workbook")
                with archive.open(member) as packed:
                    content = packed.read(left + 1)
                left -= len(content)
                if left < 0:
                    raise Unsound("table.workbook_bomb", most=MOST_UNPACKED_BYTES)
                if member.filename in parts:
                    raise Unsound("table.no_workbook")
                parts[member.filename] = content
    except _DAMAGED as fault:
        raise Unsound("table.no_workbook") from fault
    return parts


def _sheet_names(parts: Mapping[str, bytes]) -> dict[str, str]:
    """Return the names of the sheets by the path of their part."""
    targets: dict[str, str] = {}
    names: dict[str, str] = {}

    def relationship(tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "Relationship":
            target = attributes.get("Target", "")
            path = target[1:] if target.startswith("/") else f"xl/{target}"
            targets[attributes.get("Id", "")] = path

    def sheet(tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "sheet":
            linked = [value for key, value in attributes.items() if key.endswith(":id")]
            for link in linked:
                names[targets.get(link, "")] = attributes.get("name", "")

    _walk(parts.get("xl/_rels/workbook.xml.rels", b"<none/>"), relationship)
    _walk(parts["xl/workbook.xml"], sheet)
    return names


def _walk(content: bytes, start: OnStart, end: OnEnd | None = None) -> None:
    """Call `start(tag, attributes)` and `end(tag)` through an XML document, tags unprefixed."""
    parser = expat.ParserCreate()
    parser.StartElementHandler = lambda tag, given: start(tag.rpartition(":")[2], given)
    if end is not None:
        parser.EndElementHandler = lambda tag: end(tag.rpartition(":")[2])
    parser.StartDoctypeDeclHandler = _refuse_dtd
    try:
        parser.Parse(content, True)
    except (expat.ExpatError, LookupError, ValueError) as fault:  # also unknown encodings
        raise Unsound("table.no_workbook") from fault


def _refuse_dtd(*_: object) -> None:
    raise Unsound("table.no_workbook")


class _Sheet:
    """One pass over a sheet: how far it reaches, and which cells have no value to read."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.row = 0
        self.column = 0
        self.kind = ""
        self.has: set[str] = set()
        self.odd: list[OddCell] = []

    def read(self, content: bytes) -> list[OddCell]:
        _walk(content, self.start, self.end)
        return self.odd

    def start(self, tag: str, given: Mapping[str, str]) -> None:
        if tag == "row":
            self.row = _whole(given.get("r", ""), self.row + 1)
            self.column = 0
        elif tag == "c":
            self.column, self.row = _reference(given.get("r", ""), self.column + 1, self.row)
            self.kind = given.get("t", "")
            self.has = set()
        elif tag in {"f", "v", "is"}:
            self.has.add(tag)

    def end(self, tag: str) -> None:
        if tag != "c" or not self.has:
            return
        if self.row > MOST_ROWS:
            raise Unsound("table.rows_many", given=self.row, most=MOST_ROWS)
        if self.column > MOST_COLUMNS:
            raise Unsound("table.columns_many", given=self.column, most=MOST_COLUMNS)
        if self.kind == "e":
            self.odd.append(OddCell(self.row, self.column, "table.cell_error"))
        elif "f" in self.has and not self.has & {"v", "is"}:
            self.odd.append(OddCell(self.row, self.column, "table.formula_without_value"))


def _whole(text: str, otherwise: int) -> int:
    if not text:
        return otherwise
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise Unsound("table.no_workbook")
    return int(text)


def _reference(text: str, next_column: int, row: int) -> tuple[int, int]:
    """Return the column and row of ``"C12"``, or the next ones where nothing is given."""
    letters = text.rstrip("0123456789")
    if not text:
        return next_column, row
    if not 1 <= len(letters) <= 3 or not (letters.isascii() and letters.isalpha()):
        raise Unsound("table.no_workbook")
    return column_number(letters), _whole(text[len(letters) :], row)


def column_number(letters: str) -> int:
    """Return 1 for ``"A"``, 28 for ``"AB"``."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def column_letters(number: int) -> str:
    """Return ``"A"`` for 1, ``"AB"`` for 28."""
    letters = ""
    while number > 0:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
