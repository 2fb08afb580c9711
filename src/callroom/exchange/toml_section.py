"""A table of a TOML file as it is read: every value asked for by name, every fault kept.

A getter that finds a fault notes it and returns a stand-in, so that reading goes on and all
faults come to light at once. Stand-ins never get out: a file with an error is refused whole.
"""

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any, TypeVar

from callroom.exchange.faults import Faults, is_unseen, nearest, shown
from callroom.exchange.quantities import (
    Unreadable,
    plain,
    read_duration_ms,
    read_duration_s,
)
from callroom.exchange.toml_positions import Path, Positions
from callroom.model import Fact

Choice = TypeVar("Choice", bound=str)
Read = TypeVar("Read")

ID_FORM = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}")
"""An id: it stands in keys of score sheets, in addresses and on cards."""

MOST = 10**6
"""Bound of any whole number in a file, unless a narrower one is given."""

NAME_LENGTH = 80
TEXT_LENGTH = 4000


class TomlSource:
    """The file being read: its faults, and where everything stands in it."""

    def __init__(self, faults: Faults, positions: Positions) -> None:
        self.faults = faults
        self.positions = positions

    def fault(self, rule: str, path: Path, /, *, at_key: bool = False, **facts: Fact) -> None:
        """Keep a fault of `rule` at the value (or the key) with this path."""
        spot = self.positions.key(path) if at_key else self.positions.value(path)
        self.faults.add(rule, spot, dotted(path), key=dotted(path), **facts)


def dotted(path: Path) -> str:
    """Return a path as people read it, lists counted from 1: ``workouts.w1.blocks.2.rounds``."""
    return ".".join(str(step + 1) if isinstance(step, int) else shown(step) for step in path)


