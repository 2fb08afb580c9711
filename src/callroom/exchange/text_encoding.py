"""Bytes to text: which encoding a file was saved in."""

import codecs

_BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


class NotText(Exception):
    """Bytes that are no text, or not in the encoding they claim; `row` and `column` from 1."""

    def __init__(self, row: int, column: int) -> None:
        super().__init__(row, column)
        self.row = row
        self.column = column


def decode_utf8(data: bytes) -> str:
    """Return the text of a file that must be UTF-8 (or UTF-16 with its byte order mark).

    Raises
    ------
    NotText
        At the first byte that is neither.
    """
    encoding, body = _marked(data)
    return _decoded(body, encoding or "utf-8")


def decode_table(data: bytes) -> tuple[str, str]:
    """Return the text of a table, and its encoding where that had to be guessed, else ``""``.

    Spreadsheet programs still write the encoding of their system. What is not UTF-8 is read
    as ``cp1252``, the usual one in western Europe and the Americas; the caller says so,
    because letters of other languages would come out wrong.

    Raises
    ------
    NotText
        If it is no text at all.
    """
    encoding, body = _marked(data)
    if encoding:
        return _decoded(body, encoding), ""
    if b"\0" in body:
        raise NotText(*_place(body, body.index(b"\0")))
    try:
        return body.decode("utf-8"), ""
    except UnicodeDecodeError as fault:
        try:
            return body.decode("cp1252"), "cp1252"
        except UnicodeDecodeError:
            raise NotText(*_place(body, fault.start)) from fault


def _marked(data: bytes) -> tuple[str, bytes]:
    for mark, encoding in _BYTE_ORDER_MARKS:
        if data.startswith(mark):
            return encoding, data[len(mark) :]
    return "", data


def _decoded(body: bytes, encoding: str) -> str:
    try:
        return body.decode(encoding)
    except UnicodeDecodeError as fault:
        if encoding == "utf-8":
            raise NotText(*_place(body, fault.start)) from fault
        before = body[: fault.start].decode(encoding, "replace")
        raise NotText(*_place(before.encode(), len(before.encode()))) from fault


def _place(body: bytes, at: int) -> tuple[int, int]:
    line = body.rfind(b"\n", 0, at) + 1
    return body.count(b"\n", 0, at) + 1, len(body[line:at].decode("utf-8", "replace")) + 1
