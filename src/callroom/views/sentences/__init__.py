"""Sentences: what a rule that was broken, or a reason for a place, says to a person.

Each module of this package has a table ``SENTENCES`` of templates by rule, marked for
translation. A template names the place, quotes what was given and gives the mend; it may use
the facts that its rule promises. Rules of several packages are put together here.
"""

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Protocol

from callroom.model import Event, Fact
from callroom.model.words import N_
from callroom.views.day_wording import day_clock
from callroom.views.wording import result_time, stopwatch

__all__ = ["SENTENCES", "reasons_text", "sentence"]


_DAY_S = 86_400


class Said(Protocol):
    """Anything that names a rule and gives its facts: a finding, a reason for a place."""

    @property
    def rule(self) -> str:
        """Which rule."""

    @property
    def facts(self) -> Mapping[str, Fact]:
        """What the sentence may use."""


def _all_tables() -> Mapping[str, str]:
    together: dict[str, str] = {}
    for module in sorted(found.name for found in pkgutil.iter_modules(__path__)):
        table: Mapping[str, str] = importlib.import_module(f"{__name__}.{module}").SENTENCES
        twice = together.keys() & table.keys()
        if twice:
            raise ValueError(f"{module} says again what is said already: {sorted(twice)}")
        together.update(table)
    return MappingProxyType(together)


SENTENCES = _all_tables()


def sentence(
    said: Said, translate: Callable[[str], str] = str, *, event: Event | None = None
) -> str:
    """Return what `said` means, in the language of `translate` (English by default).

    Facts whose name ends in ``_s`` or ``_ms`` are written as a clock shows them; those in
    ``_at_s`` are times of the day, written on the wall clock of `event` where it is given,
    and otherwise as the time since the day's start. A rule
    without a sentence is written with its facts, so that nothing is ever hidden by a
    forgotten text. What stems from a file begins with the place in it.
    """
    facts = {name: _written(name, value, event) for name, value in said.facts.items()}
    template = SENTENCES.get(said.rule)
    if template is None:
        listed = ", ".join(f"{name} = {value}" for name, value in said.facts.items())
        return f"{said.rule}: {listed}" if listed else said.rule
    return _place(facts, translate) + translate(template).format(**facts)


def _place(facts: Mapping[str, str], translate: Callable[[str], str]) -> str:
    """Return where in a file something stands; empty for what is not placed in one.

    Movements are placed by a ``key``, ``no_reps 2, label``, which needs no file. A fact ``row``
    of 0 means the whole file. Texts have lines and columns counted by number, tables rows and
    columns named by letter.
    """
    if {"file", "key"} <= facts.keys() and "row" not in facts:
        named = N_("{file}, {key}: ") if facts["file"] else N_("{key}: ")
        return translate(named).format(**facts) if facts["key"] else ""
    if not {"file", "row", "column"} <= facts.keys():
        return ""
    if facts["row"] == "0":
        template = N_("{file}: ")
    elif not facts["column"]:
        template = N_("{file}, row {row}: ")
    elif facts["column"].isdigit():
        template = N_("{file}, line {row}, column {column}: ")
    else:
        template = N_("{file}, row {row}, column {column}: ")
    return translate(template).format(**facts)


def reasons_text(reasons: Iterable[Said], translate: Callable[[str], str] = str) -> str:
    """Return the reasons for a place as one text: ``"Place 3: 9 points; level with …"``."""
    text = "; ".join(sentence(reason, translate) for reason in reasons)
    return text[:1].upper() + text[1:]


def _written(name: str, value: Fact, event: Event | None) -> str:
    if value is None:
        return "–"
    if isinstance(value, int) and not isinstance(value, bool):
        if name.endswith("_at_s") and event is not None:
            return day_clock(event, value)
        sign, size = ("−" if value < 0 else ""), abs(value)
        if name.endswith("_ms"):
            return sign + result_time(size, 1 if size % 1000 else 1000)
        if name.endswith("_s"):
            days, rest = divmod(size, _DAY_S)
            return sign + (f"{days} d {stopwatch(rest)}" if days else stopwatch(rest))
    return str(value)
