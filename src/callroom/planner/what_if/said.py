"""A change in words: what a level of a knob does to the event, as facts for a sentence."""

from collections.abc import Mapping

from callroom.model.event import Event
from callroom.model.finding import Fact, Finding
from callroom.planner.what_if.knobs import Knob
from callroom.planner.what_if.rules import RULES

_CHOICES: Mapping[str, Mapping[object, str]] = {
    "mixed_heats": {False: "pure_heats", True: "mixed_heats"},
    "workout_order": {"free": "any_order", "listed": "listed_order"},
    "finals_last": {False: "finals_anywhere"},
    "waves": {(): "waves_given_up"},
    "constant_rhythm": {False: "take_turns", True: "whole_blocks"},
    "order": {
        "kept": "order_kept",
        "neighbours": "order_neighbours",
        "reseeded": "order_reseeded",
    },
}


def said(knob: Knob, level: int, changed: Event) -> Finding:
    """Return what a level changes; `changed` is the event it makes."""
    if knob.choice:
        name = _CHOICES[knob.choice][getattr(changed.wishes, knob.choice)]
        return RULES.found(f"what_if.{name}", "day")
    rule = f"what_if.{knob.kind}"
    known = {**_amounts(knob, level), **_of_wishes(changed), **_of_subject(knob, changed)}
    return RULES.found(rule, knob.subject or "day", **{n: known[n] for n in RULES[rule].facts})


def _amounts(knob: Knob, level: int) -> dict[str, Fact]:
    amounts: dict[str, Fact] = dict.fromkeys(("by_s", "more", "fewer", "held"), level)
    return amounts | {"floor": knob.subject, "number": knob.subject}


def _of_wishes(changed: Event) -> dict[str, Fact]:
    wishes = changed.wishes
    return {
        "finish_by_at_s": wishes.finish_by_s,
        "first_at_s": wishes.first_heat_s,
        "rest_s": wishes.rest_s,
        "judges": wishes.judges_at_once,
        "same_s": wishes.changeover_same_s,
        "division_s": wishes.changeover_division_s,
        "workout_s": wishes.changeover_workout_s,
        "slot_s": wishes.slot_s,
    }


def _of_subject(knob: Knob, changed: Event) -> dict[str, Fact]:
    pauses = {pause.id: pause for pause in changed.wishes.pauses}
    lanes = {floor.id: len(floor.open_lanes) for floor in changed.floors}
    pause = pauses.get(knob.subject)
    days = {day.id: day for day in changed.wishes.days}
    kits = {kit.id: kit for kit in changed.wishes.shared_kit}
    day, kit = days.get(knob.subject), kits.get(knob.subject)
    return {
        "pause": None if pause is None else pause.name,
        "length_s": None if pause is None else pause.length_s,
        "lanes": lanes.get(knob.subject),
        "day": None if day is None else day.name,
        "closes_at_s": None if day is None else day.closes_s,
        "kit": None if kit is None else kit.name,
        "count": None if kit is None else kit.count,
    }
