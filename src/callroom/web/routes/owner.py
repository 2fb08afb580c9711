"""The owner's door: a command on this machine writes through the server that has the book."""

import hmac
from typing import Any

import msgspec
from litestar import Response, post

from callroom.bootstrap.books import AT_THE_KEYBOARD
from callroom.bootstrap.remote import OWNER_PATH, OwnerAnswer, decode_ask
from callroom.model import CallroomError
from callroom.web.errors import NotSignedIn, findings_of
from callroom.web.given import ByVisitor, InHouse
from callroom.web.hosts import is_loopback
from callroom.web.house import Asked


@post(OWNER_PATH, status_code=200)
async def ask_as_owner(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[Any]:
    """Store what the owner of the machine's account asks for, from this machine only.

    The token stands in a file beside the book that only the owner can read.
    """
    wanted = house.settings.owner_token
    here = visitor.private or (house.settings.behind_tls and is_loopback(visitor.origin))
    if not wanted or not here or not hmac.compare_digest(visitor.token, wanted):
        raise NotSignedIn("web.not_director", role=visitor.role)
    try:
        asked, key, beside = decode_ask(await request.body())
        outcome = await house.book.ask(AT_THE_KEYBOARD, asked, key=key, beside=beside)
    except CallroomError as fault:
        answer = OwnerAnswer(refusals=findings_of(fault))
    else:
        answer = OwnerAnswer(seqs=outcome.seqs, replayed=outcome.replayed)
    return Response(msgspec.msgpack.encode(answer), media_type="application/msgpack")


HANDLERS = (ask_as_owner,)