class Section:
    """One table of the file."""

    def __init__(self, values: Mapping[str, object], path: Path, source: TomlSource) -> None:
        self.values = values
        self.path = path
        self.source = source
        self._known: set[str] = set()

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def fault(self, rule: str, key: str = "", /, *, at_key: bool = False, **facts: Fact) -> None:
        """Keep a fault at one key of this table, or at the table itself."""
        path = (*self.path, key) if key else self.path
        self.source.fault(rule, path, at_key=at_key, **facts)

    def given(self, key: str) -> object | None:
        """Return what stands under `key`, or None."""
        self._known.add(key)
        return self.values.get(key)

    def missing(self, key: str) -> None:
        """Keep the fault that `key` is needed here."""
        self.fault("toml.key_missing", at_key=True, wanted=key)

    def needs(self, *keys: str) -> None:
        """Keep a fault for each of `keys` that is not given."""
        for key in keys:
            if self.given(key) is None:
                self.missing(key)

    def close(self) -> None:
        """Keep a fault for every key that nobody asked for."""
        for key in self.values:
            if key in self._known:
                continue
            near = nearest(key, self._known)
            rule = "toml.key_unknown_near" if near else "toml.key_unknown"
            known = ", ".join(sorted(self._known))
            self.fault(rule, key, at_key=True, given=shown(key), near=near, known=known)

    def text(self, key: str, default: str = "", longest: int = NAME_LENGTH) -> str:
        """Return a text in one line."""
        value = self.given(key)
        if value is None:
            return default
        if not isinstance(value, str):
            self.fault("toml.no_text", key, given=shown(value))
            return default
        return self._cleaned(key, value, longest, allowed="")

    def lines(self, key: str) -> str:
        """Return a text that may have several lines."""
        value = self.given(key)
        if value is None:
            return ""
        if not isinstance(value, str):
            self.fault("toml.no_text", key, given=shown(value))
            return ""
        return self._cleaned(key, value, TEXT_LENGTH, allowed="\n\t")

    def _cleaned(self, key: str, value: str, longest: int, allowed: str) -> str:
        text = unicodedata.normalize("NFC", value).strip()
        unseen = [sign for sign in text if is_unseen(sign) and sign not in allowed]
        if unseen:
            code = f"U+{ord(unseen[0]):04X}"
            self.fault("toml.text_unseen", key, given=shown(value), code=code)
        elif not text:
            self.fault("toml.text_empty", key)
        elif len(text) > longest:
            self.fault("toml.text_long", key, given=shown(value), length=len(text), most=longest)
        else:
            return text
        return ""

    def identifier(self, key: str) -> str:
        """Return an id given as a value."""
        value = self.text(key)
        if value and not ID_FORM.fullmatch(value):
            self.fault("toml.id_form", key, given=shown(value))
        return value

    def texts(self, key: str) -> tuple[str, ...] | None:
        """Return a list of texts, or None if the key is not given."""
        value = self.given(key)
        if value is None:
            return None
        if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
            self.fault("toml.no_texts", key, given=shown(value))
            return ()
        return tuple(value)

    def whole(self, key: str, default: int, least: int = 0, most: int = MOST) -> int:
        """Return a whole number from `least` to `most`."""
        value = self.given(key)
        if value is None:
            return default
        return self.checked_whole((key,), value, least, most)

    def checked_whole(self, below: Path, value: object, least: int, most: int = MOST) -> int:
        """Return `value`, which stands at `below` in this table, as a whole number."""
        path = (*self.path, *below)
        if isinstance(value, bool) or not isinstance(value, int):
            self.source.fault("toml.no_whole", path, given=shown(value))
            return least
        if not least <= value <= most:
            self.source.fault("toml.bounds", path, given=shown(value), least=least, most=most)
            return least
        return value

    def number(self, key: str, default: Decimal) -> Decimal:
        """Return an exact decimal number."""
        value = self.given(key)
        return default if value is None else self.checked_number((key,), value)

    def checked_number(self, below: Path, value: object) -> Decimal:
        """Return `value`, which stands at `below` in this table, as an exact decimal."""
        path = (*self.path, *below)
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            self.source.fault("toml.no_number", path, given=shown(value))
            return Decimal(0)
        # A file may say nan, inf or 1e999999999: look at the form before computing with it.
        number = Decimal(value)
        sound = number.is_finite() and len(number.as_tuple().digits) <= 16
        if not sound or not -MOST <= number <= MOST:
            self.source.fault("toml.number_odd", path, given=shown(value), most=MOST)
            return Decimal(0)
        return Decimal(plain(number))

    def flag(self, key: str, *, default: bool = False) -> bool:
        """Return true or false."""
        value = self.given(key)
        if value is None:
            return default
        if not isinstance(value, bool):
            self.fault("toml.no_flag", key, given=shown(value))
            return default
        return value

    def choice(self, key: str, choices: tuple[Choice, ...], default: Choice) -> Choice:
        """Return one of `choices`; blanks, hyphens and capitals do not matter."""
        value = self.given(key)
        if value is None:
            return default
        if isinstance(value, str):
            plain_word = value.strip().casefold().replace(" ", "_").replace("-", "_")
            for choice in choices:
                if choice.casefold() == plain_word:
                    return choice
        near = nearest(value, choices) if isinstance(value, str) else ""
        rule = "toml.choice_near" if near else "toml.choice"
        self.fault(rule, key, given=shown(value), near=near, choices=", ".join(choices))
        return default

    def duration_s(self, key: str, default: int) -> int:
        """Return a duration in whole seconds."""
        return self._read(key, default, read_duration_s, "toml.no_duration")

    def duration_ms(self, key: str, default: int) -> int:
        """Return a duration [ms]."""
        return self._read(key, default, read_duration_ms, "toml.no_duration")

    def _read(self, key: str, default: Read, read: Callable[[str], Read], rule: str) -> Read:
        value = self.given(key)
        if value is None:
            return default
        if not isinstance(value, str):
            self.fault(rule, key, given=shown(value))
            return default
        return self.read_text((key,), value, default, read)

    def read_text(
        self, below: Path, value: str, default: Read, read: Callable[[str], Read]
    ) -> Read:
        """Return what `read` makes of a text standing at `below` in this table."""
        try:
            return read(value)
        except Unreadable as fault:
            facts: dict[str, Any] = fault.facts | {"given": shown(value)}
            self.source.fault(fault.rule, (*self.path, *below), **facts)
            return default

    def date(self, key: str) -> date | None:
        """Return a calendar day, or None where it is missing or unreadable."""
        value = self.given(key)
        if isinstance(value, str):
            try:
                return date.fromisoformat(value.strip())
            except ValueError:
                pass
        elif isinstance(value, date) and not isinstance(value, datetime):
            return value
        if value is not None:
            self.fault("toml.no_date", key, given=shown(value))
        return None

    def moment(self, key: str) -> str | time | datetime | None:
        """Return a time of day or a date with a time, still to be set against the day."""
        value = self.given(key)
        if value is None or isinstance(value, str | time | datetime):
            return value
        self.fault("toml.no_clock", key, given=shown(value))
        return None

    def section(self, key: str) -> "Section":
        """Return the table under `key`; an empty one if it is not given."""
        value = self.given(key)
        return self._below((key,), {} if value is None else value)

    def sections(self, key: str) -> Iterator[tuple[str, "Section"]]:
        """Return the tables in the table under `key`, with the ids they are named by."""
        for name, value in self.section(key).values.items():
            if not ID_FORM.fullmatch(name):
                self.source.fault(
                    "toml.id_form", (*self.path, key, name), at_key=True, given=shown(name)
                )
            yield name, self._below((key, name), value)

    def rows(self, key: str) -> Iterator["Section"]:
        """Return the tables in the list under `key`."""
        value = self.given(key)
        if value is None:
            return
        if not isinstance(value, list):
            self.fault("toml.no_tables", key, given=shown(value))
            return
        for number, row in enumerate(value):
            yield self._below((key, number), row)

    def _below(self, steps: Path, value: object) -> "Section":
        path = (*self.path, *steps)
        if not isinstance(value, dict):
            self.source.fault("toml.no_table", path, given=shown(value))
            value = {}
        return Section(value, path, self.source)
