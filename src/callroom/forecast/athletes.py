"""Athletes of simulated teams: strength, skill and endurance drawn around a level."""

import msgspec
import numpy as np

from callroom.forecast.arrays import Floats
from callroom.forecast.parameters import athlete_model
from callroom.model.division import Division


class Athletes(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """The athletes of many teams of one division.

    Attributes
    ----------
    categories
        The category of each place in the line-up; the first dimension of the arrays.
    strength, skill, endurance
        Levels, shape ``(athletes, teams)``: 0 intermediate, 1 advanced.
    span_s
        The reserve in seconds of critical power, shape ``(athletes, 1)`` [s].
    lift_noise
        Standard normal, for the best lift of the day, shape ``(athletes, teams)``.
    form
        What the day makes of a team's pace, a factor, shape ``(teams,)``.
    """

    categories: tuple[str, ...]
    strength: Floats
    skill: Floats
    endurance: Floats
    span_s: Floats
    lift_noise: Floats
    form: Floats

    @property
    def teams(self) -> int:
        """How many teams."""
        return self.form.size


def line_up(division: Division) -> tuple[str, ...]:
    """Return the category at each place of the line-up, in the order of the make-up."""
    return tuple(part.category for part in division.make_up for _ in range(part.count))


def draw_athletes(
    division: Division, *, level: float, teams: int, generator: np.random.Generator
) -> Athletes:
    """Return `teams` teams of `division` whose athletes spread around `level`.

    A level of 0 is the middle of the library's intermediate rates, 1 of its advanced ones.
    The same generator state gives the same athletes.
    """
    levels = athlete_model().levels
    categories = line_up(division)
    size = len(categories)
    team = levels.team_sd * generator.standard_normal((1, 1, teams))
    athlete = levels.athlete_sd * generator.standard_normal((1, size, teams))
    own = levels.own_sd * generator.standard_normal((3, size, teams))
    strength, skill, endurance = level + team + athlete + own
    spans = [athlete_model().body(category).span_s for category in categories]
    return Athletes(
        categories=categories,
        strength=strength,
        skill=skill,
        endurance=endurance,
        span_s=np.array(spans).reshape(size, 1),
        lift_noise=generator.standard_normal((size, teams)),
        form=np.exp(levels.form_sd * generator.standard_normal(teams)),
    )
