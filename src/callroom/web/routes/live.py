"""The live stream: ``/live/<topic>`` as server-sent events."""

from typing import Annotated, Any

from litestar import Response, get
from litestar.params import Parameter
from litestar.response import Stream

from callroom.model import NotFound
from callroom.web.errors import NotSignedIn
from callroom.web.house import MOST_STREAMS, House
from callroom.web.throttle import TooOften
from callroom.web.topics import may_listen
from callroom.web.visitor import Visitor


@get("/live/{topic:path}")
async def listen(
    house: House,
    visitor: Visitor,
    topic: str,
    after: str = "",
    last_event_id: Annotated[str, Parameter(header="last-event-id")] = "",
) -> Response[Any]:
    """Stream a topic; `after` or ``Last-Event-ID`` is the last entry this listener has seen."""
    name = topic.strip("/")
    if not may_listen(name, visitor):
        raise NotSignedIn("web.not_signed_in")
    if house.hub.listeners() >= MOST_STREAMS:
        raise TooOften(10)
    if await house.hub.frame(name) is None:
        raise NotFound("web.no_page")
    seen = _seq(last_event_id) if last_event_id else _seq(after)
    return Stream(
        house.hub.stream(name, seen),
        media_type="text/event-stream",
        headers={"cache-control": "no-store", "x-accel-buffering": "no"},
    )


def _seq(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None


HANDLERS = (listen,)
