"""A first event from a few answers: a start for everything, to be changed afterwards.

Amounts, loads, caps and times are moderate and usual (common practice, no source): a place to
begin from, not a programme. They are read like any event file, with the same checks.
"""

import re
import unicodedata
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

import msgspec

from callroom.exchange.event_file import read_event_values
from callroom.model import Event
from callroom.model.words import N_

MOST_FIRST_TEAMS = 400


class DivisionKind(msgspec.Struct, frozen=True, kw_only=True):
    """A division to choose: its name, its athletes by category, and whose loads it takes."""

    name: str
    team: Mapping[str, int]
    level: str = "usual"


KINDS: Mapping[str, DivisionKind] = MappingProxyType(
    {
        "fours": DivisionKind(name=N_("Fours, two women and two men"), team={"women": 2, "men": 2}),
        "fours-lighter": DivisionKind(
            name=N_("Fours, lighter"), team={"women": 2, "men": 2}, level="lighter"
        ),
        "pairs": DivisionKind(name=N_("Mixed pairs"), team={"women": 1, "men": 1}),
        "pairs-lighter": DivisionKind(
            name=N_("Mixed pairs, lighter"), team={"women": 1, "men": 1}, level="lighter"
        ),
        "pairs-women": DivisionKind(name=N_("Women's pairs"), team={"women": 2}),
        "pairs-men": DivisionKind(name=N_("Men's pairs"), team={"men": 2}),
        "masters": DivisionKind(
            name=N_("Masters, mixed pairs"), team={"women": 1, "men": 1}, level="lighter"
        ),
        "juniors": DivisionKind(
            name=N_("Juniors, mixed pairs"), team={"women": 1, "men": 1}, level="junior"
        ),
    }
)
"""Divisions to begin with, by id; ids and order stay."""


class Answers(msgspec.Struct, frozen=True, kw_only=True):
    """What a new director is asked. `start` and `finish_by` are times of day, ``"09:00"``."""

    name: str
    day: str
    zone: str
    start: str
    finish_by: str
    venue: str
    cause: str
    currency: str
    language: str
    lanes: int
    yard_lanes: int
    divisions: tuple[str, ...]


# One load for women and one for men, by whose loads they are.
_BALL = {
    "usual": ("6 kg / 14 lb", "9 kg / 20 lb"),
    "lighter": ("4 kg / 10 lb", "6 kg / 14 lb"),
    "junior": ("4 kg / 10 lb", "4 kg / 10 lb"),
}
_BELL = {
    "usual": ("16 kg / 35 lb", "24 kg / 53 lb"),
    "lighter": ("12 kg / 26 lb", "16 kg / 35 lb"),
    "junior": ("8 kg / 18 lb", "12 kg / 26 lb"),
}
_DUMBBELL = {
    "usual": ("15 kg / 35 lb", "22.5 kg / 50 lb"),
    "lighter": ("10 kg / 20 lb", "15 kg / 35 lb"),
    "junior": ("7.5 kg / 15 lb", "10 kg / 20 lb"),
}
_BAG = {
    "usual": ("20 kg / 45 lb", "30 kg / 65 lb"),
    "lighter": ("15 kg / 35 lb", "20 kg / 45 lb"),
    "junior": ("10 kg / 20 lb", "15 kg / 35 lb"),
}
_IN_HANDS = {
    "usual": ("2 x 16 kg / 35 lb", "2 x 24 kg / 53 lb"),
    "lighter": ("2 x 12 kg / 26 lb", "2 x 16 kg / 35 lb"),
    "junior": ("2 x 8 kg / 18 lb", "2 x 12 kg / 26 lb"),
}
_HEIGHTS = {"women": "2.7 m / 9 ft", "men": "3 m / 10 ft"}


def first_event(answers: Answers, translate: Callable[[str], str] = str) -> Event:
    """Return an event with a start for everything.

    Parameters
    ----------
    answers
        What was asked; unknown kinds of divisions are passed over.
    translate
        Says a text of this module in the language of the event.

    Raises
    ------
    FaultyEvent
        With every fault, by the key of the event file that it concerns.
    """
    said = translate
    kinds = {one: kind for one, kind in KINDS.items() if one in answers.divisions}
    categories = {key for kind in kinds.values() for key in kind.team}
    names = {"women": said(N_("Women")), "men": said(N_("Men"))}
    far = "yard" if answers.yard_lanes else "main"
    values: dict[str, Any] = {
        "format": 1,
        "event": _head(answers),
        "categories": {key: name for key, name in names.items() if key in categories},
        "divisions": {
            one: {"name": said(kind.name), "team": dict(kind.team)} for one, kind in kinds.items()
        },
        "floors": _floors(answers, said),
        "workouts": _workouts(kinds, far, said),
        "rules": {"appeal_window": "15 min", "tie_chain": ["most_firsts"]},
        "wishes": _wishes(answers, said),
    }
    return read_event_values(values)


