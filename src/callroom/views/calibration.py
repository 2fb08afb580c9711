"""The forecast against the day's results: before, after, and what the results were."""

from collections.abc import Mapping

import msgspec

from callroom.model import Event, PaceInUse, State
from callroom.model.forecast import Forecast, Pace
from callroom.model.pace import pace_key
from callroom.views.forecast import PartOutlook, PartsOutlook, part_outlook
from callroom.views.recorded import Recorded
from callroom.views.spread import Spread, places, spread
from callroom.views.timetable import CREW, WorkoutTitle, workout_title


class PacePicture(msgspec.Struct, frozen=True, kw_only=True):
    """One part for one division: its forecast before and after, drawn over one axis.

    Attributes
    ----------
    name
        Of the part; empty where the workout has one only.
    recorded, marks
        The results, and where each stands on the axis [thousandths of the width].
    before, after
        As the model says, and with `pace`; `after` is None without a pace.
    pace
        What the results show, or (`carried`) what the division's other results suggest; None
        where there are too few.
    used
        The pace that forecasts are made with now; None: as the model says.
    """

    workout: WorkoutTitle
    part: str
    name: str
    division: str
    division_name: str
    recorded: Recorded
    marks: tuple[int, ...]
    before: PartOutlook
    after: PartOutlook | None
    spread: Spread | None
    pace: Pace | None
    carried: bool
    used: PaceInUse | None

    @property
    def key(self) -> str:
        """How it is named in a form."""
        return pace_key(self.workout.id, self.part, self.division)


class Calibration(msgspec.Struct, frozen=True, kw_only=True):
    """The day's parts, in the event's order; `basis` is what a decision about them rests on.

    `measured` have results enough to tell a pace, `waiting` too few, and `carried` none, but a
    pace that the division's other results suggest.
    """

    measured: tuple[PacePicture, ...]
    carried: tuple[PacePicture, ...]
    waiting: tuple[PacePicture, ...]
    basis: dict[str, int]


class Comparison(msgspec.Struct, frozen=True, kw_only=True):
    """What was recorded, what paces that tells, and the forecasts without and with them.

    `done` has the parts without any result too; `paces` are by
    :func:`callroom.model.pace.pace_key`.
    """

    done: tuple[Recorded, ...]
    paces: Mapping[str, Pace]
    before: Forecast
    after: Forecast


def calibration(state: State, event: Event, told: Comparison) -> Calibration:
    """Return how the forecast compares with the day."""
    pictures = [_picture(state, event, one, told) for one in told.done]
    return Calibration(
        measured=tuple(one for one in pictures if one.pace is not None and not one.carried),
        carried=tuple(one for one in pictures if one.pace is not None and one.carried),
        waiting=tuple(
            one
            for one in pictures
            if one.pace is None and (one.recorded.values or one.recorded.stopped)
        ),
        basis={"paces": state.subjects.get("paces", 0)},
    )


def _picture(state: State, event: Event, one: Recorded, told: Comparison) -> PacePicture:
    workout, division = event.workout(one.workout), event.division(one.division)
    part = workout.part(one.part)
    index = workout.parts.index(part)
    key = pace_key(one.workout, one.part, one.division)
    pace = told.paces.get(key)
    outlooks = [
        part_outlook(part, division, forecast.of(workout.id, division.id).parts[index])
        for forecast in (told.before, told.after)[: 1 if pace is None else 2]
    ]
    drawn = PartsOutlook(
        id=part.id, name=part.name, kind=part.kind, cap_s=part.cap_s, divisions=tuple(outlooks)
    )
    return PacePicture(
        workout=workout_title(event, workout, CREW),
        part=part.id,
        name=part.name or (part.id.upper() if len(workout.parts) > 1 else ""),
        division=division.id,
        division_name=division.name,
        recorded=one,
        marks=places(drawn, one.values),
        before=outlooks[0],
        after=outlooks[1] if pace is not None else None,
        spread=spread(drawn),
        pace=pace,
        carried=not one.values and not one.stopped,
        used=state.paces.get(key),
    )
