"""The live stream: ``/live/<topic>`` as server-sent events."""

from typing import Any

from litestar import Response, get
from litestar.params import FromPath, FromQuery
from litestar.response import Stream

from callroom.model import NotFound
from callroom.web.errors import NotSignedIn
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import MOST_STREAMS, Asked
from callroom.web.throttle import TooOften
from callroom.web.topics import may_listen


@get("/live/{topic:path}")
async def listen(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    topic: FromPath[str],
    after: FromQuery[str] = "",
) -> Response[Any]:
    """Stream a topic; `after` or ``Last-Event-ID`` is the last entry this listener has seen."""
    name = topic.strip("/")
    if not may_listen(name, visitor):
        raise NotSignedIn("web.not_signed_in")
    if house.hub.listeners() >= MOST_STREAMS:
        raise TooOften(10)
    if await house.hub.frame(name) is None:
        raise NotFound("web.no_page")
    seen = _seq(request.headers.get("last-event-id") or after)
    return Stream(
        house.hub.stream(name, seen),
        media_type="text/event-stream",
        headers={"cache-control": "no-store", "x-accel-buffering": "no"},
    )


def _seq(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None


HANDLERS = (listen,)
