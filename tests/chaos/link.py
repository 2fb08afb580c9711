"""A loopback proxy between one phone and the server, which refuses, resets, delays and swallows."""

import asyncio
import contextlib
import random
import socket
import struct
import threading
from collections import Counter
from typing import Literal

Weather = Literal["good", "flaky", "gone", "dead"]
# In this order, so that every fault comes in every ten connections.
_FLAKY = ("refused", "served", "reset", "slow", "swallowed", *["served", "slow"] * 2, "served")
_AT_ONCE_RESET = struct.pack("ii", 1, 0)


class Link:
    """One phone's network: `weather` is what becomes of its connections; `fates` counts them.

    Flaky: of ten connections one is refused, one is reset when the server answers, so that
    whatever was asked may have been done, one is swallowed, and two are slow. Gone: every
    connection is refused. Dead: every second one is swallowed.
    """

    def __init__(self, port: int, seed: str) -> None:
        """Listen on a free port, for the server on `port`."""
        self._to = port
        self._chance = random.Random(seed)
        self._turns = 0
        self._open: set[asyncio.StreamWriter] = set()
        self._weather: Weather = "good"
        self.fates: Counter[str] = Counter()
        self._loop = asyncio.new_event_loop()
        threading.Thread(target=self._loop.run_forever, daemon=True).start()
        serving = asyncio.run_coroutine_threadsafe(
            asyncio.start_server(self._connected, "127.0.0.1", 0), self._loop
        ).result()
        self._server = serving
        self.url = f"http://127.0.0.1:{serving.sockets[0].getsockname()[1]}"

    def turn(self, weather: Weather) -> None:
        """Change the weather; whatever is connected is cut off."""
        asyncio.run_coroutine_threadsafe(self._turned(weather), self._loop).result()

    def close(self) -> None:
        """Stop listening and cut everything off."""
        self._server.close()
        self.turn("gone")
        self._loop.call_soon_threadsafe(self._loop.stop)

    async def _turned(self, weather: Weather) -> None:
        self._weather = weather
        for writer in [*self._open]:
            _reset(writer)

    def _fate(self) -> str:
        if self._weather == "good":
            return "served"
        if self._weather == "gone":
            return "refused"
        self._turns += 1
        if self._weather == "dead":
            return ("refused", "swallowed")[self._turns % 2]
        return _FLAKY[self._turns % len(_FLAKY)]

    async def _connected(self, phone: asyncio.StreamReader, back: asyncio.StreamWriter) -> None:
        fate = self._fate()
        self.fates[fate] += 1
        self._open.add(back)
        with contextlib.suppress(OSError):
            if fate == "slow":
                await asyncio.sleep(self._chance.uniform(0.2, 0.6))
            if fate == "swallowed":
                while await phone.read(65_536):
                    pass
            elif fate != "refused":
                await self._carry(phone, back, answers=fate != "reset")
        _reset(back)
        self._open.discard(back)

    async def _carry(
        self, phone: asyncio.StreamReader, back: asyncio.StreamWriter, *, answers: bool
    ) -> None:
        from_server, to_server = await asyncio.open_connection("127.0.0.1", self._to)
        self._open.add(to_server)
        asking = asyncio.ensure_future(_pour(phone, to_server))
        try:
            if answers:
                await _pour(from_server, back)
            else:
                await from_server.read(1)
        finally:
            asking.cancel()
            _reset(to_server)
            self._open.discard(to_server)


async def _pour(source: asyncio.StreamReader, target: asyncio.StreamWriter) -> None:
    with contextlib.suppress(OSError):
        while some := await source.read(65_536):
            target.write(some)
            await target.drain()


def _reset(writer: asyncio.StreamWriter) -> None:
    plug = writer.get_extra_info("socket")
    with contextlib.suppress(OSError):
        plug.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, _AT_ONCE_RESET)
    writer.transport.abort()
