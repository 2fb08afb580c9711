"""Movements, divisions and parts for tests of the forecast; no test hangs on the library."""

from decimal import Decimal
from typing import Any

import numpy as np

from callroom.forecast.athletes import Athletes, draw_athletes
from callroom.model import (
    Block,
    CategoryCount,
    Division,
    Part,
    PublishedLoad,
    Task,
    Workout,
)
from callroom.model.movement import (
    Capacity,
    Counting,
    CountUnit,
    Family,
    JudgePlace,
    LoadStyle,
    Movement,
    NoRep,
    Point,
    Rate,
    Space,
)

FOURS = Division(
    id="fours",
    name="Fours",
    make_up=(
        CategoryCount(category="women", count=2),
        CategoryCount(category="men", count=2),
    ),
)


def alone(category: str) -> Division:
    return Division(
        id=category, name=category, make_up=(CategoryCount(category=category, count=1),)
    )


def movement(
    movement_id: str,
    rates: tuple[tuple[str, str, str, str], ...],
    capacities: tuple[Capacity, ...],
    *,
    family: Family = "floor",
    load: LoadStyle = "none",
    unit: CountUnit = "reps",
) -> Movement:
    """A movement with rates of (unit, level, low, high) and the least of all else."""
    return Movement(
        id=movement_id,
        name=movement_id,
        many=movement_id,
        family=family,
        start="",
        points=(Point(at="finish", landmark="hip", says=""),),
        finish="",
        no_reps=(NoRep(id="a", label="", says="", cost="repetition"),),
        judge=JudgePlace(stands="", watches=""),
        counting=(Counting(unit=unit, counts=""),),
        space=Space(length_m=Decimal(1), width_m=Decimal(1), height_m=Decimal(2)),
        cadence=tuple(
            Rate(unit=per, level=level, low=Decimal(low), high=Decimal(high), source="invented")  # type: ignore[arg-type]
            for per, level, low, high in rates
        ),
        capacities=capacities,
        load=load,
    )


def two_levels(unit: str, usual: str, best: str) -> tuple[tuple[str, str, str, str], ...]:
    return ((unit, "intermediate", usual, usual), (unit, "advanced", best, best))


MOVEMENTS = {
    one.id: one
    for one in (
        movement("burpee", two_levels("s_per_rep", "4", "2.6"), ("engine", "press")),
        movement("push_up", two_levels("s_per_rep", "1.6", "1.1"), ("press", "core")),
        movement("pull_up", two_levels("s_per_rep", "1.8", "1.3"), ("pull", "grip")),
        movement(
            "thruster",
            two_levels("s_per_rep", "2.4", "1.9"),
            ("squat", "press", "load", "engine"),
            family="barbell",
            load="bar",
        ),
        movement(
            "power_clean",
            two_levels("s_per_rep", "3", "2.1"),
            ("hinge", "load", "skill"),
            family="barbell",
            load="bar",
        ),
        movement(
            "run", two_levels("m_per_s", "3.5", "4.5"), ("engine",), family="engine", unit="metres"
        ),
        movement(
            "row",
            two_levels("s_per_500m", "120", "102"),
            ("engine", "pull"),
            family="engine",
            unit="metres",
        ),
        movement(
            "sandbag_carry",
            two_levels("m_per_s", "0.8", "1.2"),
            ("carry", "core"),
            family="object",
            load="object",
            unit="metres",
        ),
        movement("plank_hold", (("s", "intermediate", "60", "120"),), ("core",), unit="seconds"),
    )
}


def loads(women: str, men: str) -> tuple[PublishedLoad, ...]:
    return (
        PublishedLoad(category="women", kg=Decimal(women)),
        PublishedLoad(category="men", kg=Decimal(men)),
    )


def task(movement_id: str, *amounts: int, **settings: Any) -> Task:
    known = MOVEMENTS.get(movement_id)
    unit = known.counting[0].unit if known else "reps"
    made = {"id": movement_id, "movement": movement_id, "amounts": amounts, "unit": unit}
    return Task(**{**made, **settings})


def part_of(*blocks: Block, cap_s: int = 900, **settings: Any) -> Part:
    return Part(**{"id": "a", "kind": "time", "cap_s": cap_s, "blocks": blocks, **settings})


def block(*tasks: Task, **settings: Any) -> Block:
    return Block(**{"id": "b", "tasks": tasks, **settings})


def workout_of(*parts: Part) -> Workout:
    return Workout(id="w", name="W", floor="f", parts=parts)


def athletes_of(
    division: Division = FOURS, teams: int = 200, level: float = 0.5, seed: int = 1
) -> Athletes:
    return draw_athletes(division, level=level, teams=teams, generator=np.random.default_rng(seed))
