"""Who is asking: read from the cookie or the header of one request."""

import hashlib
import hmac
import secrets
from typing import Any

import msgspec
from litestar.connection import ASGIConnection

from callroom.actions.decide import PERMITS
from callroom.model import Actor
from callroom.web.hosts import is_private
from callroom.web.ports import Book
from callroom.web.settings import WebSettings

Connection = ASGIConnection[Any, Any, Any, Any]
_YEAR_S = 365 * 24 * 3600


class Visitor(msgspec.Struct, frozen=True, kw_only=True):
    """One request's sender.

    Attributes
    ----------
    actor
        Who holds the token that was sent; None for the public.
    token
        The secret the browser holds: a session's, a device's, or (`actor` is None) a
        chance value that only ties a form to this browser.
    by_cookie
        The browser sends the token by itself, so that forged forms must be told apart.
    private
        Nobody on the network can read along.
    shut_out
        The token is a director's, sent over a network that others can read: it opens
        nothing here.
    origin
        Where the request comes from, for counting wrong guesses.
    reads
        The languages the browser asks for, as it sends them.
    """

    actor: Actor | None
    token: str
    by_cookie: bool
    private: bool
    shut_out: bool
    origin: str
    reads: str = ""

    @property
    def form_token(self) -> str:
        """What a form of this browser must carry; only who knows the token can make it.

        It rests on nothing the server forgets, so a page left open over a restart of the
        server still sends.
        """
        return hmac.new(self.token.encode(), b"callroom form", hashlib.sha256).hexdigest()

    @property
    def role(self) -> str:
        """The role held, ``public`` without one."""
        return self.actor.role if self.actor is not None else "public"

    def may(self, kind: str) -> bool:
        """Whether this visitor's role may propose entries of a kind."""
        return self.actor is not None and self.actor.role in PERMITS[kind].roles

    def form_token_fits(self, given: str) -> bool:
        """Whether a form that was posted came from a page of this browser."""
        return hmac.compare_digest(given.encode(), self.form_token.encode())


VISIT = "visit-"
"""How a token begins that opens nothing and only ties forms to a browser."""


def cookie_name(settings: WebSettings, *, secure: bool) -> str:
    """Return the cookie's name; over TLS the prefix binds it to this host alone."""
    return f"{'__Host-' if secure else ''}callroom-{settings.port}"


def set_cookie(settings: WebSettings, token: str, *, secure: bool) -> str:
    """Return the ``Set-Cookie`` header that hands a browser its token."""
    parts = [
        f"{cookie_name(settings, secure=secure)}={token}",
        "Path=/",
        f"Max-Age={_YEAR_S if token else 0}",
        "HttpOnly",
        "SameSite=Strict",
    ]
    return "; ".join([*parts, "Secure"] if secure else parts)


def chance_token() -> str:
    """Return a new token for a browser that has none; it opens nothing."""
    return VISIT + secrets.token_urlsafe(24)


def visitor_of(connection: Connection, book: Book, settings: WebSettings) -> Visitor:
    """Return who sent a request."""
    scheme = connection.scope["scheme"]
    peer = connection.client.host if connection.client is not None else ""
    host = connection.headers.get("host", "")
    private = is_private(scheme, host, peer, behind_tls=settings.behind_tls)
    kept = connection.cookies.get(cookie_name(settings, secure=scheme == "https"), "")
    scheme_word, _, bearer = connection.headers.get("authorization", "").partition(" ")
    token = bearer.strip() if scheme_word.lower() == "bearer" else kept
    actor = book.doors.holder(token) if token and not token.startswith(VISIT) else None
    shut_out = actor is not None and actor.role == "director" and not private
    return Visitor(
        actor=None if shut_out else actor,
        token=token,
        by_cookie=scheme_word.lower() != "bearer",
        private=private,
        shut_out=shut_out,
        origin=peer,
        reads=connection.headers.get("accept-language", ""),
    )