def slug(name: str, usual: str = "event") -> str:
    """Return an id made of a name: ``"Long Table Day"`` becomes ``"long-table-day"``."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-") or usual


def _head(answers: Answers) -> dict[str, Any]:
    told = {
        "id": slug(answers.name),
        "name": answers.name,
        "day": answers.day,
        "zone": answers.zone,
        "start": answers.start,
        "venue": answers.venue,
        "cause": answers.cause,
        "currency": answers.currency,
        "language": answers.language,
    }
    return {key: value for key, value in told.items() if value}


def _floors(answers: Answers, said: Callable[[str], str]) -> dict[str, Any]:
    floors: dict[str, Any] = {"main": {"name": said(N_("Main floor")), "lanes": answers.lanes}}
    if answers.yard_lanes:
        floors["yard"] = {"name": said(N_("Yard")), "lanes": answers.yard_lanes, "outdoor": True}
    return floors


def _wishes(answers: Answers, said: Callable[[str], str]) -> dict[str, Any]:
    """Return welcome, lunch and awards around the heats, where the day is long enough."""
    start, finish = _minutes(answers.start), _minutes(answers.finish_by)
    wishes: dict[str, Any] = {
        "rest": "30 min",
        "changeover": {"same": "2 min", "division": "5 min", "workout": "10 min"},
    }
    if start is None or finish is None:
        return wishes | ({"finish_by": answers.finish_by} if answers.finish_by else {})
    pauses: dict[str, Any] = {
        "welcome": _pause(said(N_("Welcome and briefing")), start, "20 min"),
    }
    lunch = 12 * 60 + 30
    if start + 120 <= lunch <= finish - 120:
        pauses["lunch"] = _pause(said(N_("Lunch")), lunch, "45 min")
    if finish + 30 < 24 * 60:
        pauses["awards"] = _pause(said(N_("Awards and thanks")), finish + 10, "20 min")
    first = f"{(start + 30) // 60:02}:{(start + 30) % 60:02}"
    return wishes | {"first_heat": first, "finish_by": answers.finish_by, "pauses": pauses}


def _minutes(clock: str) -> int | None:
    found = re.fullmatch(r"(\d{1,2}):([0-5]\d)", clock.strip())
    return int(found[1]) * 60 + int(found[2]) if found and int(found[1]) < 24 else None


def _pause(name: str, at: int, length: str) -> dict[str, Any]:
    return {"name": name, "at": f"{at // 60:02}:{at % 60:02}", "length": length}


def _loads(
    table: Mapping[str, tuple[str, str]], kinds: Mapping[str, DivisionKind]
) -> dict[str, Any]:
    """Return loads for everybody, and for the divisions that take others, of their categories."""
    have = {key for kind in kinds.values() for key in kind.team}
    loads: dict[str, Any] = _of_categories(table["usual"], have)
    for one, kind in kinds.items():
        if kind.level != "usual":
            loads[one] = _of_categories(table[kind.level], set(kind.team))
    return loads


def _of_categories(pair: tuple[str, str], have: set[str]) -> dict[str, Any]:
    return {key: load for key, load in zip(("women", "men"), pair, strict=True) if key in have}


def _workouts(
    kinds: Mapping[str, DivisionKind], far: str, said: Callable[[str], str]
) -> dict[str, Any]:
    have = {key for kind in kinds.values() for key in kind.team}
    heights = {key: height for key, height in _HEIGHTS.items() if key in have}
    knees = {one: "knees" for one, kind in kinds.items() if kind.level != "usual"}
    push_ups = {"movement": "push_up", "reps": 20} | ({"allow": knees} if knees else {})
    ladder = [15, 12, 9]
    return {
        "w1": {
            "name": said(N_("Open the doors")),
            "floor": "main",
            "result": "time",
            "cap": "9:00",
            "blocks": [
                {
                    "tasks": [
                        {
                            "movement": "wall_ball_shot",
                            "reps": ladder,
                            "loads": _loads(_BALL, kinds),
                            "heights": heights,
                        },
                        {
                            "movement": "kettlebell_swing",
                            "reps": ladder,
                            "loads": _loads(_BELL, kinds),
                        },
                    ]
                },
                {
                    "tasks": [
                        {
                            "movement": "burpee",
                            "reps": 15,
                            "who": "pair",
                            "sharing": "together",
                            "working": 2,
                        }
                    ]
                },
            ],
        },
        "w2": {
            "name": said(N_("Fill the shelves")),
            "floor": "main",
            "result": "work",
            "cap": "8:00",
            "blocks": [
                {
                    "open_ended": True,
                    "tasks": [
                        {
                            "movement": "dumbbell_snatch",
                            "reps": 16,
                            "switch": "every 4",
                            "loads": _loads(_DUMBBELL, kinds),
                        },
                        push_ups,
                        {"movement": "air_squat", "reps": 24},
                    ],
                }
            ],
        },
        "w3": {
            "name": said(N_("Carry it home")),
            "floor": far,
            "result": "time",
            "cap": "10:00",
            "blocks": [
                {
                    "tasks": [
                        {
                            "movement": "farmer_carry",
                            "metres": 120,
                            "mark": 20,
                            "loads": _loads(_IN_HANDS, kinds),
                        },
                        {
                            "movement": "sandbag_clean",
                            "reps": 20,
                            "loads": _loads(_BAG, kinds),
                        },
                        {
                            "movement": "sandbag_carry",
                            "metres": 120,
                            "mark": 20,
                            "loads": _loads(_BAG, kinds),
                        },
                    ]
                }
            ],
        },
    }
