"""How amounts, times, loads and places are written, on a page and on paper alike.

Every function takes the values of a view and returns a short text; where the text has words
in it, the last argument is the language's own translations (:data:`ENGLISH` by default).
Nothing here is stored or sent: a view holds the value, its face asks for the text.
"""

import unicodedata
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from decimal import Decimal
from gettext import NullTranslations

from callroom.model import (
    Category,
    Mass,
    Part,
    PublishedHeight,
    PublishedLoad,
    Switch,
    Who,
    wall_time,
)
from callroom.model.mass import MassUnit
from callroom.model.movement import Movement
from callroom.model.words import N_
from callroom.model.workout import Unit

ENGLISH = NullTranslations()

_WEEKDAYS = (
    N_("Monday"),
    N_("Tuesday"),
    N_("Wednesday"),
    N_("Thursday"),
    N_("Friday"),
    N_("Saturday"),
    N_("Sunday"),
)
_MONTHS = (
    N_("January"),
    N_("February"),
    N_("March"),
    N_("April"),
    N_("May"),
    N_("June"),
    N_("July"),
    N_("August"),
    N_("September"),
    N_("October"),
    N_("November"),
    N_("December"),
)


def stopwatch(time_s: int) -> str:
    """Return seconds as a clock shows them: ``"0:45"``, ``"12:00"``, ``"1:05:00"``."""
    minutes, seconds = divmod(time_s, 60)
    if minutes < 60:
        return f"{minutes}:{seconds:02}"
    return f"{minutes // 60}:{minutes % 60:02}:{seconds:02}"


