"""What pads and scripts send: one request as JSON; and the time, to set their clocks by."""

from typing import Any

import msgspec
from litestar import MediaType, Response, get, post

from callroom.actions.carried import as_made_by
from callroom.actions.request import read_posted
from callroom.web.errors import Forged, NotSignedIn, Unreadable
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, take_post

MOST_KEY = 200


class Accepted(msgspec.Struct, frozen=True, kw_only=True):
    """The entries a request made, or (`replayed`) had made when it came the first time."""

    seqs: tuple[int, ...]
    replayed: bool


@post("/entries", status_code=200)
async def post_entry(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[Any]:
    """Store ``{kind, data, basis, seen_at_ms, clock_error_ms}`` under its ``Idempotency-Key``.

    A browser that is known by its cookie also sends ``X-Form-Token``. Answered once the
    entries are on disk. A device that lost its role may still hand in reports. A report that a
    phone made as another device, before it joined here anew, names that in ``X-Made-By``. A pad
    says in ``X-Waiting`` how much waits behind.
    """
    if visitor.actor is None:
        raise NotSignedIn("web.not_signed_in")
    take_post(house, visitor)
    token = request.headers.get("x-form-token", "")
    if visitor.by_cookie and not visitor.form_token_fits(token):
        raise Forged("web.forged")
    key = request.headers.get("idempotency-key", "").strip()
    if not key or len(key) > MOST_KEY:
        raise Unreadable("web.no_key", given=key[:MOST_KEY])
    asked = read_posted(await request.body())
    behind = request.headers.get("x-waiting", "")
    house.seen.device(
        visitor.actor.device,
        house.book.now_ms(),
        asked.clock_error_ms,
        int(behind) if behind.isascii() and behind.isdigit() and len(behind) < 6 else None,
    )
    made_by = request.headers.get("x-made-by", "").strip()
    actor = as_made_by(visitor.actor, asked, made_by, house.state)
    outcome = await house.book.ask(actor, asked, key=key)
    answer = Accepted(seqs=outcome.seqs, replayed=outcome.replayed)
    return Response(answer, media_type=MediaType.JSON)


@get("/time")
async def tell_time(house: InHouse) -> Response[dict[str, int]]:
    """The server's time [ms since 1970, UTC], and how many times as fast it runs."""
    said = {"now_ms": house.book.now_ms(), "speed": house.book.clock_speed}
    return Response(said, media_type=MediaType.JSON)


@get("/health")
async def tell_health(house: InHouse) -> Response[dict[str, Any]]:
    """That the server answers, and how far its book has come."""
    state = house.state
    said = {"status": "ok", "seq": state.seq, "rehearsal": state.rehearsal}
    return Response(said, media_type=MediaType.JSON)


HANDLERS = (post_entry, tell_time, tell_health)
