"""How the work of a workout is written: amounts, loads, who, and what to mind."""

from collections.abc import Iterable, Mapping
from gettext import NullTranslations

import msgspec

from callroom.model import Category, Event, PublishedHeight, PublishedLoad, Task
from callroom.model.mass import MassUnit
from callroom.model.movement import Movement
from callroom.views import wording
from callroom.views.work import WorkRow

# Beside other words a name must end somewhere; both are ample for any real one.
_LONGEST_NAME = 40
_LONGEST_REMARK = 200


class Speech(msgspec.Struct, frozen=True, kw_only=True):
    """What the writing of work rests on besides the work itself.

    `catalogue` is the movement library by id, `first` the unit of mass that is said first.
    """

    categories: tuple[Category, ...] = ()
    catalogue: Mapping[str, Movement] = {}
    first: MassUnit = "kg"
    words: NullTranslations = wording.ENGLISH


def speech_of(
    event: Event,
    catalogue: Mapping[str, Movement],
    words: NullTranslations = wording.ENGLISH,
) -> Speech:
    """Return how work is written for an event."""
    return Speech(
        categories=event.categories, catalogue=catalogue, first=event.mass_unit, words=words
    )


def movement_name(task: Task, speech: Speech) -> str:
    """Return the movement as read after its amount: ``"thrusters"``, ``"run"``."""
    number = 2 if task.unit == "reps" else 1
    return _amid_words(wording.movement(task.movement, speech.catalogue, number))


def amount(row: WorkRow, round_index: int, speech: Speech) -> str:
    """Return what one round asks: ``"21"``, ``"400 m"``, ``"4 × 400 m"``; empty for a lift."""
    number = row.amounts[round_index]
    if not number:
        return ""
    once = wording.amount(number, row.task.unit, speech.words)
    return f"{row.athletes} × {once}" if row.athletes > 1 else once


def settings(row: WorkRow, speech: Speech) -> tuple[str, ...]:
    """Return the loads and heights of a row: ``("women 29 kg / 65 lb", "men 43 kg / 95 lb")``."""
    return published(row.loads, row.heights, speech)


def published(
    loads: Iterable[PublishedLoad], heights: Iterable[PublishedHeight], speech: Speech
) -> tuple[str, ...]:
    """Return every load and height with the category it is for, a category's two in one."""
    first = speech.first
    said = {load.category: wording.load(load, first, speech.words) for load in loads}
    for height in heights:
        high = wording.height(height, first, speech.words)
        load = said.get(height.category)
        both = speech.words.gettext("{load} at {height}").format(load=load, height=high)
        said[height.category] = high if load is None else both
    return tuple(_for(category, text, speech) for category, text in said.items())


def reminders(row: WorkRow, speech: Speech) -> tuple[str, ...]:
    """Return what a judge must mind about a task: who, how many at once, switching, marks."""
    task, words = row.task, speech.words
    said = [
        _how_much(row, speech),
        _who(task, speech),
        _sharing(row, speech),
        wording.switching(task.switch, words),
        words.gettext("at least {count} each").format(count=task.least_each)
        if task.least_each
        else "",
        words.gettext("only while a partner holds: {movement}").format(
            movement=_amid_words(wording.movement(task.while_holding, speech.catalogue))
        )
        if task.while_holding
        else "",
        _mark(task, speech),
        *variations(row.task, row.variations, speech),
        wording.one_line(task.tighten, _LONGEST_REMARK),
    ]
    return tuple(text for text in said if text)


def variations(task: Task, said: Iterable[tuple[str, bool]], speech: Speech) -> tuple[str, ...]:
    """Return what is allowed or barred of a task's variations, beyond what is usual."""
    words = speech.words
    known = speech.catalogue.get(task.movement)
    names = {one.id: one.name for one in known.variations} if known is not None else {}
    usual = {one.id: one.usual == "allowed" for one in known.variations} if known else {}
    told = []
    for variation, allowed in said:
        name = names.get(variation) or wording.one_line(variation.replace("_", " "), _LONGEST_NAME)
        if allowed and variation == task.variation:
            told.append(name)
        elif usual.get(variation) != allowed:
            text = words.gettext("allowed: {what}") if allowed else words.gettext("barred: {what}")
            told.append(text.format(what=_amid_words(name)))
    return tuple(told)


def no_rep_reasons(row: WorkRow, speech: Speech) -> tuple[str, ...]:
    """Return the short labels of the reasons for which a judge does not count this movement.

    Those of its standard where the row's variations may be used, then the event's own.
    """
    own = (row.task.tighten_no_rep,) if row.task.tighten_no_rep else ()
    known = speech.catalogue.get(row.task.movement)
    if known is None:
        return own
    reasons = known.no_reps_for(known.allowed(dict(row.variations)))
    return tuple(dict.fromkeys((*(reason.label for reason in reasons), *own)))


def _amid_words(name: str) -> str:
    """Return a name without the capital it begins with when it stands alone."""
    short = wording.one_line(name, _LONGEST_NAME)
    return short if short[1:2].isupper() else short[:1].lower() + short[1:]


def _for(category_id: str, said: str, speech: Speech) -> str:
    if not category_id:
        return said
    names = {category.id: category.name for category in speech.categories}
    return f"{wording.one_line(names.get(category_id, category_id), _LONGEST_NAME)} {said}"


def _who(task: Task, speech: Speech) -> str:
    if task.who.kind == "anyone":
        return ""
    return wording.one_line(wording.who(task.who, speech.categories, speech.words), _LONGEST_NAME)


def _how_much(row: WorkRow, speech: Speech) -> str:
    task, words = row.task, speech.words
    if task.unit == "lift":
        tries = words.ngettext("{count} try", "{count} tries", task.tries)
        return tries.format(count=task.tries) if task.tries else ""
    return "" if any(row.amounts) else words.gettext("as much as you can")


def _sharing(row: WorkRow, speech: Speech) -> str:
    words, working = speech.words, row.task.working
    several = words.ngettext("{count} at a time", "{count} at a time", working).format(
        count=working
    )
    every = words.gettext("every athlete does it, {several}").format(several=several)
    texts = {
        "split": several if working > 1 else "",
        "each": every if working < row.athletes else words.gettext("every athlete does it"),
        "together": words.ngettext("in step", "{count} in step", working).format(count=working),
        "carry": words.gettext("may be handed over, the team goes along")
        if row.loads
        else words.gettext("the team goes together"),
    }
    return texts[row.task.sharing]


def _mark(task: Task, speech: Speech) -> str:
    if task.mark <= 1:
        return ""
    stretch = wording.amount(task.mark, task.unit, speech.words)
    return speech.words.gettext("every full {stretch} counts 1").format(stretch=stretch)
