"""The forecast of a day as a director reads it: workout by workout, and what the day tests."""

from collections.abc import Mapping

import msgspec

from callroom.model import Event, NotFound, Part, Workout
from callroom.model.division import Division
from callroom.model.forecast import (
    Forecast,
    LoadAdvice,
    PartForecast,
    Programme,
    Quantiles,
    StepForecast,
)
from callroom.model.steps import total_counts
from callroom.model.workout import PartKind
from callroom.views.timetable import CREW, WorkoutTitle, workout_title

ASKED_PERCENT = 90
"""How many teams in a hundred should finish by a cap that is recommended.

Common practice, no source: a cap that nearly everybody beats keeps the last team from being
stopped in front of the crowd, and still ends the heat on time.
"""
CAP_STEP_S = 30


class PartOutlook(msgspec.Struct, frozen=True, kw_only=True):
    """One scored part for one division.

    Attributes
    ----------
    forecast
        What the simulated teams did.
    stall
        The step in which they lose most; None where nothing is done in steps.
    total
        All there is to count; None where that has no end, or the result is a load.
    enough_cap_s
        The cap, in half minutes, by which `ASKED_PERCENT` in 100 teams finish [s]; None where
        none would do, and for a part that has no finish.
    lighter
        Where fewer finish by the cap as it is: the loads with which so many would; empty if
        no load is asked for, or none would do.
    """

    division: str
    division_name: str
    forecast: PartForecast
    stall: StepForecast | None
    total: int | None
    enough_cap_s: int | None
    lighter: tuple[LoadAdvice, ...]


class PartsOutlook(msgspec.Struct, frozen=True, kw_only=True):
    """One scored part for every division; `name` is empty where the workout has one only."""

    id: str
    name: str
    kind: PartKind
    cap_s: int
    divisions: tuple[PartOutlook, ...]


class FloorOutlook(msgspec.Struct, frozen=True, kw_only=True):
    """How long a heat of one division holds the floor, walk-on to kit strip [s].

    `planned_floor_s` is what is planned for it, all the way to the cap; `worked_s` how long
    the middle athlete of each place in the line-up is at work [s].
    """

    division: str
    division_name: str
    clock_s: Quantiles
    floor_s: Quantiles
    planned_floor_s: int
    worked_s: tuple[int, ...]


class WorkoutOutlook(msgspec.Struct, frozen=True, kw_only=True):
    """A workout: its scored parts, and how long its heats hold the floor."""

    title: WorkoutTitle
    parts: tuple[PartsOutlook, ...]
    floors: tuple[FloorOutlook, ...]


class ProgrammeOutlook(msgspec.Struct, frozen=True, kw_only=True):
    """What the workouts of the day test together, for one division."""

    division: str
    division_name: str
    workouts: tuple[WorkoutTitle, ...]
    programme: Programme


class DayForecast(msgspec.Struct, frozen=True, kw_only=True):
    """Every workout for every division, from `teams` simulated teams drawn with `seed`."""

    teams: int
    seed: int
    workouts: tuple[WorkoutOutlook, ...]
    programmes: tuple[ProgrammeOutlook, ...]

    def workout(self, workout_id: str) -> WorkoutOutlook:
        """Return a workout by id; NotFound if there is none."""
        for one in self.workouts:
            if one.title.id == workout_id:
                return one
        raise NotFound("workout.unknown", workout=workout_id)


def day_forecast(
    event: Event,
    forecast: Forecast,
    programmes: Mapping[str, Programme],
    lighter: Mapping[tuple[str, str, str], tuple[LoadAdvice, ...]],
    *,
    seed: int,
) -> DayForecast:
    """Return a day's forecast as it is shown, printed as JSON, and drawn.

    Parameters
    ----------
    programmes
        By division.
    lighter
        By workout, part and division, where too few finish with the loads as they are.
    """
    titles = tuple(workout_title(event, workout, CREW) for workout in event.workouts)
    return DayForecast(
        teams=max((one.teams for one in forecast.workouts), default=0),
        seed=seed,
        workouts=tuple(_workout(event, workout, forecast, lighter) for workout in event.workouts),
        programmes=tuple(
            ProgrammeOutlook(
                division=division.id,
                division_name=division.name,
                workouts=titles,
                programme=programmes[division.id],
            )
            for division in event.divisions
            if division.id in programmes
        ),
    )


def _workout(
    event: Event,
    workout: Workout,
    forecast: Forecast,
    lighter: Mapping[tuple[str, str, str], tuple[LoadAdvice, ...]],
) -> WorkoutOutlook:
    told = {one.id: forecast.of(workout.id, one.id) for one in event.divisions}
    parts = tuple(
        PartsOutlook(
            id=part.id,
            name=part.name or (part.id.upper() if len(workout.parts) > 1 else ""),
            kind=part.kind,
            cap_s=part.cap_s,
            divisions=tuple(
                part_outlook(
                    part,
                    division,
                    told[division.id].parts[index],
                    lighter=lighter.get((workout.id, part.id, division.id), ()),
                )
                for division in event.divisions
            ),
        )
        for index, part in enumerate(workout.parts)
    )
    floors = tuple(
        FloorOutlook(
            division=division.id,
            division_name=division.name,
            clock_s=told[division.id].clock_s,
            floor_s=told[division.id].floor_s,
            planned_floor_s=told[division.id].planned_floor_s,
            worked_s=told[division.id].worked_s,
        )
        for division in event.divisions
    )
    return WorkoutOutlook(title=workout_title(event, workout, CREW), parts=parts, floors=floors)


def part_outlook(
    part: Part,
    division: Division,
    told: PartForecast,
    *,
    lighter: tuple[LoadAdvice, ...] = (),
) -> PartOutlook:
    """Return what is forecast of a part for a division; `lighter` are loads that are advised."""
    slow_s = told.finish_s.p90
    return PartOutlook(
        division=division.id,
        division_name=division.name,
        forecast=told,
        stall=told.steps[told.stall] if told.stall is not None else None,
        total=total_counts(part, division),
        enough_cap_s=-(-slow_s // CAP_STEP_S) * CAP_STEP_S if slow_s is not None else None,
        lighter=lighter,
    )
