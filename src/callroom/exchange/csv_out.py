"""Tables for spreadsheet programs, with no text that such a program would compute.

A name that begins with ``=`` is a formula to a spreadsheet program, and a formula can fetch
and send. Source: OWASP, CSV Injection, community page with the line-feed addition of August
2025 (first signs ``= + - @``, tab, carriage return, line feed; defence: a single quote before
the value and the field in quotation marks). Blanks before the sign, lines after a break and
the other usual delimiters are guarded too, as programs differ in what they skip and split.
"""

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Sequence
from decimal import Decimal

CsvValue = str | int | Decimal | None

_SIGNS = "=+-@"
_CONTROLS = "\t\r\n"
_NUMBER = re.compile(r"-?[0-9]{1,15}(?:[.,][0-9]{1,15})?")
_PIECE_ENDS = re.compile(r"(\r\n|[\r\n\t;])")


def guarded(text: str) -> str:
    """Return `text` so that no spreadsheet program takes any of it for a formula.

    Plain numbers, negative ones too, stay as they are.
    """
    if _NUMBER.fullmatch(text):
        return text
    pieces = _PIECE_ENDS.split(text)
    safe = [_guarded_piece(piece) if at % 2 == 0 else piece for at, piece in enumerate(pieces)]
    joined = "".join(safe)
    return f"'{joined}" if joined[:1] in _CONTROLS and joined else joined


def is_formula_like(text: str) -> bool:
    """Whether a spreadsheet program might compute `text` when it is typed or opened."""
    return guarded(text) != text


def _guarded_piece(piece: str) -> str:
    # Full-width signs count as the plain ones in some programs, and unseen ones are skipped.
    seen = "".join(
        sign for sign in piece if not sign.isspace() and unicodedata.category(sign) not in _UNSEEN
    )
    first = unicodedata.normalize("NFKC", seen[:1])[:1]
    return f"'{piece}" if first and first in _SIGNS else piece


_UNSEEN = frozenset({"Cc", "Cf"})


def csv_bytes(rows: Iterable[Sequence[CsvValue]]) -> bytes:
    """Return a CSV file: UTF-8 with its mark, commas, CRLF, every text in quotation marks.

    The mark makes spreadsheet programs read names with accents rightly. Source of the form:
    RFC 4180, section 2.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    for row in rows:
        writer.writerow(
            [guarded(value) if isinstance(value, str) else _plain(value) for value in row]
        )
    return stream.getvalue().encode("utf-8-sig", "replace")


def _plain(value: int | Decimal | None) -> int | str | float:
    return "" if value is None else value  # type: ignore[return-value]
