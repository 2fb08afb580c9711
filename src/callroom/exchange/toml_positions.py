"""Where each key of a TOML text stands, so that a fault can name its line and column.

The standard parser gives values without places. This reads the text a second time, after
the parser has accepted it, and therefore checks nothing: it only follows keys and skips
values. Where it loses its way it stops, and the places it has stay right.
"""

import contextlib
import re
from collections.abc import Mapping

import msgspec

from callroom.exchange.faults import Spot

Path = tuple[str | int, ...]

_BLANK = re.compile(r"[ \t]*")
_BETWEEN_LINES = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_COMMA = re.compile(r"(?:[ \t\n,]|#[^\n]*)*")
_PLAIN_VALUE = re.compile(r"[^,\]}#\n]*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPE = re.compile(r"\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(.))")
_ESCAPED = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


class Positions(msgspec.Struct, frozen=True):
    """The places of keys and of values, by path: ``("workouts", "w1", "blocks", 0, "rounds")``."""

    keys: Mapping[Path, Spot]
    values: Mapping[Path, Spot]

    def key(self, path: Path) -> Spot:
        """Return where the key stands, else the table around it, else the first line."""
        return _nearest(self.keys, path)

    def value(self, path: Path) -> Spot:
        """Return where the value stands, else what :meth:`key` returns."""
        return self.values.get(path) or self.key(path)


def _nearest(places: Mapping[Path, Spot], path: Path) -> Spot:
    for length in range(len(path), 0, -1):
        spot = places.get(path[:length])
        if spot is not None:
            return spot
    return Spot(1, "1")


class _Lost(Exception):
    """The text is not what the parser would have accepted here."""


class _Walk:
    """One pass over the text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.line_start = 0
        self.keys: dict[Path, Spot] = {}
        self.values: dict[Path, Spot] = {}
        self.list_lengths: dict[Path, int] = {}

    def spot(self) -> Spot:
        return Spot(self.line, str(self.at - self.line_start + 1))

    def move(self, to: int) -> None:
        breaks = self.text.count("\n", self.at, to)
        if breaks:
            self.line += breaks
            self.line_start = self.text.rfind("\n", self.at, to) + 1
        self.at = to

    def peek(self, length: int = 1) -> str:
        return self.text[self.at : self.at + length]

    def skip(self, pattern: re.Pattern[str]) -> None:
        found = pattern.match(self.text, self.at)
        if found is not None:
            self.move(found.end())

    def expect(self, sign: str) -> None:
        if self.peek(len(sign)) != sign:
            raise _Lost
        self.move(self.at + len(sign))

    def document(self) -> None:
        table: Path = ()
        while True:
            self.skip(_BETWEEN_LINES)
            if self.at >= len(self.text):
                return
            if self.peek() == "[":
                table = self.header()
            else:
                self.pair(table)

    def header(self) -> Path:
        start = self.spot()
        is_list = self.peek(2) == "[["
        self.expect("[[" if is_list else "[")
        names = self.dotted()
        self.expect("]]" if is_list else "]")
        path: Path = ()
        for name in names[:-1]:
            path = (*path, name)
            self.keys.setdefault(path, start)
            if path in self.list_lengths:
                path = (*path, self.list_lengths[path] - 1)
        path = (*path, names[-1])
        self.keys.setdefault(path, start)
        if is_list:
            number = self.list_lengths.get(path, 0)
            self.list_lengths[path] = number + 1
            path = (*path, number)
            self.keys[path] = start
        return path

    def pair(self, table: Path) -> None:
        start = self.spot()
        path = table
        for name in self.dotted():
            path = (*path, name)
            self.keys.setdefault(path, start)
        self.expect("=")
        self.skip(_BLANK)
        self.value(path)

    def dotted(self) -> list[str]:
        names: list[str] = []
        while True:
            self.skip(_BLANK)
            names.append(self.name())
            self.skip(_BLANK)
            if self.peek() != ".":
                return names
            self.expect(".")

    def name(self) -> str:
        if self.peek() == "'":
            return self.string()[1:-1]
        if self.peek() == '"':
            return _ESCAPE.sub(_unescape, self.string()[1:-1])
        bare = _BARE_KEY.match(self.text, self.at)
        if bare is None:
            raise _Lost
        self.move(bare.end())
        return bare.group()

    def value(self, path: Path) -> None:
        self.values[path] = self.spot()
        first = self.peek()
        if first == "[":
            self.array(path)
        elif first == "{":
            self.inline_table(path)
        elif first in {'"', "'"}:
            self.string()
        else:
            self.skip(_PLAIN_VALUE)

    def array(self, path: Path) -> None:
        self.expect("[")
        number = 0
        self.skip(_BETWEEN_LINES)
        while self.peek() != "]":
            self.keys[(*path, number)] = self.spot()
            self.value((*path, number))
            number += 1
            self.skip(_COMMA)
        self.expect("]")

    def inline_table(self, path: Path) -> None:
        self.expect("{")
        self.skip(_BETWEEN_LINES)
        while self.peek() != "}":
            self.pair(path)
            self.skip(_COMMA)
        self.expect("}")

    def string(self) -> str:
        """Skip a string of any of the four kinds and return it with its quotation marks."""
        start = self.at
        quote = self.peek()
        if self.peek(3) == quote * 3:
            end = self.closing(start + 3, quote * 3) + 3
            while self.text[end : end + 1] == quote:  # up to two may stand before the closing
                end += 1
        else:
            end = self.closing(start + 1, quote) + 1
        self.move(end)
        return self.text[start:end]

    def closing(self, at: int, quote: str) -> int:
        """Return where the closing `quote` stands, past escaped ones."""
        found = self.text.find(quote, at)
        while found >= 0:
            slash = self.text.find("\\", at, found) if quote[0] == '"' else -1
            if slash < 0:
                return found
            at = slash + 2
            if at > found:
                found = self.text.find(quote, at)
        raise _Lost


def _unescape(match: re.Match[str]) -> str:
    short, long, sign = match.groups()
    if sign is not None:
        return _ESCAPED.get(sign, sign)
    return chr(int(short or long, 16))


def positions_in(text: str) -> Positions:
    """Return the places of all keys and values of a TOML text that parses.

    Parameters
    ----------
    text
        The document, with line ends as LF or CRLF.
    """
    walk = _Walk(text.replace("\r\n", "\n"))
    with contextlib.suppress(_Lost, RecursionError):  # what was found so far is right
        walk.document()
    return Positions(walk.keys, walk.values)
