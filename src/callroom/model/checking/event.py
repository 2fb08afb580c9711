"""The checks of an event: its lists and names, divisions, floors; the rest is called from here."""

from collections import Counter
from collections.abc import Iterator

from callroom.model.checking.catalogue import RULES
from callroom.model.checking.ids import usable_id
from callroom.model.checking.rules import check_rules
from callroom.model.checking.wishes import check_wishes
from callroom.model.checking.workouts import check_workout
from callroom.model.clock import BadTime
from callroom.model.division import Category, Division
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.floor import Floor
from callroom.model.wish_rows import EventDay, SharedKit
from callroom.model.wishes import Pause
from callroom.model.workout import Workout

DAY_S = 24 * 3600

Named = Category | Division | Floor | Workout | Pause | EventDay | SharedKit


def check_event(event: Event) -> tuple[Finding, ...]:
    """Return every fault of `event` in itself, in the order its file is written."""
    return tuple(_faults(event))


def _faults(event: Event) -> Iterator[Finding]:
    yield from _time(event)
    yield from _list("categories", event.categories, needed=True)
    yield from _list("divisions", event.divisions, needed=True)
    for division in event.divisions:
        yield from _division(event, division)
    yield from _list("floors", event.floors, needed=True)
    for floor in event.floors:
        yield from _floor(floor)
    yield from _list("workouts", event.workouts, needed=True)
    for workout in event.workouts:
        yield from _ids_within(workout)
        yield from check_workout(event, workout)
    yield from check_rules(event)
    yield from _list("wishes.pauses", event.wishes.pauses)
    yield from _list("wishes.days", event.wishes.days)
    yield from _list("wishes.kit", event.wishes.shared_kit)
    yield from check_wishes(event)


def _time(event: Event) -> Iterator[Finding]:
    if not 0 <= event.start_s < DAY_S:
        yield RULES.found("event.start_not_in_day", "event.start_s", start_s=event.start_s)
        return
    try:
        _ = event.starts_at
    except BadTime as refused:
        yield RULES.found(refused.rule, "event.start_s", **refused.facts)


def _list(field: str, things: tuple[Named, ...], *, needed: bool = False) -> Iterator[Finding]:
    """Check what every list must have: something in it, usable ids, names that differ."""
    if needed and not things:
        yield RULES.found("event.nothing_listed", field, field=field)
    yield from _ids(field, [thing.id for thing in things])
    names = Counter(thing.name.casefold() for thing in things)
    for thing in things:
        at = f"{field}.{thing.id}"
        if not thing.name.strip():
            yield RULES.found("event.name_missing", at, field=field, id=thing.id)
        elif names.pop(thing.name.casefold(), 0) > 1:
            yield RULES.found("event.name_twice", at, field=field, name=thing.name)


def _ids(field: str, ids: list[str]) -> Iterator[Finding]:
    for given, count in Counter(ids).items():
        if not usable_id(given):
            yield RULES.found("event.id_unusable", field, field=field, id=given)
        elif count > 1:
            yield RULES.found("event.id_twice", f"{field}.{given}", field=field, id=given)


def _ids_within(workout: Workout) -> Iterator[Finding]:
    """Check the ids of parts, and in each part those of blocks and tasks together.

    A tie-break names a block or a task of its part by one word, so none may mean two.
    """
    field = f"workouts.{workout.id}.parts"
    yield from _ids(field, [part.id for part in workout.parts])
    for part in workout.parts:
        blocks = [block.id for block in part.blocks]
        tasks = [task.id for block in part.blocks for task in block.tasks]
        yield from _ids(f"{field}.{part.id}.blocks", blocks + tasks)


def _division(event: Event, division: Division) -> Iterator[Finding]:
    at = f"divisions.{division.id}"
    if not division.make_up:
        yield RULES.found("division.make_up_empty", f"{at}.make_up", division=division.id)
    known = {category.id for category in event.categories}
    seen = Counter(part.category for part in division.make_up)
    for part in division.make_up:
        facts = {"division": division.id, "category": part.category}
        if part.category not in known:
            yield RULES.found("division.category_unknown", f"{at}.make_up", **facts)
        if part.count < 1:
            yield RULES.found(
                "division.count_not_positive", f"{at}.make_up", **facts, count=part.count
            )
        if seen.pop(part.category, 0) > 1:
            yield RULES.found("division.category_twice", f"{at}.make_up", **facts)
    for field, number in (("reserves", division.reserves), ("team_limit", division.team_limit)):
        if number < 0:
            yield RULES.found(
                "division.number_negative",
                f"{at}.{field}",
                division=division.id,
                field=field,
                number=number,
            )


def _floor(floor: Floor) -> Iterator[Finding]:
    at = f"floors.{floor.id}"
    if floor.lanes < 1:
        yield RULES.found("floor.no_lanes", f"{at}.lanes", floor=floor.id, lanes=floor.lanes)
        return
    lanes = floor.lane_numbers
    for lane in floor.held_lanes:
        if lane not in lanes:
            yield RULES.found(
                "floor.held_lane_unknown",
                f"{at}.held_lanes",
                floor=floor.id,
                lane=lane,
                first=lanes[0],
                last=lanes[-1],
            )
    if not floor.open_lanes:
        yield RULES.found("floor.all_lanes_held", f"{at}.held_lanes", floor=floor.id)
