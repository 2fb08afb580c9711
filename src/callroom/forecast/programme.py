"""What the workouts of a day test together, and what that asks of one athlete."""

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import combinations

from callroom.forecast.amounts import TaskAmount, amounts
from callroom.forecast.cautions import cautions
from callroom.forecast.loads import load_g
from callroom.forecast.rules import RULES
from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.forecast import (
    CapacityUse,
    Forecast,
    LoadShare,
    MovementVolume,
    Programme,
    WorkoutForecast,
)
from callroom.model.movement import Movement
from callroom.model.steps import loads_for, tasks_of
from callroom.model.workout import Unit, Workout

# Common practice, no source: what a broad day is expected to touch, and when two workouts
# are much the same.
USUAL_CAPACITIES = (
    "pull",
    "press",
    "hinge",
    "squat",
    "carry",
    "jump",
    "core",
    "load",
    "engine",
    "skill",
)
ALIKE_PERCENT = 85
LENGTHS_ALIKE = 1.6
"""The longest is at most so many times the shortest: all of the same length."""

Vector = Mapping[str, float]


def check_programme(
    event: Event, division: Division, movements: Mapping[str, Movement], forecast: Forecast
) -> Programme:
    """Return what the day tests for teams of `division`, with overlaps, gaps and cautions.

    Work counts by its time at the middle of the intermediate rates, a movement's evenly to
    all its capacities.
    """
    work = {one.id: amounts(one, division, movements) for one in event.workouts}
    vectors = {name: _vector(parts, movements) for name, parts in work.items()}
    told = {one.id: forecast.of(one.id, division.id) for one in event.workouts}
    lengths = {one.id: _length_s(told[one.id], one) for one in event.workouts}
    capacities = _capacities(vectors)
    tested = {use.capacity for use in capacities}
    gaps = tuple(one for one in USUAL_CAPACITIES if one not in tested)
    everything = [amount for parts in work.values() for amount in parts]
    volumes = _volumes(everything)
    findings = [
        *_overlaps(division, vectors),
        *(
            RULES.found(
                "forecast.capacity_missing",
                f"division.{division.id}",
                division=division.id,
                capacity=gap,
            )
            for gap in gaps
        ),
        *_same_length(division, lengths),
        *cautions(event, division, movements, told, lengths=lengths, volumes=volumes),
    ]
    return Programme(
        division=division.id,
        capacities=capacities,
        gaps=gaps,
        length_s=lengths,
        load_shares=_load_shares(event, division),
        volumes=volumes,
        worked_s=tuple(
            sum(one.worked_s[place] for one in told.values()) for place in range(division.team_size)
        ),
        findings=tuple(findings),
    )


def _length_s(forecast: WorkoutForecast, workout: Workout) -> int:
    """Return how long the middle team is at it [s], without the time between parts."""
    total = 0
    for part, told in zip(workout.parts, forecast.parts, strict=True):
        middle = told.finish_s.p50
        total += part.cap_s if middle is None else min(middle, part.cap_s)
    return total


def _vector(parts: tuple[TaskAmount, ...], movements: Mapping[str, Movement]) -> Vector:
    """Return the seconds of work by capacity; a movement's evenly to all it has."""
    seconds: dict[str, float] = defaultdict(float)
    for amount in parts:
        movement = movements.get(amount.task.movement)
        tags = movement.capacities if movement else ()
        for capacity in tags:
            seconds[capacity] += amount.work_s / len(tags)
    return seconds


def _capacities(vectors: Mapping[str, Vector]) -> tuple[CapacityUse, ...]:
    total = sum(sum(vector.values()) for vector in vectors.values())
    names = {capacity for vector in vectors.values() for capacity in vector}
    uses = [
        CapacityUse(
            capacity=name,
            workouts=tuple(one for one, vector in vectors.items() if vector.get(name)),
            percent=round(100 * sum(vector.get(name, 0.0) for vector in vectors.values()) / total),
        )
        for name in names
    ]
    return tuple(sorted(uses, key=lambda use: (-use.percent, use.capacity)))


def _overlaps(division: Division, vectors: Mapping[str, Vector]) -> Iterator[Finding]:
    for (one, first), (other, second) in combinations(vectors.items(), 2):
        percent = round(100 * _likeness(first, second))
        if percent >= ALIKE_PERCENT:
            yield RULES.found(
                "forecast.workouts_alike",
                f"workouts.{one}",
                division=division.id,
                workout=one,
                other=other,
                percent=percent,
            )


def _likeness(first: Vector, second: Vector) -> float:
    """Return the cosine between two mixes of capacities: 1 for the same, 0 for nothing shared."""
    size = math.hypot(*first.values()) * math.hypot(*second.values())
    shared = sum(value * second.get(name, 0.0) for name, value in first.items())
    return shared / size if size else 0.0


def _same_length(division: Division, lengths: Mapping[str, int]) -> Iterator[Finding]:
    if len(lengths) > 1 and max(lengths.values()) <= LENGTHS_ALIKE * min(lengths.values()):
        yield RULES.found(
            "forecast.same_length",
            f"division.{division.id}",
            division=division.id,
            least_s=min(lengths.values()),
            most_s=max(lengths.values()),
        )


def _load_shares(event: Event, division: Division) -> tuple[LoadShare, ...]:
    categories = dict.fromkeys(part.category for part in division.make_up)
    shares = []
    for workout in event.workouts:
        for part in workout.parts:
            for block in part.blocks:
                for task in tasks_of(block, division):
                    loads = loads_for(task, division)
                    masses = {category: load_g(loads, category) for category in categories}
                    heaviest = max(masses.values(), default=0.0)
                    shares += [
                        LoadShare(
                            workout=workout.id,
                            part=part.id,
                            task=task.id,
                            category=category,
                            percent=round(100 * mass / heaviest),
                        )
                        for category, mass in masses.items()
                        if mass > 0 and len(masses) > 1
                    ]
    return tuple(shares)


def _volumes(everything: list[TaskAmount]) -> tuple[MovementVolume, ...]:
    totals: dict[tuple[str, Unit], float] = defaultdict(float)
    for amount in everything:
        if amount.task.unit != "lift":
            totals[amount.task.movement, amount.task.unit] += amount.each
    return tuple(
        MovementVolume(movement=movement, unit=unit, each=math.ceil(total))
        for (movement, unit), total in totals.items()
    )
