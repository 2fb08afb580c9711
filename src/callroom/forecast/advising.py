"""A cap, or loads, with which as many teams finish as the director wants."""

import math
from collections.abc import Mapping

import numpy as np

from callroom.forecast.athletes import Athletes, draw_athletes
from callroom.forecast.course import course_of
from callroom.forecast.forecasting import HORIZON_CAPS, TEAMS
from callroom.forecast.loads import grams
from callroom.forecast.race import race
from callroom.forecast.summary import percent
from callroom.model.division import Division
from callroom.model.forecast import Advice, LoadAdvice
from callroom.model.movement import Movement
from callroom.model.steps import loads_for
from callroom.model.workout import Part, Workout

# Common practice, no source: caps are said in half minutes, loads in what plates can make.
CAP_STEP_S = 30
LIGHTEST, HEAVIEST = 0.3, 1.5
HEAVY_FROM_G = 20_000
HEAVY_STEP_G = 2500
LIGHT_STEP_G = 1000
SEARCHES = 8


def advise(
    workout: Workout,
    part_id: str,
    division: Division,
    movements: Mapping[str, Movement],
    *,
    generator: np.random.Generator,
    level: float,
    target_percent: int = 90,
    pace_permille: int = 1000,
    teams: int = TEAMS,
) -> Advice:
    """Return a cap, and loads, with which `target_percent` of the teams finish a part for time.

    The loads all change in the same measure, between 0.3 and 1.5 times what is published, and
    are rounded down to 2.5 kg from 20 kg on, and to 1 kg below. The teams come fresh.
    """
    part = workout.part(part_id)
    athletes = draw_athletes(division, level=level, teams=teams, generator=generator)
    trial = _Trial(part, division, movements, athletes, pace=pace_permille / 1000)
    wanted = target_percent / 100
    scale = trial.heaviest_scale(wanted)
    loads = _scaled(part, division, scale) if scale is not None else ()
    used = scale if scale is not None and loads else 1.0
    return Advice(
        workout=workout.id,
        part=part_id,
        division=division.id,
        target_percent=target_percent,
        cap_s=trial.cap_s(wanted),
        loads=loads,
        under_cap_percent=percent(trial.finish_s(used) <= part.cap_s),
    )


class _Trial:
    """The same teams again and again, with other loads."""

    def __init__(
        self,
        part: Part,
        division: Division,
        movements: Mapping[str, Movement],
        athletes: Athletes,
        *,
        pace: float,
    ) -> None:
        self.part = part
        self.division = division
        self.movements = movements
        self.athletes = athletes
        self.pace = pace

    def finish_s(self, scale: float) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        """Return every team's time with the loads times `scale` [s], ``(teams,)``."""
        course = course_of(
            self.part,
            self.division,
            self.movements,
            self.athletes,
            load_scale=scale,
            pace=self.pace,
        )
        cap_s = self.part.cap_s / self.pace
        return race(course, cap_s=cap_s, horizon_s=HORIZON_CAPS * cap_s).finish_s * self.pace

    def cap_s(self, wanted: float) -> int | None:
        """Return the cap by which the share `wanted` finishes, in half minutes."""
        needed = float(np.quantile(self.finish_s(1.0), wanted, method="inverted_cdf"))
        return math.ceil(needed / CAP_STEP_S) * CAP_STEP_S if math.isfinite(needed) else None

    def heaviest_scale(self, wanted: float) -> float | None:
        """Return the heaviest loads, as a multiple, with which the share `wanted` finishes."""

        def enough(scale: float) -> bool:
            return float((self.finish_s(scale) <= self.part.cap_s).mean()) >= wanted

        if not enough(LIGHTEST):
            return None
        if enough(HEAVIEST):
            return HEAVIEST
        low, high = LIGHTEST, HEAVIEST
        for _ in range(SEARCHES):
            middle = (low + high) / 2
            low, high = (middle, high) if enough(middle) else (low, middle)
        return low


def _scaled(part: Part, division: Division, scale: float) -> tuple[LoadAdvice, ...]:
    advice = []
    for task in (task for block in part.blocks for task in block.tasks):
        for load in loads_for(task, division):
            published = grams(load) / load.count
            if published <= 0:
                continue
            new = published * scale
            step = HEAVY_STEP_G if new >= HEAVY_FROM_G else LIGHT_STEP_G
            advice.append(
                LoadAdvice(
                    task=task.id,
                    category=load.category,
                    published_g=round(published),
                    advised_g=max(int(new // step) * step, LIGHT_STEP_G),
                )
            )
    return tuple(advice)
