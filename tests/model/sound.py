"""A small invented event without faults, and ways to put one in."""

from datetime import date
from decimal import Decimal
from typing import Any

from msgspec.structs import replace

from callroom.model import (
    Athlete,
    Block,
    Category,
    CategoryCount,
    Division,
    Event,
    Floor,
    Part,
    Pause,
    PublishedLoad,
    Task,
    Team,
    TieBreak,
    Who,
    Wishes,
    Workout,
)

HOUR = 3600

FOURS = Division(
    id="fours",
    name="Fours",
    make_up=(CategoryCount(category="women", count=2), CategoryCount(category="men", count=2)),
    reserves=1,
)
PAIRS = Division(
    id="pairs",
    name="Pairs",
    make_up=(CategoryCount(category="women", count=1), CategoryCount(category="men", count=1)),
)
ROW = Task(id="row", movement="row", unit="metres", amounts=(500,), mark=100)
LIFTS = Task(
    id="dead",
    movement="deadlift",
    amounts=(21, 15, 9),
    loads=(
        PublishedLoad(category="women", kg=Decimal(70), lb=Decimal(155)),
        PublishedLoad(category="men", kg=Decimal(102), lb=Decimal(225)),
    ),
)
PART = Part(
    id="a",
    kind="time",
    cap_s=600,
    blocks=(Block(id="in", tasks=(ROW,)), Block(id="sets", rounds=3, tasks=(LIFTS,))),
    tiebreak=TieBreak(after="in"),
)
WORKOUT = Workout(id="w1", name="Long haul", floor="hall", parts=(PART,))

EVENT = Event(
    id="sound-2026",
    name="Harbour Hall Team Day",
    day=date(2026, 11, 14),
    zone="Europe/Berlin",
    start_s=8 * HOUR,
    venue="Harbour Hall",
    cause="The Harbour Food Bank",
    currency="EUR",
    categories=(Category(id="women", name="women"), Category(id="men", name="men")),
    divisions=(FOURS, PAIRS),
    floors=(Floor(id="hall", name="Main floor", lanes=7, held_lanes=(7,)),),
    workouts=(WORKOUT,),
    wishes=Wishes(
        first_heat_s=HOUR,
        finish_by_s=8 * HOUR,
        pauses=(Pause(id="lunch", name="Lunch", start_s=4 * HOUR, length_s=2700),),
    ),
    invented=True,
)


def line_up(team: str, *categories: str) -> tuple[Athlete, ...]:
    return tuple(
        Athlete(place=place, category=category, person=f"{team}-{place}")
        for place, category in zip("ABCDEF", categories, strict=False)
    )


FOUR = Team(
    id="T1",
    name="Tidal Four",
    division="fours",
    athletes=line_up("T1", "women", "women", "men", "men"),
    entry_rank=1,
)
PAIR = Team(id="T2", name="Lantern Pair", division="pairs", athletes=line_up("T2", "women", "men"))


def event_with(**changes: Any) -> Event:
    return replace(EVENT, **changes)


def with_division(**changes: Any) -> Event:
    return event_with(divisions=(replace(FOURS, **changes), PAIRS))


def with_floor(**changes: Any) -> Event:
    return event_with(floors=(replace(EVENT.floors[0], **changes),))


def with_workout(**changes: Any) -> Event:
    return event_with(workouts=(replace(WORKOUT, **changes),))


def with_part(**changes: Any) -> Event:
    return with_workout(parts=(replace(PART, **changes),))


def with_block(**changes: Any) -> Event:
    """The event whose one part has one block; it has no tie-break."""
    block = replace(Block(id="sets", rounds=3, tasks=(LIFTS,)), **changes)
    return with_part(blocks=(block,), tiebreak=None)


def with_task(**changes: Any) -> Event:
    return with_block(tasks=(replace(LIFTS, **changes),))


def with_who(**who: Any) -> Event:
    return with_task(who=Who(**who), loads=())


def with_rules(**changes: Any) -> Event:
    return event_with(rules=replace(EVENT.rules, **changes))


def with_wishes(**changes: Any) -> Event:
    return event_with(wishes=replace(EVENT.wishes, **changes))


def with_pause(**changes: Any) -> Event:
    return with_wishes(pauses=(replace(EVENT.wishes.pauses[0], **changes),))
