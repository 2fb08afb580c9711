"""Somebody's own list, read by what the director says its columns mean.

The list is written anew as one of ours and then read by the same reader, with the same checks:
a fault is told at the row and the column in which it stands in the list as it was sent.
"""

import csv
import difflib
import io
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

import msgspec

from callroom.exchange.column_words import OF_EACH_ATHLETE, SEXES, WORDS
from callroom.exchange.entrants import plain_name
from callroom.exchange.sheets import Sheet
from callroom.exchange.table_cells import plain_heading
from callroom.exchange.workbook_guard import column_letters
from callroom.model import Event, Finding

ListKind = Literal["teams", "crew", "kit"]

# How far down headings are looked for, and how many cells tell a column. Common practice, no source.
_HEAD_ROWS = 15
_LIKELY = 0.6
_EMAIL = re.compile(r"[^@\s,;]+@[^@\s,;]+\.[^@\s,;]+")
_DAY = re.compile(r"\d{4}-\d\d?-\d\d?|\d\d?[./-]\d\d?[./-]\d{2,4}")


class Column(msgspec.Struct, frozen=True):
    """What a column is: one of ours (empty: not wanted), and of which athlete (0: of the row)."""

    name: str = ""
    athlete: int = 0
    value: str = ""
    """What the heading itself says of that athlete, such as ``women`` in “Woman 1”."""


class Meaning(msgspec.Struct, frozen=True, kw_only=True):
    """What a list means.

    Attributes
    ----------
    kind, sheet
        What it lists, and which of its sheets.
    head
        The row of headings, counted from 1; 0: there is none.
    columns
        What each column is, from the left.
    values
        Which of ours a value means: by ``"division/elite"`` the id of a division; empty: rows
        with it are left out.
    """

    kind: ListKind
    sheet: str = ""
    head: int = 0
    columns: tuple[Column, ...] = ()
    values: Mapping[str, str] = {}

    @property
    def by_team(self) -> bool:
        """Whether a row is a whole team."""
        return any(column.athlete for column in self.columns)


class Rewritten(msgspec.Struct, frozen=True):
    """The list as one of ours: its bytes, and where each of its rows and columns came from."""

    data: bytes
    rows: tuple[int, ...]
    letters: Mapping[str, str]


class Asked(msgspec.Struct, frozen=True):
    """A value that has to be said which of ours it is, how often it is there, and the likely one."""

    column: str
    value: str
    count: int
    likely: str


def guess(
    kind: ListKind, sheets: Sequence[Sheet], event: Event, head: int | None = None
) -> Meaning:
    """Return what a list most likely means; it is shown and can be changed.

    `head` is the row of headings, counted from 1, if somebody has said it (0: there is none).
    """
    best = max(sheets, key=lambda sheet: _known_headings(kind, sheet))
    head = _head(kind, best) if head is None else head
    headings = best.rows[head - 1] if head else ("",) * best.width
    below = best.rows[head:]
    columns = [_by_heading(kind, heading) for heading in headings]
    for at, column in enumerate(columns):
        cells = [row[at] for row in below]
        if column == Column("category") and _are_divisions(cells, event):
            columns[at] = Column("division")  # As many call it.
        elif not column.name:
            columns[at] = _by_content(kind, cells, event, columns)
    mapping = Meaning(kind=kind, sheet=best.name, head=head, columns=tuple(_settled(kind, columns)))
    likely = {
        f"{one.column}/{plain_name(one.value)}": one.likely for one in asked(mapping, best, event)
    }
    return msgspec.structs.replace(mapping, values=likely)


def asked(mapping: Meaning, sheet: Sheet, event: Event) -> tuple[Asked, ...]:
    """Return the divisions and categories of a list that are none of ours by name."""
    found: list[Asked] = []
    for column, ours in _ours(event).items():
        counted: Counter[str] = Counter()
        for at, one in enumerate(mapping.columns):
            if one.name == column:
                counted.update(row[at].strip() for row in sheet.rows[mapping.head :])
        for value, count in counted.most_common():
            if value and not _exactly(value, ours):
                found.append(Asked(column, value, count, _nearly(column, value, ours)))
    return tuple(found)


def rewrite(mapping: Meaning, sheet: Sheet, event: Event, skip: frozenset[int]) -> Rewritten:
    """Return the list as one of ours, without the rows to `skip` and those left out by value."""
    names = [name for name in WORDS[mapping.kind] if name not in {"first name", "last name"}]
    lines: list[list[str]] = []
    rows: list[int] = []
    ours = _ours(event)
    for number, row in enumerate(sheet.rows[mapping.head :], start=mapping.head + 1):
        if number in skip or not any(cell.strip() for cell in row):
            continue
        for cells in _athletes(mapping, row):
            said = {name: _said(mapping, name, cells.get(name, ""), ours) for name in names}
            if None not in said.values() and any(said.values()):
                lines.append([said[name] or "" for name in names])
                rows.append(number)
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(names)
    writer.writerows(lines)
    letters = {
        column_letters(index): column_letters(at + 1)
        for index, name in enumerate(names, start=1)
        for at, one in enumerate(mapping.columns)
        if _stands_for(one.name, mapping.kind) == name
    }
    return Rewritten(text.getvalue().encode(), tuple(rows), letters)


