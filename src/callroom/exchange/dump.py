"""A whole book as one JSON file, and back: for keeping, moving and looking into.

The file is a JSON array with one record on each line, so that it can be read by any program
and a fault can be named by its line. The first record says what it is, the last how many
there are; between them stand the rows of the book's tables. Their fields are the journal's
business: here they are carried unchanged, whole numbers and texts only.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping

from callroom.exchange.faults import NOWHERE, Faults, Spot, one_line, shown
from callroom.exchange.text_encoding import NotText, decode_utf8

DUMP_FORMAT = 1
FORMAT_NAME = "callroom book"
LONGEST_BYTES = 500_000_000

PlainValue = str | int | None
PlainRow = tuple[str, Mapping[str, PlainValue]]
"""A table's name and one of its rows."""

_BETWEEN = re.compile(r"[ \t\r\n]*")
_HEAD, _ROW, _END = "book", "row", "end"


def write_dump(rows: Iterable[PlainRow]) -> Iterator[bytes]:
    """Yield the lines of a dump of `rows`, in their order."""
    yield b"[\n"
    yield _line({"record": _HEAD, "format": FORMAT_NAME, "version": DUMP_FORMAT})
    count = 0
    for table, row in rows:
        count += 1
        yield _line({"record": _ROW, "table": table, "row": dict(row)})
    yield _line({"record": _END, "rows": count}).removesuffix(b",\n") + b"\n]\n"


def _line(record: Mapping[str, object]) -> bytes:
    text = json.dumps(record, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return f"{text},\n".encode()


def read_dump(data: bytes, file: str = "book.json") -> tuple[PlainRow, ...]:
    """Return the rows of a dump.

    Raises
    ------
    BadInput
        If it is no dump, is not whole, or holds anything that is not a row. A text that is
        no JSON has one fault, else every faulty record has one, with its line.
    """
    faults = Faults(file)
    if len(data) > LONGEST_BYTES:
        faults.add("file.too_large", NOWHERE, "file", given=len(data), most=LONGEST_BYTES)
        faults.refuse_if_any()
    records = _records(data, faults)
    faults.refuse_if_any()
    head = records[0][1] if records else None
    if not _is_head(head):
        faults.add("dump.no_dump", Spot(1, "1"), "file", name=FORMAT_NAME)
    elif isinstance(head, dict) and head.get("version") != DUMP_FORMAT:
        given = shown(head.get("version"))
        faults.add("dump.other_version", Spot(1, "1"), "file", given=given, known=DUMP_FORMAT)
    faults.refuse_if_any()
    rows = [row for spot, record in records[1:-1] if (row := _row(spot, record, faults))]
    _check_end(records[-1], len(records) - 2, faults)
    faults.refuse_if_any()
    return tuple(rows)


def _is_head(record: object) -> bool:
    return (
        isinstance(record, dict)
        and record.get("record") == _HEAD
        and record.get("format") == FORMAT_NAME
    )


def _check_end(last: tuple[Spot, object], count: int, faults: Faults) -> None:
    spot, record = last
    if not isinstance(record, dict) or record.get("record") != _END:
        faults.add("dump.not_whole", spot, "end")
    elif record.get("rows") != count:
        given = shown(record.get("rows"))
        faults.add("dump.rows_missing", spot, "end", given=given, found=count)


def _row(spot: Spot, record: object, faults: Faults) -> PlainRow | None:
    if isinstance(record, dict) and set(record) == {"record", "table", "row"}:
        table, row = record["table"], record["row"]
        if record["record"] == _ROW and isinstance(table, str) and isinstance(row, dict):
            odd = [key for key, value in row.items() if not _is_plain(value)]
            for key in odd:
                faults.add("dump.value_odd", spot, one_line(table), field=shown(key))
            return (table, row)
    faults.add("dump.no_row", spot, "row", given=one_line(json.dumps(record, ensure_ascii=False)))
    return None


def _is_plain(value: object) -> bool:
    return value is None or isinstance(value, str) or type(value) is int


def _records(data: bytes, faults: Faults) -> list[tuple[Spot, object]]:
    """Return the elements of the array, each with the line and column it begins at."""
    try:
        text = decode_utf8(data)
    except NotText as fault:
        faults.add("file.not_utf8", Spot(fault.row, str(fault.column)), "file")
        return []
    places = _Places(text)
    try:
        return list(_elements(text, places))
    except _Torn as fault:
        faults.add("dump.no_json", places.spot(fault.at), "file")
    except _Twice as fault:
        faults.add("dump.key_twice", places.spot(fault.at), "file", given=shown(fault.key))
    return []


class _Torn(Exception):
    """No JSON from `at` on."""

    def __init__(self, at: int) -> None:
        super().__init__(at)
        self.at = at


class _Twice(Exception):
    """A key that an object has twice; `at` is where the record begins."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key
        self.at = 0


def _elements(text: str, places: "_Places") -> Iterator[tuple[Spot, object]]:
    at = _skip(text, 0)
    if text[at : at + 1] != "[":
        raise _Torn(at)
    at += 1
    while True:
        at = _skip(text, at)
        begins = at
        try:
            element, at = _DECODER.raw_decode(text, at)
        except json.JSONDecodeError as fault:
            raise _Torn(fault.pos) from fault
        except _Twice as fault:
            fault.at = begins
            raise
        except (ValueError, RecursionError) as fault:  # endless digits or brackets
            raise _Torn(begins) from fault
        yield places.spot(begins), element
        at = _skip(text, at)
        if text[at : at + 1] == "]":
            break
        if text[at : at + 1] != ",":
            raise _Torn(at)
        at += 1
    if _skip(text, at + 1) != len(text):
        raise _Torn(at + 1)


def _skip(text: str, at: int) -> int:
    found = _BETWEEN.match(text, at)
    return found.end() if found is not None else at


class _Places:
    """Lines and columns, asked for in rising order; each stretch is counted once."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._line = 1

    def spot(self, at: int) -> Spot:
        if at < self._at:
            self._at, self._line = 0, 1
        self._line += self._text.count("\n", self._at, at)
        self._at = at
        return Spot(self._line, str(at - self._text.rfind("\n", 0, at)))


def _each_once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    fields: dict[str, object] = {}
    for key, value in pairs:
        if key in fields:
            raise _Twice(key)
        fields[key] = value
    return fields


def _refuse_constant(text: str) -> None:
    raise ValueError(text)


_DECODER = json.JSONDecoder(object_pairs_hook=_each_once, parse_constant=_refuse_constant)