def result_time(time_ms: int, resolution_ms: int) -> str:
    """Return a time [ms] cut off to the resolution [ms] it is ranked at: ``"7:32.4"``."""
    cut_ms = time_ms - time_ms % resolution_ms
    whole = stopwatch(cut_ms // 1000)
    if resolution_ms % 1000 == 0:
        return whole
    digits = next(count for count in (1, 2, 3) if resolution_ms % 10 ** (3 - count) == 0)
    return f"{whole}.{cut_ms % 1000:03}"[: len(whole) + 1 + digits]


def clock(instant: datetime, zone: str) -> str:
    """Return the venue's wall-clock time, ``"09:05"``, with seconds only where there are some."""
    wall = wall_time(instant, zone)
    return f"{wall:%H:%M:%S}" if wall.second else f"{wall:%H:%M}"


def weekday(day: date, words: NullTranslations = ENGLISH) -> str:
    """Return ``"Saturday"``."""
    return words.gettext(_WEEKDAYS[day.weekday()])


def short_day(day: date, words: NullTranslations = ENGLISH) -> str:
    """Return ``"14 November"``."""
    return words.gettext("{day} {month}").format(
        day=day.day, month=words.gettext(_MONTHS[day.month - 1])
    )


def long_date(day: date, words: NullTranslations = ENGLISH) -> str:
    """Return ``"Saturday 14 November 2026"``."""
    return words.gettext("{weekday} {day} {month} {year}").format(
        weekday=words.gettext(_WEEKDAYS[day.weekday()]),
        day=day.day,
        month=words.gettext(_MONTHS[day.month - 1]),
        year=day.year,
    )


def place(number: int, words: NullTranslations = ENGLISH) -> str:
    """Return a place as an ordinal: ``"1st"``, ``"22nd"``, ``"113th"``."""
    last = 0 if number // 10 % 10 == 1 else number % 10
    texts = {
        1: words.gettext("{place}st"),
        2: words.gettext("{place}nd"),
        3: words.gettext("{place}rd"),
    }
    return texts.get(last, words.gettext("{place}th")).format(place=number)


def decimal(value: Decimal, words: NullTranslations = ENGLISH) -> str:
    """Return a decimal without trailing noughts or exponent: ``"42.5"``, ``"100"``."""
    return marked(f"{value.normalize():f}", words)


def marked(text: str, words: NullTranslations) -> str:
    """Return a number written with a point with the decimal mark of the language."""
    # Translators: what parts the whole from the decimals in 42.5
    return text.replace(".", words.pgettext("decimal mark", "."))


def mass(value: Mass, words: NullTranslations = ENGLISH) -> str:
    """Return a load as it was loaded: ``"102.5 kg"``."""
    return f"{decimal(value.amount, words)} {value.unit}"


def load(value: PublishedLoad, first: MassUnit = "kg", words: NullTranslations = ENGLISH) -> str:
    """Return a prescribed load in both published units, the event's own first.

    ``"43 kg / 95 lb"``; ``"2 × 15 kg / 35 lb"`` where an athlete holds two.
    """
    said = {"kg": value.kg, "lb": value.lb}
    order = ("kg", "lb") if first == "kg" else ("lb", "kg")
    amounts = [
        f"{decimal(amount, words)} {unit}" for unit in order if (amount := said[unit]) is not None
    ]
    times = f"{value.count} × " if value.count > 1 else ""
    return times + " / ".join(amounts)


# From here a height is said in metres and feet, not centimetres and inches.
_TARGET_CM, _TARGET_INCH = 200, 84


def height(
    value: PublishedHeight, first: MassUnit = "kg", words: NullTranslations = ENGLISH
) -> str:
    """Return a prescribed height, ``"60 cm / 24 in"``; inches first where pounds are.

    What is above everybody's head is said as a target is: ``"2.7 m / 9 ft"``.
    """
    metric, foot = [], []
    if value.cm is not None:
        tall = value.cm >= _TARGET_CM
        unit = words.gettext("{amount} m") if tall else words.gettext("{amount} cm")
        metric = [unit.format(amount=decimal(value.cm / 100 if tall else value.cm, words))]
    if value.inch is not None:
        tall = value.inch >= _TARGET_INCH and value.inch % 12 == 0
        unit = words.gettext("{amount} ft") if tall else words.gettext("{amount} in")
        foot = [unit.format(amount=decimal(value.inch / 12 if tall else value.inch, words))]
    return " / ".join(metric + foot if first == "kg" else foot + metric)


def amount(number: int, unit: Unit, words: NullTranslations = ENGLISH) -> str:
    """Return an amount of work: ``"21"``, ``"400 m"``, ``"15 cal"``, ``"30 s"``."""
    texts = {
        "metres": words.gettext("{amount} m"),
        "calories": words.gettext("{amount} cal"),
        "seconds": words.gettext("{amount} s"),
    }
    return texts.get(unit, "{amount}").format(amount=number)


def movement(name: str, catalogue: Mapping[str, Movement], number: int = 1) -> str:
    """Return a movement as read after `number`: ``"box jumps"``, ``"Deadlift"``.

    `catalogue` is the movement library by id; a movement it does not have is named by its
    own id, made readable.
    """
    known = catalogue.get(name)
    if known is None:
        return name.replace("_", " ").replace("-", " ")
    return known.many if number != 1 else known.name


def joined(things: Iterable[str], words: NullTranslations = ENGLISH) -> str:
    """Return ``"A"``, ``"A and B"``, ``"A, B and C"``."""
    listed = list(things)
    if len(listed) < 2:
        return "".join(listed)
    return words.gettext("{several} and {last}").format(
        several=", ".join(listed[:-1]), last=listed[-1]
    )


def spans(numbers: Iterable[int]) -> str:
    """Return whole numbers with runs drawn together: ``"1–3, 5, 7–8"``."""
    runs: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return ", ".join(f"{first}–{last}" if last > first else str(first) for first, last in runs)


def joined_by_dots(things: Iterable[str]) -> str:
    """Return short texts side by side: ``"A women · B men"``."""
    return " · ".join(thing for thing in things if thing)


def who(value: Who, categories: Iterable[Category] = (), words: NullTranslations = ENGLISH) -> str:
    """Return who may do a task: ``"anyone"``, ``"women"``, ``"A and C"``, ``"a pair"``."""
    if value.kind == "category":
        names = {category.id: category.name for category in categories}
        return names.get(value.category, value.category)
    if value.kind == "places":
        return joined(value.places, words)
    texts = {
        "anyone": words.gettext("anyone"),
        "everyone": words.gettext("everyone"),
        "pair": words.gettext("a pair"),
    }
    return texts[value.kind]


def switching(value: Switch, words: NullTranslations = ENGLISH) -> str:
    """Return how athletes hand over, ``"switch every 5, with a hand tag"``; empty if freely."""
    texts = {
        "freely": "",
        "every": words.ngettext("switch every {count}", "switch every {count}", value.every),
        "each_round": words.gettext("switch each round"),
        "fixed_order": words.gettext("in fixed order"),
    }
    said = [texts[value.kind].format(count=value.every)] if texts[value.kind] else []
    if value.hand_tag:
        said.append(words.gettext("with a hand tag"))
    return ", ".join(said)


def goal(part: Part, words: NullTranslations = ENGLISH) -> str:
    """Return what a part is about: ``"For time, cap 12:00"``, ``"Most work in 12:00"``."""
    texts = {
        "time": words.gettext("For time, cap {time}"),
        "work": words.gettext("Most work in {time}"),
        "load": words.gettext("Heaviest lift in {time}"),
        "distance": words.gettext("Greatest distance in {time}"),
    }
    return texts[part.kind].format(time=stopwatch(part.cap_s))


def one_line(text: str, longest: int = 60) -> str:
    """Return a name as it can be shown in one line beside other texts.

    Signs that are not seen but act (controls, marks that turn the writing direction) are
    left out, white space becomes one blank, and what is longer than `longest` characters
    ends in an ellipsis.
    """
    blank = "".join(" " if sign.isspace() else sign for sign in unicodedata.normalize("NFC", text))
    seen = "".join(sign for sign in blank if unicodedata.category(sign) not in _UNSEEN)
    short = " ".join(seen.split())
    return short if len(short) <= longest else short[: longest - 1].rstrip() + "…"


# Unicode general categories: control, format (direction marks and overrides, joiners),
# surrogate, private use, unassigned. Source: Unicode Standard, section 4.5.
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
