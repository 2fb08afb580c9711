"""Calendar feeds: the day, or one team's, in a calendar that a phone keeps up to date."""

import asyncio

from litestar import Response, get
from litestar.params import FromPath

from callroom.bootstrap.exporting import calendar_feed
from callroom.web.given import InHouse
from callroom.web.house import House


@get("/calendar.ics")
async def send_calendar(house: InHouse) -> Response[bytes]:
    """Every heat and pause of the day."""
    return await _calendar(house, "")


@get("/team/{team_id:str}/calendar.ics")
async def send_team_calendar(house: InHouse, team_id: FromPath[str]) -> Response[bytes]:
    """One team's heats with lanes and reporting times."""
    return await _calendar(house, team_id)


async def _calendar(house: House, team_id: str) -> Response[bytes]:
    feed = await asyncio.to_thread(calendar_feed, house.state, house.book.now_ms(), team_id)
    return Response(feed, media_type="text/calendar; charset=utf-8")


HANDLERS = (send_calendar, send_team_calendar)
