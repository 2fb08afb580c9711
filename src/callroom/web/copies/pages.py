"""The public pages as files: asked of the application as a stranger's browser asks."""

import asyncio
import re
from collections.abc import AsyncIterator, Callable
from html import escape, unescape
from typing import Any
from urllib.parse import quote, unquote, urlsplit

import msgspec
from litestar.types import ASGIApp

from callroom.model import from_milliseconds, wall_time
from callroom.views import wording
from callroom.views.page_head import page_head
from callroom.web.copies.names import Names
from callroom.web.copies.rewriting import rewritten
from callroom.web.house import House

# What is copied; anything else a page leads to (the call board, the lane pad) needs the server.
_PAGES = ("/", "/timetable", "/programme", "/standings", "/workouts", "/rulings", "/calendar.ics")
_BELOW = ("/standings/", "/team/", "/workouts/", "/movements/", "/raised")
# Pages that stay as they are while scores come in.
STEADY = ("/workouts", "/movements/", "/rulings")
# An event of many hundred teams; beyond it something links in a circle.
_MOST_PAGES = 5_000
_BREATH_S = 0.01
_LINK = re.compile(r'href="(/[^"]*)"')
# From the documentation range (RFC 5737): a stranger, never this machine itself.
_STRANGER = ("192.0.2.1", 1)


class Made(msgspec.Struct, frozen=True):
    """One file of a copy: its name in the folder, its bytes, and whether it is a steady page's."""

    name: str
    content: bytes
    steady: bool = False


async def public_files(
    app: ASGIApp, house: House, names: Names, *, skip: Callable[[str], bool] = lambda _path: False
) -> AsyncIterator[Made]:
    """Give every file of a copy, the start page last.

    Parameters
    ----------
    app
        The application; it need not be running.
    house
        What its handlers are given.
    names
        Which name each address has; kept from one copy to the next.
    skip
        Which pages need not be made anew; what they lead to is not found through them.
    """
    notice = _notice(house)
    for name in house.assets.names():
        asset = house.assets.get(name)
        if asset is not None and name != "live.js":
            yield Made(f"static/{name}", asset.content)
    found = await _found(app, skip)

    def named(path: str) -> str | None:
        copied = path in found or skip(path) or path.startswith("/static/")
        return names.of(path) if copied else None

    # The start page last: whoever follows it finds everything it leads to.
    for path in sorted(found, key=lambda path: path == "/"):
        content, is_page = found[path]
        if is_page:
            content = rewritten(content.decode(), named, notice).encode()
        yield Made(names.of(path), content, path.startswith(STEADY))


async def _found(app: ASGIApp, skip: Callable[[str], bool]) -> dict[str, tuple[bytes, bool]]:
    """Return what every copied page says, by its path; begun at the start page."""
    found: dict[str, tuple[bytes, bool]] = {}
    waiting = list(_PAGES)
    seen = set(waiting)
    while waiting and len(found) < _MOST_PAGES:
        path = waiting.pop(0)
        if skip(path):
            continue
        status, media_type, content = await _asked(app, path)
        # Whoever waits for the server comes in between two pages.
        await asyncio.sleep(_BREATH_S)
        if status != 200:
            continue
        is_page = media_type.startswith("text/html")
        found[path] = (content, is_page)
        for link in _LINK.findall(content.decode()) if is_page else ():
            beyond = unquote(urlsplit(unescape(link)).path)
            if beyond not in seen and beyond.startswith(_BELOW):
                seen.add(beyond)
                waiting.append(beyond)
    return found


async def _asked(app: ASGIApp, path: str) -> tuple[int, str, bytes]:
    """Return status, media type and body of what the application answers to a stranger."""
    scope: dict[str, Any] = {
        "type": "http",
        "asgi": {"version": "3.0", "spec_version": "2.3"},
        "http_version": "1.1",
        "method": "GET",
        "scheme": "http",
        "path": path,
        "raw_path": quote(path).encode(),
        "root_path": "",
        "query_string": b"",
        "headers": [(b"host", b"localhost"), (b"accept", b"text/html")],
        "client": _STRANGER,
        "server": ("localhost", 80),
        "state": {},
        "extensions": {},
    }
    answer: dict[str, Any] = {"status": 500, "type": "", "body": []}

    async def receive() -> Any:  # noqa: ANN401 - as ASGI has it
        return {"type": "http.request", "body": b"", "more_body": False}

    async def send(message: Any) -> None:  # noqa: ANN401 - as ASGI has it
        if message["type"] == "http.response.start":
            answer["status"] = message["status"]
            headers = {name.lower(): value for name, value in message["headers"]}
            answer["type"] = headers.get(b"content-type", b"").decode()
        elif message["type"] == "http.response.body":
            answer["body"].append(message.get("body", b""))

    await app(scope, receive, send)  # type: ignore[arg-type]
    return answer["status"], answer["type"], b"".join(answer["body"])


def _notice(house: House) -> str:
    """Return the line that says what this is and when it was made."""
    now_ms = house.book.now_ms()
    zone = page_head(house.state).zone
    at = wording.clock(from_milliseconds(now_ms - now_ms % 60_000), zone)
    said = house.words.gettext("Copy as of {time}. It is made anew while the event runs.")
    if house.settings.kept:
        at = wall_time(from_milliseconds(house.state.at_ms), zone).date().isoformat()
        said = house.words.gettext("Kept for later, as of {time}.")
    return f'<p class="copy-made" role="note">{escape(said.format(time=at))}</p>\n'
