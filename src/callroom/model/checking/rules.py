"""The checks of the rules of an event: points and the chain that breaks ties.

Whether the text of a points formula can be worked out is checked by ``scoring``.
"""

from collections.abc import Iterator

from callroom.model.checking.catalogue import RULES
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.rules import Points


def check_rules(event: Event) -> Iterator[Finding]:
    """Give every fault of the rules of `event`."""
    yield from _points(event.rules.points)
    yield from _tie_chain(event)
    known = {workout.id for workout in event.workouts}
    for workout in event.rules.embargo:
        if workout not in known:
            yield RULES.found("rules.embargo_unknown", "rules.embargo", workout=workout)
    for field in ("appeal_window_s", "substitution_deadline_s", "substitutions"):
        number = getattr(event.rules, field)
        if number is not None and number < 0:
            yield RULES.found("rules.number_negative", f"rules.{field}", field=field, number=number)


def _points(points: Points) -> Iterator[Finding]:
    if points.kind == "linear" and (points.step <= 0 or points.first <= 0):
        yield RULES.found(
            "rules.linear_not_falling",
            "rules.points",
            first=str(points.first),
            step=str(points.step),
        )
    if points.kind == "formula" and not points.formula.strip():
        yield RULES.found("rules.formula_missing", "rules.points.formula")
    if points.kind != "table":
        return
    if not points.table:
        yield RULES.found("rules.table_empty", "rules.points.table")
    for place, (before, after) in enumerate(
        zip(points.table, points.table[1:], strict=False), start=2
    ):
        if after > before:
            yield RULES.found(
                "rules.table_rises",
                "rules.points.table",
                place=place,
                points=str(after),
                before=str(before),
            )


def _tie_chain(event: Event) -> Iterator[Finding]:
    seen: set[str] = set()
    for item in event.rules.tie_chain:
        if item in seen or "shared" in seen:
            yield RULES.found("rules.tie_item_without_effect", "rules.tie_chain", item=item)
        seen.add(item)
        yield from _tie_item(event, item)


def _tie_item(event: Event, item: str) -> Iterator[Finding]:
    if item in {"most_firsts", "shared"}:
        return
    kind, _, named = item.partition(":")
    if kind != "best_in" or not named:
        yield RULES.found("rules.tie_item_unknown", "rules.tie_chain", item=item)
        return
    workout_id, _, part_id = named.partition("/")
    parts = {workout.id: {part.id for part in workout.parts} for workout in event.workouts}
    if workout_id not in parts:
        yield RULES.found(
            "rules.tie_workout_unknown", "rules.tie_chain", item=item, workout=workout_id
        )
    elif part_id and part_id not in parts[workout_id]:
        yield RULES.found(
            "rules.tie_part_unknown",
            "rules.tie_chain",
            item=item,
            workout=workout_id,
            part=part_id,
        )
