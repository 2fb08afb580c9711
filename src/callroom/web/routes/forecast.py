"""The forecast of the day, for the director."""

import asyncio
from typing import ClassVar

import msgspec
from litestar import Response, get

from callroom.bootstrap.forecasting import forecast_of
from callroom.model.forecast import CapacityUse
from callroom.views.forecast import (
    ASKED_PERCENT,
    DayForecast,
    ProgrammeOutlook,
    WorkoutOutlook,
)
from callroom.views.spread import PartPicture, pictures
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, need_director
from callroom.web.pages import Page


class WorkoutPicture(msgspec.Struct, frozen=True, kw_only=True):
    """A workout with the pictures of its parts."""

    outlook: WorkoutOutlook
    parts: tuple[PartPicture, ...]


class ProgrammePicture(msgspec.Struct, frozen=True, kw_only=True):
    """What the day tests for one division, with what its bars are measured against.

    `most_percent` is the share of the capacity that is tested most, `longest_s` the work of
    the place in the line-up that works longest [s]; both at least 1.
    """

    outlook: ProgrammeOutlook
    uses: tuple[CapacityUse, ...]
    gaps: tuple[str, ...]
    most_percent: int
    longest_s: int


class ForecastPage(Page, frozen=True, kw_only=True):
    """``/director/forecast``: how long the work takes, who stalls, and what the day tests.

    `teams` is how many were simulated for each division, none without an event;
    `asked_percent` how many in a hundred should finish by a recommended cap.
    """

    template: ClassVar[str] = "forecast.html"
    teams: int
    asked_percent: int
    workouts: tuple[WorkoutPicture, ...]
    programmes: tuple[ProgrammePicture, ...]


@get("/director/forecast")
async def show_forecast(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """The day's forecast, from the event as it stands."""
    need_director(visitor)
    state = house.state
    if state.event is None:
        page = ForecastPage(teams=0, asked_percent=ASKED_PERCENT, workouts=(), programmes=())
    else:
        page = _page(await asyncio.to_thread(forecast_of, state))
    return house.show(request, visitor, page)


def _page(day: DayForecast) -> ForecastPage:
    return ForecastPage(
        teams=day.teams,
        asked_percent=ASKED_PERCENT,
        workouts=tuple(WorkoutPicture(outlook=one, parts=pictures(one)) for one in day.workouts),
        programmes=tuple(_programme(one) for one in day.programmes),
    )


def _programme(outlook: ProgrammeOutlook) -> ProgrammePicture:
    told = outlook.programme
    return ProgrammePicture(
        outlook=outlook,
        uses=told.capacities,
        gaps=told.gaps,
        most_percent=max((use.percent for use in told.capacities), default=0) or 1,
        longest_s=max(told.worked_s, default=0) or 1,
    )


HANDLERS = (show_forecast,)