def placed(finding: Finding, rewritten: Rewritten, file: str) -> Finding:
    """Return a finding of the list as ours, at its place in the list as it was sent."""
    facts = dict(finding.facts)
    row = facts.get("row")
    if isinstance(row, int) and row >= 2 and row - 2 < len(rewritten.rows):
        facts["row"] = rewritten.rows[row - 2]
    facts["column"] = rewritten.letters.get(str(facts.get("column", "")), "")
    facts["file"] = file
    steps = [file, str(facts.get("row") or ""), str(facts["column"])]
    return msgspec.structs.replace(
        finding, facts=facts, source=":".join(step for step in steps if step)
    )


# ---- guessing --------------------------------------------------------------------------------


def _known_headings(kind: ListKind, sheet: Sheet) -> int:
    rows = sheet.rows[:_HEAD_ROWS]
    return max((sum(bool(_by_heading(kind, cell).name) for cell in row) for row in rows), default=0)


def _head(kind: ListKind, sheet: Sheet) -> int:
    """Return the row with the most known headings, from 1; 0 if none has two."""
    scored = [
        (sum(bool(_by_heading(kind, cell).name) for cell in row), -number, number)
        for number, row in enumerate(sheet.rows[:_HEAD_ROWS], start=1)
    ]
    known, _, number = max(scored, default=(0, 0, 0))
    return number if known >= 2 or (known and sheet.width < 2) else 0


def _by_heading(kind: ListKind, heading: str) -> Column:
    """Return what a heading says, ``"Athlete 2 e-mail"`` and ``"Gym / club"`` included."""
    ours = {plain_heading(name): name for name in WORDS[kind]}
    if plain_heading(heading) in ours:
        return Column(ours[plain_heading(heading)])
    for said in (heading, *re.split(r"[/|(]| or ", heading)):
        for name, words in WORDS[kind].items():
            if plain_heading(said) in words:
                return Column(name)
    return _of_athlete(heading) if kind == "teams" else Column()


def _of_athlete(heading: str) -> Column:
    """Return what a heading with a number says of that athlete; nothing if it has none."""
    number = next((int(sign) for sign in re.findall(r"(?<!\d)([1-9])(?!\d)", heading)), 0)
    rest = plain_heading(re.sub(r"\d", " ", heading))
    if not number:
        return Column()
    for index, sexes in enumerate(SEXES):
        if rest in sexes or _without(rest, WORDS["teams"]["athlete"]) in sexes:
            return Column("athlete", number, str(index))
    for name in sorted(OF_EACH_ATHLETE - {"athlete"}):
        words = WORDS["teams"][name]
        if any(rest == word or (len(word) > 2 and rest.endswith(word)) for word in words):
            sex = (str(at) for at, sexes in enumerate(SEXES) if rest.startswith(tuple(sexes)))
            return Column(name, number, next(sex, ""))
    words = WORDS["teams"]["athlete"]
    return Column("athlete", number) if any(rest.startswith(word) for word in words) else Column()


def _without(text: str, words: Sequence[str]) -> str:
    for word in sorted(words, key=len, reverse=True):
        text = text.removesuffix(word).removeprefix(word)
    return text


def _by_content(
    kind: ListKind, cells: Sequence[str], event: Event, known: Sequence[Column]
) -> Column:
    given = [cell.strip() for cell in cells if cell.strip()]
    there = {column.name for column in known}
    if not given or kind == "kit":
        return Column()

    def share(test: object) -> float:
        return sum(bool(test(one)) for one in given) / len(given)  # type: ignore[operator]

    if "e-mail" not in there and share(_EMAIL.fullmatch) > _LIKELY:
        return Column("e-mail")
    if "birth date" not in there and share(_DAY.fullmatch) > _LIKELY:
        return Column("birth date")
    if kind == "teams":
        ours = _ours(event)
        for name in ("division", "category"):
            if name not in there and share(lambda one: _meant(name, one, ours[name])) > _LIKELY:  # noqa: B023
                return Column(name)
    return Column()


def _are_divisions(cells: Sequence[str], event: Event) -> bool:
    """Whether values are rather divisions than categories."""
    ours = _ours(event)

    def fitting(column: str) -> int:
        return sum(bool(_meant(column, cell, ours[column])) for cell in cells if cell.strip())

    return fitting("division") > fitting("category")


