"""`event.toml`: what a director decides before anyone enters, in a format of our own.

The format is described in ``docs/formats.md``. Reading gives a whole Event or refuses with
every fault of the file; ``event_writing`` is the way back.
"""

import re
import tomllib
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Any

import msgspec

from callroom.exchange.event_basics import (
    read_categories,
    read_divisions,
    read_floors,
    read_head,
)
from callroom.exchange.event_rules import read_rules
from callroom.exchange.event_wishes import read_wishes
from callroom.exchange.event_workouts import Names, read_workouts
from callroom.exchange.faults import NOWHERE, Faults, Spot, shown
from callroom.exchange.subjects import Subjects
from callroom.exchange.text_encoding import NotText, decode_utf8
from callroom.exchange.toml_positions import positions_in
from callroom.exchange.toml_section import Section, TomlSource, dotted
from callroom.model import BadInput, Event, Finding, errors_among
from callroom.model.checking import check_event

EVENT_FORMAT = 1
"""Version of the format. A file of another one is refused, not half understood."""

MOVEMENT_KEYS = ("movement", "change")
"""The director's own movements stand in the same file; ``standards`` reads them."""

LONGEST_BYTES = 250_000
"""Largest event file read; one of five workouts has about 10,000."""

# The parser's work grows with the square of the parts of a dotted key. Ours have up to six.
_LONG_KEY = re.compile(r"""(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){32}""")

# Where the head of the file is faulty, the rest is still looked through against this day.
_STAND_INS: Mapping[str, Any] = MappingProxyType(
    dict.fromkeys(("id", "name", "venue", "cause"), "stand-in")
    | {"day": date(2000, 1, 1), "zone": "UTC", "start_s": 0, "currency": "EUR"}
)
# What lists of teams, crew and kit name; faulty, it would make faults of what is right.
_OF_LISTS = ("event", "categories", "divisions", "floors", "file")
_BELOW: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "divisions": ("categories",),
        "workouts": ("categories", "divisions", "floors"),
        "rules": ("workouts",),
        "wishes": ("floors", "event"),
    }
)

_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)")
_TWICE = ("Cannot overwrite a value", "Cannot declare", "Duplicate", "Cannot mutate")


class FaultyEvent(BadInput):
    """An event file with faults; `event` is what the lists can still be held against.

    None if something of what they name could not be read.
    """

    def __init__(self, findings: tuple[Finding, ...], event: Event | None) -> None:
        """Keep all `findings`, and the event without the faulty values."""
        super().__init__(findings)
        self.event = event


def read_event(data: bytes, file: str = "event.toml") -> Event:
    """Return the event that a file describes.

    Parameters
    ----------
    data
        The bytes of the file: TOML 1.0 in UTF-8.
    file
        Its name, for messages.

    Raises
    ------
    FaultyEvent
        With every fault of the file, each naming its line and column and the mend. A file
        that is no TOML has one fault, as nothing after it can be read.
    """
    faults = Faults(file)
    return _event_in(_parsed(data, faults), faults)


def read_event_values(values: Mapping[str, Any]) -> Event:
    """Return the event that the tables of an event file describe, already parsed.

    A page that asks for the same things as the file reads them by this, with the same checks.

    Raises
    ------
    FaultyEvent
        With every fault; the ``subject`` of each is the key that it concerns as the file has
        it, dotted, rows counted from 1: ``"wishes.rests.1.rest"``.
    """
    faults = Faults("")
    root = Section(values, (), TomlSource(faults, positions_in("")))
    return _event_in(root, faults, by_key=True)


def _event_in(root: Section, faults: Faults, *, by_key: bool = False) -> Event:
    subjects = Subjects()
    for key in MOVEMENT_KEYS:
        root.given(key)
    fields = _fields(root, subjects)
    root.close()
    unsound = {_area(finding.subject) for finding in faults.findings}
    event = Event(**{**_STAND_INS, **fields})
    for finding in errors_among(check_event(event)):
        if _rests_on(finding.subject) & unsound:
            continue
        path = subjects.path(finding.subject, root.values)
        if by_key:
            finding = msgspec.structs.replace(finding, subject=dotted(path))  # noqa: PLW2901
        faults.add_finding(finding, root.source.positions.value(path))
    if errors_among(faults.findings):
        unsound = {_area(finding.subject) for finding in faults.findings}
        raise FaultyEvent(faults.findings, event if unsound.isdisjoint(_OF_LISTS) else None)
    return event


def _area(subject: str) -> str:
    """Return the part of the file that a subject lies in; each workout is one of its own."""
    steps = subject.split(".")
    return ".".join(steps[: 2 if steps[0] == "workouts" else 1])


def _rests_on(subject: str) -> set[str]:
    """Return the areas whose unread values could have made a fault of `subject`."""
    area = _area(subject)
    return {area, area.partition(".")[0], *_BELOW.get(area.partition(".")[0], ())}


def _parsed(data: bytes, faults: Faults) -> Section:
    """Return the outermost table; refuse at once what is no TOML."""
    text = _text(data, faults)
    values: dict[str, Any] = {}
    long_key = _LONG_KEY.search(text)
    if long_key is not None:
        faults.add("toml.too_deep", Spot(text.count("\n", 0, long_key.start()) + 1, "1"), "file")
        faults.refuse_if_any()
    try:
        values = tomllib.loads(text, parse_float=Decimal)
    except RecursionError:
        faults.add("toml.too_deep", NOWHERE, "file")
    except ValueError as fault:  # also whole numbers of thousands of digits
        _syntax_fault(faults, text, str(fault))
    faults.refuse_if_any()
    return Section(values, (), TomlSource(faults, positions_in(text)))


def _text(data: bytes, faults: Faults) -> str:
    if len(data) > LONGEST_BYTES:
        faults.add("file.too_large", NOWHERE, "file", given=len(data), most=LONGEST_BYTES)
        faults.refuse_if_any()
    try:
        text = decode_utf8(data)
    except NotText as fault:
        faults.add("file.not_utf8", Spot(fault.row, str(fault.column)), "file")
        faults.refuse_if_any()
        raise
    if not text.strip():
        faults.add("file.empty", NOWHERE, "file")
        faults.refuse_if_any()
    return text


def _syntax_fault(faults: Faults, text: str, detail: str) -> None:
    place = _PLACE.search(detail)
    lines = text.replace("\r\n", "\n").split("\n")
    row = int(place[1]) if place else len(lines)
    spot = Spot(row, place[2] if place else "")
    rule = "toml.twice" if detail.startswith(_TWICE) else "toml.unreadable"
    given = shown(lines[row - 1].strip()) if row <= len(lines) else ""
    faults.add(rule, spot, "file", given=given, detail=_PLACE.sub("", detail).strip())


def _fields(root: Section, subjects: Subjects) -> dict[str, Any]:
    """Return the fields of the event; some are missing only where there is a fault."""
    if root.whole("format", EVENT_FORMAT) != EVENT_FORMAT:
        given = shown(root.given("format"))
        root.fault("toml.other_format", "format", given=given, known=EVENT_FORMAT)
    fields, day = read_head(root)
    categories = read_categories(root)
    category_ids = frozenset(category.id for category in categories)
    divisions = read_divisions(root, category_ids)
    names = Names(
        categories=category_ids,
        divisions=frozenset(division.id for division in divisions),
        day=day,
        subjects=subjects,
    )
    return fields | {
        "categories": categories,
        "divisions": divisions,
        "floors": read_floors(root),
        "workouts": read_workouts(root, names),
        "rules": read_rules(root.section("rules")),
        "wishes": read_wishes(root.section("wishes"), day),
    }
