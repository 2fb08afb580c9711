"""The forecast's figures: against a plain-Python loop of the same model, and the demo's time.

The baseline (``plain_race.py``) reads the same courses, so both race the same athletes with the
same demands; their results are compared before any figure is given. Both are timed as processor
seconds, as the best of several runs, on the demonstration event's workouts.
"""

from __future__ import annotations

import time
from functools import partial
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from callroom.exchange import read_event
from callroom.exchange.demo import demo_file
from callroom.forecast import forecast_event, guessed_levels
from callroom.forecast.athletes import draw_athletes
from callroom.forecast.course import Course, course_of
from callroom.forecast.forecasting import HORIZON_CAPS
from callroom.forecast.race import Race, race
from callroom.standards import all_movements
from plain_race import Asks, Outcome, plain_race

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from callroom.model import Event
    from callroom.model.movement import Movement

Result = TypeVar("Result")

SEED = 20270515
DEMO_TEAMS = 2000
TEAMS = 8000
"""So many that the fixed costs of a call weigh little: what is compared is throughput."""
PLAIN_TEAMS = 200


def figures(*, quick: bool) -> dict[str, float]:
    """Return the ratio of simulated team-workouts a second, and the demo's seconds."""
    event = read_event(demo_file("event.toml"))
    movements = {movement.id: movement for movement in all_movements()}
    repeats = 2 if quick else 7
    plain_teams = 60 if quick else PLAIN_TEAMS
    courses = _courses(event, movements)
    ours_s = plain_s = 0.0
    for course, cap_s, horizon_s in courses:
        spent_s, ran = _best(repeats, partial(race, course, cap_s=cap_s, horizon_s=horizon_s))
        ours_s += spent_s / TEAMS
        spent_s, plain = _best(
            2 if quick else 4,
            partial(
                plain_race,
                course,
                cap_s=cap_s,
                horizon_s=horizon_s,
                teams=plain_teams,
                asks=Asks(course, plain_teams),
            ),
        )
        plain_s += spent_s / plain_teams
        _compare(ran, plain)
    demo_s, forecast = _best(
        2 if quick else 3,
        lambda: forecast_event(
            event, movements, generator=np.random.default_rng(SEED), teams=DEMO_TEAMS
        ),
        clock=time.perf_counter,
    )
    assert len(forecast.workouts) == len(event.workouts) * len(event.divisions)
    assert all(one.teams == DEMO_TEAMS for one in forecast.workouts)
    return {"forecast_teams_per_s_ratio": plain_s / ours_s, "forecast_demo_s": demo_s}


def _courses(event: Event, movements: Mapping[str, Movement]) -> list[tuple[Course, float, float]]:
    """Return every part that is raced, for every division, with its cap and horizon [s]."""
    levels = guessed_levels(event)
    courses = []
    for number, division in enumerate(event.divisions):
        athletes = draw_athletes(
            division,
            level=levels[division.id],
            teams=TEAMS,
            generator=np.random.default_rng(SEED + number),
        )
        for part in (part for workout in event.workouts for part in workout.parts):
            if part.kind != "load":
                horizon_s = (HORIZON_CAPS if part.kind == "time" else 1) * float(part.cap_s)
                course = course_of(part, division, movements, athletes)
                courses.append((course, float(part.cap_s), horizon_s))
    return courses


def _best(
    repeats: int, run: Callable[[], Result], clock: Callable[[], float] = time.process_time
) -> tuple[float, Result]:
    """Return the least seconds of several runs, and what the last returned."""
    begun = clock()
    result = run()
    least = clock() - begun
    for _ in range(repeats - 1):
        begun = clock()
        result = run()
        least = min(least, clock() - begun)
    return least, result


def _compare(ran: Race, plain: list[Outcome]) -> None:
    """Stop if the two did not come to the same results."""
    teams = len(plain)
    np.testing.assert_allclose(ran.finish_s[:teams], [one.finish for one in plain], rtol=1e-9)
    np.testing.assert_array_equal(ran.counts[:teams], [one.counts for one in plain])
    np.testing.assert_array_equal(ran.at_cap[:teams], [one.at_cap for one in plain])
    np.testing.assert_allclose(
        ran.split_s[:, :teams].T, [one.splits for one in plain], rtol=1e-9, equal_nan=True
    )
