"""One lane's pad: the page a judge counts on, and what may change under it."""

from hashlib import blake2b
from typing import Any, ClassVar

import msgspec
from litestar import MediaType, Response, get
from litestar.params import FromPath, FromQuery
from litestar.status_codes import HTTP_304_NOT_MODIFIED

from callroom.bootstrap.language import language_of
from callroom.views.lane_pad import LanePad, lane_pad, pad_now
from callroom.views.page_head import page_head
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, need_role
from callroom.web.pad_words import PAD_WORDS
from callroom.web.pages import Page


class LanePadPage(Page, frozen=True, kw_only=True):
    """``/pad/<heat>/<lane>``: everything is in the page, so that it works without a network.

    `heat` and `lane` say which is ready. `pad` is the lane as JSON, `words` the pad's texts as JSON, `now` the address that tells
    what may have changed. `device` and `proof` say to another server of the same book who this
    phone is.
    """

    template: ClassVar[str] = "lane_pad.html"
    title: str
    heat: str
    lane: int
    pad: str
    words: str
    now: str
    device: str
    proof: str


@get("/pad/{heat:str}/{lane:int}")
async def show_lane(
    request: Asked, house: InHouse, visitor: ByVisitor, heat: FromPath[str], lane: FromPath[int]
) -> Response[str]:
    """The pad of one lane of one heat."""
    need_role(visitor, "score.reported")
    state = house.state
    pad: LanePad = lane_pad(state, heat, lane, house.voice(state).speech)
    translate = language_of(page_head(state).language).words.gettext
    page = LanePadPage(
        title=f"{lane} · {pad.team_name}",
        heat=heat,
        lane=lane,
        pad=msgspec.json.encode(pad).decode(),
        words=msgspec.json.encode({text: translate(text) for text in PAD_WORDS}).decode(),
        now=f"/pad/{heat}/{lane}/now",
        device=visitor.actor.device if visitor.actor is not None else "",
        proof=house.book.doors.proof_of(visitor.token),
    )
    response = house.show(request, visitor, page)
    # Kept by the browser: a pad that is opened again without a network still counts. A browser
    # that asks anew for a page without a mark throws its own away before there is an answer.
    mark = f'W/"{blake2b(response.content.encode(), digest_size=12).hexdigest()}"'
    if request.headers.get("if-none-match") == mark:
        response = Response("", status_code=HTTP_304_NOT_MODIFIED)
    response.headers["etag"] = mark
    response.headers["cache-control"] = "private, max-age=43200"
    return response


@get("/pad/{heat:str}/{lane:int}/now")
async def tell_lane(
    house: InHouse,
    visitor: ByVisitor,
    heat: FromPath[str],
    lane: FromPath[int],
    part: FromQuery[str] = "",
    done: FromQuery[int] = 0,
) -> Response[Any]:
    """The server's time, how far the heat is, who is in the lane, who else counts there."""
    need_role(visitor, "score.reported")
    device = visitor.actor.device if visitor.actor is not None else ""
    state = house.state
    speech = house.voice(state).speech
    said = pad_now(
        state,
        heat,
        lane,
        device=device,
        now_ms=house.book.now_ms(),
        speech=speech,
        others=house.lanes.note((heat[:80], lane), device, part[:80], done) if part else (),
    )
    return Response(said, media_type=MediaType.JSON)


HANDLERS = (show_lane, tell_lane)
