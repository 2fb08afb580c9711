"""How what a forecast tells is written, on a page and on the command line alike."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from gettext import NullTranslations
from types import MappingProxyType

from callroom.model.forecast import Quantiles
from callroom.model.mass import GRAMS_PER_POUND, MassUnit
from callroom.model.movement import Movement
from callroom.model.words import N_
from callroom.model.workout import PartKind
from callroom.views import wording
from callroom.views.forecast import PartOutlook

_CAPACITIES: Mapping[str, str] = MappingProxyType(
    {
        "pull": N_("pulling"),
        "press": N_("pressing"),
        "hinge": N_("lifting from the hips"),
        "squat": N_("squatting"),
        "lunge": N_("lunging"),
        "carry": N_("carrying"),
        "jump": N_("jumping"),
        "core": N_("trunk"),
        "grip": N_("grip"),
        "load": N_("heavy loads"),
        "engine": N_("endurance"),
        "skill": N_("skill"),
        "balance": N_("balance"),
    }
)


def capacity(name: str, words: NullTranslations = wording.ENGLISH) -> str:
    """Return what a workout tests in plain words: ``"pulling"``, ``"endurance"``."""
    return words.gettext(_CAPACITIES.get(name, name))


def value(
    number: int,
    kind: PartKind,
    first: MassUnit = "kg",
    words: NullTranslations = wording.ENGLISH,
) -> str:
    """Return a result as a part of `kind` has it: ``"7:30"``, ``"164"``, ``"157 kg"``, ``"800 m"``.

    A time is given in seconds, a load in grams, a distance in metres, work in counts.
    """
    if kind == "time":
        return wording.stopwatch(number)
    if kind == "load":
        return load(number, first, words)
    return wording.amount(number, "metres" if kind == "distance" else "reps", words)


def load(grams: int, first: MassUnit = "kg", words: NullTranslations = wording.ENGLISH) -> str:
    """Return a mass [g] in the event's unit, to half of it: ``"27.5 kg"``, ``"61 lb"``."""
    per_unit = Fraction(1000) if first == "kg" else GRAMS_PER_POUND
    halves = round(grams / per_unit * 2)
    return f"{wording.decimal(Decimal(halves) / 2, words)} {first}"


def span(
    told: Quantiles,
    kind: PartKind,
    first: MassUnit = "kg",
    words: NullTranslations = wording.ENGLISH,
) -> str:
    """Return the middle four fifths: ``"5:55 – 7:07"``; a dash where hardly anybody gets there."""
    ends = [
        value(number, kind, first, words) if number is not None else "…"
        for number in (told.p10, told.p90)
    ]
    return "–" if told.p10 is None else " – ".join(dict.fromkeys(ends))


def pace(permille: int, words: NullTranslations = wording.ENGLISH) -> str:
    """Return how a pace [thousandths of the forecast's times] differs, to a whole per cent."""
    percent = round((permille - 1000) / 10)
    if percent == 0:
        return words.gettext("as forecast")
    if percent > 0:
        return words.gettext("{percent} % slower").format(percent=percent)
    return words.gettext("{percent} % faster").format(percent=-percent)


def results(part: PartOutlook) -> Quantiles:
    """Return what a part is about: its times to finish, else its work, load or distance."""
    return part.forecast.finish_s if part.forecast.kind == "time" else part.forecast.counts


def stall(
    part: PartOutlook,
    catalogue: Mapping[str, Movement],
    words: NullTranslations = wording.ENGLISH,
) -> str:
    """Return where teams lose most: ``"thrusters, round 2 (0:41 lost)"``; empty without steps."""
    step = part.stall
    if step is None or not step.lost_s:
        return ""
    name = wording.movement(step.movement, catalogue, 2)
    lost = wording.stopwatch(step.lost_s)
    if step.round_number == 1:
        return words.gettext("{movement} ({lost} lost)").format(movement=name, lost=lost)
    return words.gettext("{movement}, round {number} ({lost} lost)").format(
        movement=name, number=step.round_number, lost=lost
    )
