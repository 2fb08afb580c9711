"""A server that tells many streams one frame: ``python fanout_server.py hub|bare BOOK``.

Each line of standard input, the size of a frame in bytes, makes one frame that ends in its
number; the answer is the moment the telling began [ns, monotonic].
"""

import asyncio
import json
import socket
import sys
import threading
import time
from pathlib import Path

import uvicorn

from callroom.bootstrap.books import open_book
from callroom.model import State
from callroom.web.app import make_app
from callroom.web.routes import live


class Drawing:
    """Draws a frame of the size that was asked for, as often as it is asked."""

    def __init__(self) -> None:
        """Begin with a small frame."""
        self.size = 100
        self.number = 0
        self.began_ns = 0
        self.drawn = threading.Event()

    def text(self) -> str:
        """Return the frame: filled up to its size, with its number at the end."""
        end = f" end-{self.number}."
        return "x" * (self.size - len(end)) + end

    def draw(self, _name: str, _state: State, _now_ms: int) -> str:
        """Draw for the hub."""
        text = self.text()
        self.began_ns = time.monotonic_ns()
        self.drawn.set()
        return text

    def clock_mark(self, _state: State, _now_ms: int) -> object:
        """Every frame is as if the time had brought it."""
        return self.number


def main() -> None:
    """Serve until standard input ends."""
    mode, path = sys.argv[1:]
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    listening.listen(4096)
    print(json.dumps({"port": listening.getsockname()[1]}), flush=True)
    if mode == "hub":
        hub(Path(path), listening)
    else:
        asyncio.run(bare(listening))


def hub(path: Path, listening: socket.socket) -> None:
    """Serve by the real application, its topics drawn here."""
    live.MOST_STREAMS = 10_000  # type: ignore[attr-defined]
    book = open_book(path)
    site = make_app(book)
    drawing = Drawing()
    site.house.hub._drawing = drawing  # noqa: SLF001 - what is told is not what is measured
    config = uvicorn.Config(site, lifespan="on", log_level="warning", access_log=False)
    server = uvicorn.Server(config)
    threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True).start()
    for line in sys.stdin:
        drawing.drawn.clear()
        drawing.size, drawing.number = int(line), drawing.number + 1
        site.house.hub.nudge()
        drawing.drawn.wait()
        print(drawing.began_ns, flush=True)


async def bare(listening: socket.socket) -> None:
    """Write to every connection from one loop, with nothing in between."""
    connections: list[asyncio.Transport] = []

    class Plain(asyncio.Protocol):
        def connection_made(self, transport: asyncio.BaseTransport) -> None:
            connections.append(transport)  # type: ignore[arg-type]

        def data_received(self, _data: bytes) -> None:
            connections[-1].write(b"HTTP/1.1 200 OK\r\n\r\n")

    loop = asyncio.get_running_loop()
    await loop.create_server(Plain, sock=listening)
    drawing = Drawing()
    while line := await asyncio.to_thread(sys.stdin.readline):
        drawing.size, drawing.number = int(line), drawing.number + 1
        frame = f"id: 1\ndata: {drawing.text()}\n\n".encode()
        began_ns = time.monotonic_ns()
        for connection in connections:
            connection.write(frame)
        print(began_ns, flush=True)


if __name__ == "__main__":
    main()
