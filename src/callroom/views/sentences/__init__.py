"""Sentences: what a rule that was broken, or a reason for a place, says to a person.

Each module of this package has a table ``SENTENCES`` of templates by rule, marked for
translation. A template names the place, quotes what was given and gives the mend; it may use
the facts that its rule promises. Rules of several packages are put together here.
"""

import importlib
import pkgutil
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Protocol

from callroom.model import Fact
from callroom.views.wording import result_time, stopwatch

__all__ = ["SENTENCES", "sentence"]


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


def sentence(said: Said, translate: Callable[[str], str] = str) -> str:
    """Return what `said` means, in the language of `translate` (English by default).

    Facts whose name ends in ``_s`` or ``_ms`` are written as a clock shows them. A rule
    without a sentence is written with its facts, so that nothing is ever hidden by a
    forgotten text.
    """
    template = SENTENCES.get(said.rule)
    if template is None:
        listed = ", ".join(f"{name} = {value}" for name, value in said.facts.items())
        return f"{said.rule}: {listed}" if listed else said.rule
    return translate(template).format(
        **{name: _written(name, value) for name, value in said.facts.items()}
    )


def _written(name: str, value: Fact) -> str:
    if value is None:
        return "–"
    if isinstance(value, int) and not isinstance(value, bool):
        sign, size = ("−" if value < 0 else ""), abs(value)
        if name.endswith("_ms"):
            return sign + result_time(size, 1 if size % 1000 else 1000)
        if name.endswith("_s"):
            return sign + stopwatch(size)
    return str(value)
