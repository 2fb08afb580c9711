"""Answers made small for the way: texts that a browser takes compressed, whole ones only.

Streams are left alone. Where a page is compressed together with a secret, somebody who can make a
browser ask with texts of their own could guess it from lengths; no other site's request carries our
cookie (``SameSite=Strict``), so none is answered with a secret.
"""

import gzip
from collections.abc import Callable, Iterable
from functools import lru_cache

from litestar.enums import ScopeType
from litestar.types import (
    ASGIApp,
    HTTPResponseStartEvent,
    Message,
    Receive,
    Scope,
    Send,
)

_TEXTS = (b"text/", b"application/json", b"application/problem", b"image/svg+xml")
_STREAM = b"text/event-stream"
_LEAST_BYTES = 700
"""Below this the answer fits one packet anyway."""

_LEVEL = 6

# Many ask for the very same bytes there.
_ALIKE = ("/static/", "/standings", "/timetable", "/team/")


class Compressing:
    """Wraps what answers."""

    def __init__(self, app: ASGIApp) -> None:
        """Make small what `app` answers."""
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, and its answer back, smaller where the browser takes that."""
        taken = next((value for name, value in scope["headers"] if name == b"accept-encoding"), b"")
        if scope["type"] != ScopeType.HTTP or b"gzip" not in taken:
            await self._app(scope, receive, send)
            return
        alike = scope["path"].startswith(_ALIKE)
        await self._app(scope, receive, _Smaller(send, _kept_small if alike else _small))


class _Smaller:
    """Holds the head of an answer back until its body shows whether it comes whole."""

    def __init__(self, send: Send, small: Callable[[bytes], bytes]) -> None:
        self._send = send
        self._small = small
        self._head: HTTPResponseStartEvent | None = None

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start" and _is_text(message["headers"]):
            self._head = message
            return
        head, self._head = self._head, None
        if head is not None and message["type"] == "http.response.body":
            body = message["body"]
            if not message["more_body"] and len(body) >= _LEAST_BYTES:
                body = self._small(body)
                message = {"type": "http.response.body", "body": body, "more_body": False}
                head = _with_length(head, len(body))
            await self._send(head)
        await self._send(message)


def _with_length(head: HTTPResponseStartEvent, length: int) -> HTTPResponseStartEvent:
    made = head.copy()
    made["headers"] = [
        *(one for one in head["headers"] if one[0].lower() != b"content-length"),
        (b"content-length", str(length).encode()),
        (b"content-encoding", b"gzip"),
        (b"vary", b"accept-encoding"),
    ]
    return made


def _is_text(headers: Iterable[tuple[bytes, bytes]]) -> bool:
    given = {name.lower(): value for name, value in headers}
    kind = given.get(b"content-type", b"")
    return (
        kind.startswith(_TEXTS)
        and not kind.startswith(_STREAM)
        and b"content-encoding" not in given
        and b"content-disposition" not in given
    )


def _small(body: bytes) -> bytes:
    # The same bytes each time: no time of making in them.
    return gzip.compress(body, _LEVEL, mtime=0)


@lru_cache(maxsize=128)
def _kept_small(body: bytes) -> bytes:
    return gzip.compress(body, _LEVEL, mtime=0)
