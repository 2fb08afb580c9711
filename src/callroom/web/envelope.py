"""Around every answer: only known hosts are answered, and every answer says how strict to be."""

import json
from urllib.parse import urlsplit

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send

from callroom.web.hosts import host_name, may_ask
from callroom.web.ports import Book
from callroom.web.settings import WebSettings

POLICY = (
    "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; "
    "object-src 'none'"
)
HEADERS: tuple[tuple[bytes, bytes], ...] = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"geolocation=(), microphone=(), payment=()"),
)
# Over TLS a browser is told to come by TLS only, for a year. Not for other names below this one:
# whoever hosts a book rarely owns them all.
STRICT = (b"strict-transport-security", b"max-age=31536000")
_CHANGING = frozenset({"POST", "PUT", "PATCH", "DELETE"})


class Envelope:
    """Wraps the whole application."""

    def __init__(self, app: ASGIApp, book: Book, settings: WebSettings) -> None:
        """Answer for `book` as `settings` say."""
        self._app = app
        self._book = book
        self._settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse what is not meant for this server; else pass it on and seal the answer."""
        if scope["type"] == ScopeType.WEBSOCKET:
            return  # there are none here
        headers = {name: value.decode("latin-1") for name, value in scope["headers"]}
        if not may_ask(headers.get(b"host", ""), self._settings, self._book.state):
            await _refuse(send, 421, "web.other_host", "This server does not answer to that name.")
        elif scope.get("method") in _CHANGING and not _same_origin(scope["scheme"], headers):
            await _refuse(send, 403, "web.other_origin", "This came from a page of another site.")
        else:
            await self._app(scope, receive, _sealed(send, scope["scheme"]))


def _same_origin(scheme: str, headers: dict[bytes, str]) -> bool:
    """Whether a changing request comes from our own page, or from no page at all."""
    site = headers.get(b"sec-fetch-site")
    if site not in {None, "same-origin", "none"}:
        return False
    origin = headers.get(b"origin")
    if origin is None:
        return True
    asked = urlsplit(origin)
    own = headers.get(b"host", "")
    return asked.scheme == scheme and asked.netloc.lower() == own.lower() and bool(host_name(own))


def _sealed(send: Send, scheme: str) -> Send:
    always = (*HEADERS, STRICT) if scheme == "https" else HEADERS

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            message = message.copy()
            given = list(message["headers"])
            if b"cache-control" not in {name.lower() for name, _ in given}:
                given.append((b"cache-control", b"no-store"))
            message["headers"] = [*given, *always]
        await send(message)

    return sending


async def _refuse(send: Send, status: int, rule: str, sentence: str) -> None:
    # Nothing of the book is shown to a name we do not know, not even its language.
    said = {"rule": rule, "facts": {}, "sentence": sentence, "findings": []}
    body = json.dumps(said).encode()
    start = [(b"content-type", b"application/json"), (b"cache-control", b"no-store"), *HEADERS]
    await send({"type": "http.response.start", "status": status, "headers": start})
    await send({"type": "http.response.body", "body": body, "more_body": False})
