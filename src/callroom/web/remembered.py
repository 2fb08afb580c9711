"""Public pages as they were last answered, for the many who ask for the same.

A spectator's page is the same for every spectator, so it is made once for each State and second
and then only sent. Whoever has a role, a form to fill in or a question in the address is passed on.
"""

from collections import OrderedDict

import msgspec
from litestar.types import ASGIApp, Message, Receive, Scope, Send

from callroom.web.hosts import is_loopback
from callroom.web.ports import Book
from callroom.web.settings import WebSettings
from callroom.web.visitor import VISIT, cookie_name

# What the time alone changes (a release, entries that close) is seen when its second begins.
FRESH_MS = 1000
MOST_PAGES = 300
_PAGES = ("/standings", "/standings/", "/timetable", "/team/")


class Answer(msgspec.Struct, frozen=True):
    """One whole answer, with the State it was made from and in which second of the book's clock."""

    state: object
    second: int
    messages: tuple[Message, ...]


Key = tuple[str, bool, bool]


class Remembered:
    """Answers spectators from what it remembers, and asks `app` for everything else."""

    def __init__(self, app: ASGIApp, book: Book, settings: WebSettings) -> None:
        """Remember the public pages of `book`."""
        self._app = app
        self._book = book
        self._cookies = tuple(
            f"{cookie_name(settings, secure=secure)}=".encode() for secure in (False, True)
        )
        self._answers: OrderedDict[Key, Answer] = OrderedDict()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        key = self._key(scope)
        if key is None:
            await self._app(scope, receive, send)
            return
        answer = self._answers.get(key)
        state, second = self._book.state, self._book.now_ms() // FRESH_MS
        if answer is None or answer.state is not state or answer.second != second:
            answer = await self._made(scope, receive, state, second)
            self._keep(key, answer)
        for message in answer.messages:
            await send(message)

    def _key(self, scope: Scope) -> Key | None:
        """Return what tells answers apart; None if this one is not everybody's."""
        path = scope["path"]
        if scope.get("method") != "GET" or scope.get("query_string"):
            return None
        if path != "/" and not path.startswith(_PAGES):
            return None
        host, packed = "", False
        for name, value in scope["headers"]:
            if name == b"cookie" and not self._is_a_spectators(value):
                return None
            if name in {b"authorization", b"hx-request", b"range"}:
                return None
            if name == b"host":
                host = value.decode("latin-1")
            elif name == b"accept-encoding":
                packed = b"gzip" in value
        client = scope.get("client")
        private = scope["scheme"] == "https" or (client is not None and is_loopback(client[0]))
        return f"{scope['scheme']}://{host}{path}", private, packed

    def _is_a_spectators(self, cookies: bytes) -> bool:
        """Whether the cookies hold no token of a role or of the director."""
        for cookie in cookies.split(b";"):
            pair = cookie.strip()
            for name in self._cookies:
                if pair.startswith(name) and not pair.startswith(name + VISIT.encode()):
                    return False
        return True

    async def _made(self, scope: Scope, receive: Receive, state: object, second: int) -> Answer:
        """Have the page made as for somebody without a token, and keep it from giving one."""
        messages: list[Message] = []

        async def keep(message: Message) -> None:
            if message["type"] == "http.response.start":
                message = message.copy()
                message["headers"] = [
                    (name, value)
                    for name, value in message["headers"]
                    if name.lower() != b"set-cookie"
                ]
            messages.append(message)

        bare = scope.copy()
        bare["headers"] = [pair for pair in scope["headers"] if pair[0] != b"cookie"]
        await self._app(bare, receive, keep)
        return Answer(state, second, tuple(messages))

    def _keep(self, key: Key, answer: Answer) -> None:
        if answer.messages and answer.messages[0].get("status") != 200:
            return
        self._answers[key] = answer
        self._answers.move_to_end(key)
        if len(self._answers) > MOST_PAGES:
            self._answers.popitem(last=False)
