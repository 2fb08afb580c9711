"""Pace, power and rates against publications; see ``data/pacing.toml`` for each source."""

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from callroom.forecast import forecast_workout
from callroom.forecast.endurance import held_power_w, time_over_s
from callroom.forecast.ergometer import kcal_shown, seconds_per_kcal, watts
from callroom.forecast.parameters import athlete_model
from callroom.forecast.reserve import after_rest, recovery_s, spent_per_s
from callroom.model import Block, CategoryCount, Division, Part, PublishedLoad, Task, Workout
from callroom.model.forecast import PartForecast
from callroom.standards import all_movements

DATA: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "pacing.toml").read_text(encoding="utf-8")
)
LIBRARY = {movement.id: movement for movement in all_movements()}


@pytest.mark.parametrize("row", DATA["riegel"]["rows"])
def test_endurance_formula(row: list[float]) -> None:
    known_s, known_m, distance_m, expected_s = row
    # The rows have three decimals.
    assert time_over_s(distance_m, known_m, known_s) == pytest.approx(expected_s, abs=6e-4)


@pytest.mark.parametrize("row", DATA["ergometer_power"]["rows"])
def test_power_on_an_ergometer(row: list[float]) -> None:
    assert watts(row[0] / 500) == pytest.approx(row[1], abs=6e-4)


@pytest.mark.parametrize("row", DATA["ergometer_calories"]["rows"])
def test_calories_on_an_ergometer(row: list[float]) -> None:
    assert kcal_shown(row[0] * 3.6, 3600) == pytest.approx(row[1], abs=6e-4)
    assert 3600 / seconds_per_kcal(float(np.cbrt(2.80 / row[0]))) == pytest.approx(row[1], abs=6e-4)


def test_how_long_a_power_can_be_held() -> None:
    given = DATA["critical_power"]
    for power_w, limit_s in zip(given["power_w"], given["limit_s"], strict=True):
        held = held_power_w(limit_s, given["critical_w"], given["reserve_j"])
        assert held == pytest.approx(power_w, abs=1e-3)


def test_the_reserve_drains_and_comes_back_as_in_the_worked_example() -> None:
    given = DATA["reserve_balance"]
    span_s = given["reserve_j"] / given["critical_w"]
    taken = spent_per_s(np.array([given["work_w"] / given["critical_w"]]), span_s)
    back_s = recovery_s(span_s, given["rest_w"] / given["critical_w"])
    stretch_s = np.array([float(given["stretch_s"])])
    spent, left_j = np.zeros(1), []
    for number in range(len(given["seconds"])):
        if number % 2 == 0:
            spent = spent + stretch_s * taken
        else:
            spent = after_rest(spent, stretch_s, back_s)
        left_j.append(float((1 - spent[0]) * given["reserve_j"]))
    assert left_j == pytest.approx(given["left_j"], abs=6e-3)


def test_recovery_lies_between_what_two_studies_found() -> None:
    # For the cyclist of the worked example, W' / (CP - P) at the same power below CP; near
    # the slower end of trained cyclists and well faster than the first estimate.
    for below_w, slow_s, fast_s in DATA["recovery_times"]["rows"]:
        ours = recovery_s(20000 / 250, 1 - below_w / 250)
        assert fast_s < ours < slow_s


def told(category: str, part: Part, level: float, teams: int = 3000) -> PartForecast:
    """The forecast of `part` for one athlete alone."""
    return forecast_workout(
        Workout(id="w", name="W", floor="f", parts=(part,)),
        Division(
            id=category,
            name=category,
            make_up=(CategoryCount(category=category, count=1),),
        ),
        LIBRARY,
        generator=np.random.default_rng(1),
        lanes=1,
        level=level,
        teams=teams,
    ).parts[0]


def as_much(movement: str, cap_s: int, loads: tuple[PublishedLoad, ...] = ()) -> Part:
    task = Task(id=movement, movement=movement, loads=loads)
    return Part(
        id="a", kind="work", cap_s=cap_s, blocks=(Block(id="b", tasks=(task,), open_ended=True),)
    )


@pytest.mark.parametrize("category", ["women", "men"])
def test_burpees_in_three_minutes(category: str) -> None:
    given = DATA["burpee_test"]
    found = told(
        category, as_much("burpee", given["test_s"]), level=athlete_model().levels.usual
    ).counts
    low, high = given["average_band"][category]
    assert found.p50 is not None
    assert low <= found.p50 <= high
    # Nobody's tenth is beyond the best of thousands.
    assert found.p90 is not None
    assert found.p90 < given["best"][category]


def test_kettlebell_swings_in_a_minute() -> None:
    given = DATA["kettlebell_swing"]
    swings = as_much("kettlebell_swing", 60, (PublishedLoad(kg=Decimal(16)),))
    found = told("men", swings, level=athlete_model().levels.usual).counts
    assert found.p50 == pytest.approx(given["reps_per_min"], abs=2 * given["sd"])
    assert found.p10 is not None
    assert found.p90 is not None
    assert given["imposed_per_min"][0] - 3 < found.p10 < found.p90 < given["imposed_per_min"][-1]


def test_rope_turns_in_a_minute() -> None:
    slow, _, fast = DATA["rope_single"]["skips_per_min"]
    found = told("women", as_much("single_under", 60), level=athlete_model().levels.usual).counts
    assert found.p50 is not None
    assert slow <= found.p50 <= fast


# "Trained" is taken for the usual level of a division, and for the better one of two.
@pytest.mark.parametrize("level", [0.5, 0.7])
def test_the_time_of_a_whole_workout_is_in_the_middle_four_fifths(level: float) -> None:
    given = DATA["mixed_workout"]
    tasks = tuple(
        Task(
            id=movement,
            movement=movement,
            amounts=(amount,),
            loads=tuple(
                PublishedLoad(
                    category=category,
                    kg=Decimal(kg),
                    count=2 if movement == "dumbbell_thruster" else 1,
                )
                for category, kg in given["loads_kg"].get(movement, {}).items()
            ),
        )
        for movement, amount in given["per_round"].items()
    )
    assert sum(given["per_round"].values()) * given["rounds"] == given["total"]
    part = Part(
        id="a",
        kind="time",
        cap_s=1800,
        blocks=(Block(id="b", tasks=tasks, rounds=given["rounds"]),),
    )
    low, middle, high = [], [], []
    for category in ("women", "men"):  # as many of each
        found = told(category, part, level=level).finish_s
        assert found.p10 is not None
        assert found.p50 is not None
        assert found.p90 is not None
        low.append(found.p10)
        middle.append(found.p50)
        high.append(found.p90)
    mean_s, sd_s = 60 * given["minutes"], 60 * given["sd_minutes"]
    # Women alone, men alone: the published mean of both lies in each band, and the middles lie
    # within the published 12 ± 3 minutes.
    assert max(low) <= mean_s <= min(high)
    assert all(abs(one - mean_s) <= sd_s for one in middle)
