"""Serves public standings: ``python board_server.py whole|raw BOOK``; says its port.

``whole`` is the application; ``raw`` sends the bytes that it would, and does nothing else.
"""

import asyncio
import json
import socket
import sys
from collections.abc import Awaitable, Callable, MutableMapping
from pathlib import Path
from typing import Any

import httpx
import uvicorn

from callroom.bootstrap.books import open_book
from callroom.web.app import make_app
from callroom.web.settings import WebSettings

BOARD = "/standings/open"
Message = MutableMapping[str, Any]


async def page_of(site: Any) -> httpx.Response:  # noqa: ANN401 - an ASGI application
    """Return the page as the application answers it."""
    transport = httpx.ASGITransport(app=site)
    async with httpx.AsyncClient(transport=transport, base_url="http://localhost") as client:
        return await client.get(BOARD, headers={"cookie": "callroom-8000=visit-bench"})


class Raw:
    """Sends one answer to everyone."""

    def __init__(self, page: httpx.Response) -> None:
        """Keep the answer as bytes."""
        self._headers = [
            (name.encode(), value.encode()) for name, value in page.headers.multi_items()
        ]
        self._body = page.content

    async def __call__(
        self,
        scope: Message,
        _receive: Callable[[], Awaitable[Message]],
        send: Callable[[Message], Awaitable[None]],
    ) -> None:
        """Answer."""
        if scope["type"] != "http":
            return
        await send({"type": "http.response.start", "status": 200, "headers": self._headers})
        await send({"type": "http.response.body", "body": self._body, "more_body": False})


def main() -> None:
    """Serve until killed."""
    mode, path = sys.argv[1:]
    book = open_book(Path(path), writing=False)
    site = make_app(book, WebSettings(port=8000))
    app: Any = site if mode == "whole" else Raw(asyncio.run(page_of(site)))
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    listening.listen(1024)  # whoever connects before it serves waits
    print(json.dumps({"port": listening.getsockname()[1]}), flush=True)
    config = uvicorn.Config(
        app, lifespan="on" if mode == "whole" else "off", log_level="warning", access_log=False
    )
    uvicorn.Server(config).run(sockets=[listening])


if __name__ == "__main__":
    main()
