"""The floor plan in words: lengths, the kinds of spots, what is wrong."""

from collections.abc import Mapping
from gettext import NullTranslations
from types import MappingProxyType

import msgspec

from callroom.model import Finding
from callroom.model.ground import SpotKind, Wall
from callroom.model.mass import MassUnit
from callroom.model.words import N_
from callroom.views.sentences import sentence
from callroom.views.wording import marked

KINDS: Mapping[SpotKind, str] = MappingProxyType(
    {
        "rig": N_("Rig"),
        "wall_target": N_("Wall with targets"),
        "spectators": N_("Spectators"),
        "desk": N_("Desk"),
        "first_aid": N_("First aid"),
        "defibrillator": N_("Defibrillator"),
        "kit_store": N_("Kit store"),
        "warm_up": N_("Warm-up"),
        "walkway": N_("Walkway"),
        "stall": N_("Stall or attraction"),
        "stage": N_("Stage, awards"),
        "other": N_("Something else"),
    }
)
WALL_NAMES: Mapping[Wall, str] = MappingProxyType(
    {
        "top": N_("upper wall"),
        "right": N_("right wall"),
        "bottom": N_("lower wall"),
        "left": N_("left wall"),
    }
)
START_NAMES: Mapping[str, str] = MappingProxyType(
    {"hall": N_("Hall"), "yard": N_("Yard"), "exit": N_("Exit")}
)
_INCH_MM10 = 254


def start_names(words: NullTranslations) -> dict[str, str]:
    """Return what the things of a first layout are called."""
    named = {str(kind): text for kind, text in KINDS.items()} | dict(START_NAMES)
    return {name: words.gettext(text) for name, text in named.items()}


def length(mm: int, unit: MassUnit, words: NullTranslations) -> str:
    """Return a length as people say it: ``"12.5 m"``, or ``41' 6"`` where pounds are used."""
    return typed_length(mm, unit) if unit == "lb" else f"{marked(_plain(mm), words)} m"


def typed_length(mm: int, unit: MassUnit) -> str:
    """Return a length as it stands in a field: metres, or feet and inches to the half inch."""
    if unit != "lb":
        return _plain(mm)
    halves = (mm * 20 + _INCH_MM10 // 2) // _INCH_MM10
    feet, rest = divmod(halves, 24)
    inches, half = divmod(rest, 2)
    said = f"{inches}½" if half else str(inches)
    return f"{feet}' {said}\"" if inches or half else f"{feet}'"


def _plain(mm: int) -> str:
    whole, rest = divmod(mm, 1000)
    return f"{whole}.{rest:03}".rstrip("0").rstrip(".")


def finding_text(finding: Finding, unit: MassUnit, words: NullTranslations) -> str:
    """Return a finding as a sentence, its sizes in the event's unit."""
    facts = {
        name: length(value, unit, words)
        if name.endswith("_mm") and isinstance(value, int)
        else value
        for name, value in finding.facts.items()
    }
    return sentence(msgspec.structs.replace(finding, facts=facts), words.gettext)


_LEGEND: tuple[tuple[str, str], ...] = (
    ("free", N_("kept free")),
    ("door", N_("way out")),
    ("clear", N_("a metre clear around the lanes")),
    ("anchor", N_("rig, wall")),
    ("spectators", N_("spectators")),
    ("judge", N_("judge")),
    ("station", N_("place of work")),
)


def legend(words: NullTranslations) -> tuple[tuple[str, str], ...]:
    """Return what each look of the drawing means: pairs of a role and a text."""
    return tuple((role, words.gettext(text)) for role, text in _LEGEND)
