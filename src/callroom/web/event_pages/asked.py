"""What a page of the event asks: fields, each a key of the event file, with a label and help."""

from collections.abc import Callable
from typing import Literal

import msgspec

Kind = Literal[
    "text",
    "long",
    "date",
    "moment",
    "span",
    "whole",
    "number",
    "numbers",
    "wholes",
    "choice",
    "tick",
    "ticks",
    "picks",
    "days",
]
"""How a field is typed.

``moment``: a time of day or a day with a time. ``span``: a length of time. ``number`` is exact,
``numbers`` and ``wholes`` are lists with commas. ``ticks``: several of the choices. ``picks``:
a list in order, chosen one by one. ``days``: whole days, or nothing for ever.
"""

Choices = tuple[tuple[str, str], ...]


class Field(msgspec.Struct, frozen=True, kw_only=True):
    """One key: `key` is its path in its table, dotted; `usual` the value where none is given."""

    key: str
    label: str
    help: str = ""
    kind: Kind = "text"
    usual: str = ""
    choices: Choices = ()
    picks: int = 0


class Rows(msgspec.Struct, frozen=True, kw_only=True):
    """A table of things, one row each: named by ids that are `made` here, or counted in order.

    `named`: the field without which a row is nothing. `one_more` heads the empty row.
    """

    key: str
    title: str
    help: str
    one_more: str
    fields: tuple[Field, ...]
    by_id: bool = True
    named: str = "name"


class Group(msgspec.Struct, frozen=True, kw_only=True):
    """Fields of one table that belong together; `folded`: most directors leave them as usual."""

    title: str
    fields: tuple[Field, ...] = ()
    rows: tuple[Rows, ...] = ()
    folded: bool = False


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """One page: its groups, all in the table `table` of the file (empty: the outermost)."""

    name: str
    title: str
    says: str
    groups: tuple[Group, ...]

    @property
    def fields(self) -> tuple[Field, ...]:
        """Every field of the page outside of rows."""
        return tuple(field for group in self.groups for field in group.fields)

    @property
    def rows(self) -> tuple[Rows, ...]:
        """Every table of rows of the page."""
        return tuple(rows for group in self.groups for rows in group.rows)


Text = Callable[[str], str]
