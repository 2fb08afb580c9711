"""Points formulas: a small arithmetic of our own, read into a tree and never run as code.

::

    sum     = product { ("+" | "-") product }
    product = signed { ("*" | "/") signed }
    signed  = ("+" | "-") signed | power
    power   = atom [ "**" signed ]
    atom    = number | name | name "(" sum { "," sum } ")" | "(" sum ")"

Names are ``place``, ``teams`` and ``result``; functions are ``floor``, ``ceil``, ``abs``,
``min``, ``max`` and ``round_down(value, decimals)``. Text, nesting and numbers are bounded.
How a tree is worked out exactly is in :mod:`callroom.scoring.exact`.
"""

import re
from fractions import Fraction
from typing import Literal

import msgspec

from callroom.model import CallroomError

NAMES = ("place", "teams", "result")
FUNCTIONS = {
    "floor": (1, 1),
    "ceil": (1, 1),
    "abs": (1, 1),
    "round_down": (2, 2),
    "min": (2, 8),
    "max": (2, 8),
}
"""The functions, with the least and the most values each takes."""

LONGEST = 200
DEEPEST = 20
LONGEST_NUMBER = 12

_TOKEN = re.compile(
    r"\s*(?:(?P<number>\d+(?:\.\d+)?)|(?P<name>[A-Za-z_]\w*)|(?P<sign>\*\*|[-+*/(),]))", re.ASCII
)


class FormulaError(CallroomError):
    """A points formula that cannot be read, or not worked out for these values.

    Its facts give the `position` of the fault in the text, counted from 1.
    """


class Number(msgspec.Struct, frozen=True):
    """A number as written, exactly."""

    value: Fraction


class Name(msgspec.Struct, frozen=True):
    """One of the names, given a value when the formula is worked out."""

    name: str
    position: int


class Operation(msgspec.Struct, frozen=True):
    """Two values and the sign between them."""

    sign: Literal["+", "-", "*", "/", "**"]
    left: "Node"
    right: "Node"
    position: int


class Call(msgspec.Struct, frozen=True):
    """A function and its values."""

    function: str
    values: tuple["Node", ...]
    position: int


Node = Number | Name | Operation | Call


class _Token(msgspec.Struct, frozen=True):
    kind: Literal["number", "name", "sign", "end"]
    text: str
    position: int


def read_formula(text: str) -> Node:
    """Return the tree of a formula.

    Raises
    ------
    FormulaError
        With the position of the first thing that cannot be read.
    """
    if len(text) > LONGEST:
        raise FormulaError("formula.too_long", position=LONGEST + 1, length=len(text), most=LONGEST)
    reader = _Reader(_tokens(text))
    tree = reader.sum()
    left = reader.ahead
    if left.kind != "end":
        raise FormulaError("formula.unexpected", position=left.position, given=left.text)
    return tree


def names_in(tree: Node) -> frozenset[str]:
    """Return the names a formula uses."""
    if isinstance(tree, Name):
        return frozenset({tree.name})
    if isinstance(tree, Operation):
        return names_in(tree.left) | names_in(tree.right)
    if isinstance(tree, Call):
        return frozenset().union(*map(names_in, tree.values))
    return frozenset()


def _tokens(text: str) -> list[_Token]:
    tokens: list[_Token] = []
    end = len(text.rstrip())
    at = 0
    while at < end:
        match = _TOKEN.match(text, at)
        if match is None:
            start = at + len(text[at:]) - len(text[at:].lstrip())
            raise FormulaError("formula.unexpected", position=start + 1, given=text[start])
        for kind in ("number", "name", "sign"):
            found = match.group(kind)
            if found is not None:
                tokens.append(_Token(kind, found, match.start(kind) + 1))
        at = match.end()
    return [*tokens, _Token("end", "", end + 1)]


class _Reader:
    """Goes through the tokens once, one function for each line of the grammar."""

    def __init__(self, tokens: list[_Token]) -> None:
        self._tokens = tokens
        self._at = 0
        self._depth = 0

    @property
    def ahead(self) -> _Token:
        """The next token, which stays."""
        return self._tokens[self._at]

    def sum(self) -> Node:
        """Read a sum; nesting is counted here, where every bracket comes by."""
        self._deeper()
        tree = self._product()
        while (token := self._take("+", "-")) is not None:
            sign: Literal["+", "-"] = "+" if token.text == "+" else "-"
            tree = Operation(sign, tree, self._product(), token.position)
        self._depth -= 1
        return tree

    def _product(self) -> Node:
        tree = self._signed()
        while (token := self._take("*", "/")) is not None:
            sign: Literal["*", "/"] = "*" if token.text == "*" else "/"
            tree = Operation(sign, tree, self._signed(), token.position)
        return tree

    def _signed(self) -> Node:
        token = self._take("+", "-")
        if token is None:
            return self._power()
        self._deeper()
        value = self._signed()
        self._depth -= 1
        if token.text == "+":
            return value
        return Operation("-", Number(Fraction(0)), value, token.position)

    def _power(self) -> Node:
        base = self._atom()
        token = self._take("**")
        if token is None:
            return base
        self._deeper()
        exponent = self._signed()
        self._depth -= 1
        return Operation("**", base, exponent, token.position)

    def _atom(self) -> Node:
        token = self.ahead
        if token.kind == "end":
            raise FormulaError("formula.incomplete", position=token.position)
        self._at += 1
        if token.kind == "number":
            if len(token.text) > LONGEST_NUMBER:
                raise FormulaError(
                    "formula.number_too_long", position=token.position, most=LONGEST_NUMBER
                )
            return Number(Fraction(token.text))
        if token.kind == "name":
            return self._named(token)
        if token.text != "(":
            raise FormulaError("formula.unexpected", position=token.position, given=token.text)
        tree = self.sum()
        self._need(")")
        return tree

    def _named(self, token: _Token) -> Node:
        if token.text in NAMES:
            return Name(token.text, token.position)
        if token.text not in FUNCTIONS:
            raise FormulaError("formula.unknown_name", position=token.position, name=token.text)
        self._need("(")
        values = [self.sum()]
        while self._take(",") is not None:
            values.append(self.sum())
        self._need(")")
        least, most = FUNCTIONS[token.text]
        if not least <= len(values) <= most:
            raise FormulaError(
                "formula.wrong_count",
                position=token.position,
                function=token.text,
                given=len(values),
                least=least,
                most=most,
            )
        return Call(token.text, tuple(values), token.position)

    def _take(self, *signs: str) -> _Token | None:
        token = self.ahead
        if token.kind == "sign" and token.text in signs:
            self._at += 1
            return token
        return None

    def _need(self, sign: str) -> None:
        if self._take(sign) is None:
            token = self.ahead
            raise FormulaError(
                "formula.sign_missing", position=token.position, sign=sign, given=token.text
            )

    def _deeper(self) -> None:
        self._depth += 1
        if self._depth > DEEPEST:
            raise FormulaError("formula.too_deep", position=self.ahead.position, most=DEEPEST)