def _settled(kind: ListKind, columns: Sequence[Column]) -> Iterator[Column]:
    """Give each column once: the first of two that seem to be the same is taken.

    Where a row is a whole team, what stands once for each athlete without a number is the first's
    only if there is no other; so it is left out.
    """
    numbered = any(column.athlete for column in columns)
    in_two = any(column.name == "last name" for column in columns) and not any(
        column.name == "first name" for column in columns
    )
    counted: dict[tuple[str, int], int] = {}
    seen: set[tuple[str, int]] = set()
    for given in columns:
        column = given
        if kind == "teams" and in_two and column.name == "athlete":
            column = msgspec.structs.replace(column, name="first name")
        if column.value:
            # “Woman 1” and “Man 1” are two athletes.
            at = counted.setdefault((column.value, column.athlete), len(counted) + 1)
            column = msgspec.structs.replace(column, athlete=at)
        key = (column.name, column.athlete)
        of_row = numbered and not column.athlete and column.name in OF_EACH_ATHLETE
        if column.name and (key in seen or (of_row and column.name in {"athlete", "category"})):
            yield Column()
        else:
            seen.add(key)
            yield column


# ---- values ----------------------------------------------------------------------------------


def _ours(event: Event) -> Mapping[str, Mapping[str, str]]:
    """The names of divisions and categories by id."""
    return {
        "division": {one.id: one.name for one in event.divisions},
        "category": {one.id: one.name for one in event.categories},
    }


def _exactly(value: str, ours: Mapping[str, str]) -> str:
    plain = plain_heading(value)
    return next((key for key, name in ours.items() if plain in _plain_pair(key, name)), "")


def _plain_pair(key: str, name: str) -> tuple[str, str]:
    return plain_heading(key), plain_heading(name)


def _nearly(column: str, value: str, ours: Mapping[str, str]) -> str:
    """Return the id that a value probably means; empty if none is likely."""
    plain = plain_heading(value)
    if column == "category":
        for sexes in SEXES:
            if plain in sexes:
                return next(
                    (key for key, name in ours.items() if sexes & set(_plain_pair(key, name))), ""
                )
    by_name = {plain_heading(name): key for key, name in ours.items()}
    near = difflib.get_close_matches(plain, by_name, 1, 0.6)
    if near:
        return by_name[near[0]]
    within = [key for name, key in by_name.items() if plain and (plain in name or name in plain)]
    return within[0] if len(within) == 1 else ""


def _meant(column: str, value: str, ours: Mapping[str, str]) -> str:
    return _exactly(value, ours) or _nearly(column, value, ours)


# ---- rewriting -------------------------------------------------------------------------------


def _stands_for(name: str, kind: ListKind) -> str:
    """Return our column for one of theirs: first and last names make one name."""
    if name in {"first name", "last name"}:
        return "athlete" if kind == "teams" else "name"
    return name


def _athletes(mapping: Meaning, row: Sequence[str]) -> Iterator[dict[str, str]]:
    """Give the cells of each line of ours that a row makes: one, or one for each athlete."""
    if not mapping.by_team:
        yield _joined(mapping, row, 0)
        return
    numbers = sorted({column.athlete for column in mapping.columns if column.athlete})
    of_row = _joined(mapping, row, 0)
    of_team = {name: cell for name, cell in of_row.items() if name not in OF_EACH_ATHLETE}
    some = False
    for number in numbers:
        own = _joined(mapping, row, number)
        if own.get("athlete"):
            # An address that stands once in the row is the first one's, who sent it.
            yield {**(of_team if some else of_row), **own}
            some = True
    if not some:
        yield of_team


def _joined(mapping: Meaning, row: Sequence[str], athlete: int) -> dict[str, str]:
    cells: dict[str, str] = {}
    first = last = ""
    for column, cell in zip(mapping.columns, row, strict=False):
        if column.athlete != athlete or not column.name:
            continue
        text = " ".join(cell.split())
        if column.name == "first name":
            first = text
        elif column.name == "last name":
            last = text
        else:
            cells[column.name] = text
        if column.value and text and column.name == "athlete":
            cells["category"] = min(SEXES[int(column.value)])
    if first or last:
        name = "athlete" if mapping.kind == "teams" else "name"
        cells[name] = cells.get(name) or f"{first} {last}".strip()
    return cells


def _said(
    mapping: Meaning, column: str, text: str, ours: Mapping[str, Mapping[str, str]]
) -> str | None:
    """Return what a cell becomes; None: the row is left out, as the director said of its value."""
    if column not in ours or not text or mapping.kind != "teams":
        return text
    exact = _exactly(text, ours[column])
    if exact:
        return exact
    told = mapping.values.get(f"{column}/{plain_name(text)}")
    if told is None:
        return _nearly(column, text, ours[column]) or text
    return told or None
