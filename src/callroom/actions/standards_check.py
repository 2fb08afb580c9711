"""Whether an event fits the movement library: what its tasks and divisions name is there."""

import difflib
from collections.abc import Iterator

from callroom.model import Event, Finding, Task
from callroom.model.catalogue import Catalogue
from callroom.model.movement import Movement
from callroom.standards import check_own, library_with

RULES = Catalogue(
    ("warning", "check.movement_unknown", "workout movement like"),
    ("error", "check.variation_unknown", "workout task movement variation variations"),
    ("warning", "check.unit_unfit", "workout task movement unit units"),
    ("warning", "check.setting_missing", "workout task movement setting"),
    ("error", "check.rule_unknown", "division given"),
)

_LIKE = 0.6
HEIGHTS = frozenset({"box_height", "target_height"})
"""Heights without which the work is not known; those of bars and ropes are the venue's."""


def check_standards(event: Event) -> tuple[Finding, ...]:
    """Return what is wrong with an event's own movements, and with what names a movement."""
    library = library_with(event.movements).movements
    found = list(check_own(event.movements))
    for division in event.divisions:
        for rule in division.movement_rules:
            known = library.get(rule.movement)
            if known is None or (rule.variation and rule.variation not in _variations(known)):
                given = f"{rule.movement}.{rule.variation}" if rule.variation else rule.movement
                at = f"divisions.{division.id}.movement_rules"
                found.append(
                    RULES.found("check.rule_unknown", at, division=division.id, given=given)
                )
    for workout in event.workouts:
        unknown: set[str] = set()
        for part in workout.parts:
            for block in part.blocks:
                for task in block.tasks:
                    at = f"workouts.{workout.id}.parts.{part.id}.blocks.{block.id}.tasks.{task.id}"
                    if task.movement in library:
                        found += _task(workout.id, task, library[task.movement], at)
                    for name in (task.movement, task.while_holding):
                        if name and name not in library and name not in unknown:
                            unknown.add(name)
                            found.append(_unknown(workout.id, name, tuple(library), at))
    return tuple(found)


def _unknown(workout: str, name: str, library: tuple[str, ...], at: str) -> Finding:
    """A movement without a standard: cards, pads and kit lists know nothing about it."""
    like = difflib.get_close_matches(name, library, n=1, cutoff=_LIKE)
    return RULES.found(
        "check.movement_unknown",
        f"{at}.movement",
        workout=workout,
        movement=name,
        like=(like or ["–"])[0],
    )


def _task(workout: str, task: Task, movement: Movement, at: str) -> Iterator[Finding]:
    known = _variations(movement)
    asked = [("variation", task.variation)] if task.variation else []
    asked += [("variation_rules", rule.variation) for rule in task.variation_rules]
    for field, variation in dict.fromkeys(asked):
        if variation not in known:
            yield RULES.found(
                "check.variation_unknown",
                f"{at}.{field}",
                workout=workout,
                task=task.id,
                movement=movement.name,
                variation=variation,
                variations=", ".join(known) or "–",
            )
    yield from _settings(workout, task, movement, at)
    units = tuple(counting.unit for counting in movement.counting)
    counted = "reps" if task.unit == "lift" else task.unit
    if counted not in units:
        yield RULES.found(
            "check.unit_unfit",
            f"{at}.unit",
            workout=workout,
            task=task.id,
            movement=movement.name,
            unit=task.unit,
            units=", ".join(units),
        )


def _settings(workout: str, task: Task, movement: Movement, at: str) -> Iterator[Finding]:
    """Find what a division must set and nobody has."""
    asked = {
        "loads": "load" in movement.settings and not task.loads and task.unit != "lift",
        "heights": bool(HEIGHTS & set(movement.settings)) and not task.heights,
    }
    for field, missing in asked.items():
        if missing:
            yield RULES.found(
                "check.setting_missing",
                f"{at}.{field}",
                workout=workout,
                task=task.id,
                movement=movement.name,
                setting=field,
            )


def _variations(movement: Movement) -> tuple[str, ...]:
    return tuple(one.id for one in movement.variations)
