"""What teams lift where the load is the result."""

from collections.abc import Mapping

import numpy as np

from callroom.forecast.arrays import Floats
from callroom.forecast.athletes import Athletes
from callroom.forecast.course import may_do
from callroom.forecast.demand import most_kg
from callroom.forecast.parameters import athlete_model
from callroom.model.division import Division
from callroom.model.movement import Movement
from callroom.model.steps import tasks_of
from callroom.model.workout import Part

STEP_G = 1000
"""Results are whole kilograms: the step of a pair of half-kilogram plates."""


def lifted_g(
    part: Part, division: Division, movements: Mapping[str, Movement], athletes: Athletes
) -> Floats:
    """Return the result of each team [g], shape ``(teams,)``.

    The best lift of each bar is added up; where everybody lifts, everybody's best. A day's
    best good lift is a little under the most the athlete can do.
    """
    teamwork = athlete_model().teamwork
    total = np.zeros(athletes.teams)
    noise = teamwork.attempt_share * np.exp(teamwork.attempt_sd * athletes.lift_noise)
    for block in part.blocks:
        for task in tasks_of(block, division):
            if task.unit != "lift":
                continue
            bests = np.stack(
                [
                    most_kg(
                        movements.get(task.movement),
                        athlete_model().body(category).clean_kg,
                        athletes.strength[place],
                    )
                    for place, category in enumerate(athletes.categories)
                ]
            )
            lifts = np.floor(bests * noise * 1000 / STEP_G) * STEP_G
            lifts[~may_do(task, division)] = 0
            total += lifts.sum(axis=0) if task.sharing == "each" else lifts.max(axis=0)
    return total
