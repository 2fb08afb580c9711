"""Keeps a folder of public pages as the book is, for as long as the book is served."""

import asyncio
import contextlib
import logging
import time
from collections.abc import AsyncGenerator

from litestar.types import ASGIApp

from callroom.web.copies.folder import CopyFolder
from callroom.web.copies.names import Names
from callroom.web.copies.pages import STEADY, public_files
from callroom.web.house import House

LEAST_GAP_S = 4.0
"""From the end of one copy to the next. A copy may take a quarter of the time, never more."""

MOST_AGE_S = 60.0
"""A copy is made anew this often though nothing has changed, so that it says it is alive."""

_SHARE = 3
_LOOK_S = 0.5

_log = logging.getLogger("callroom.web")


class Copier:
    """Writes the public pages of a running application to a folder.

    A folder that cannot be written (a stick pulled out, a share that is gone) is tried again;
    the server never waits for it: pages are made between two requests, files written in a
    thread.
    """

    def __init__(self, app: ASGIApp, house: House, folder: CopyFolder) -> None:
        """Copy what `app`, whose handlers are given `house`, shows to strangers."""
        self._app = app
        self._house = house
        self._folder = folder
        self._names = Names()
        self._steady_names: set[str] = set()
        self._steady: tuple[object, ...] | None = None
        self._failing = False

    @contextlib.asynccontextmanager
    async def running(self) -> AsyncGenerator[None, None]:
        """Copy for as long as the application runs."""
        task = asyncio.create_task(self._run())
        try:
            yield
        finally:
            task.cancel()
            await asyncio.gather(task, return_exceptions=True)

    async def copy(self) -> int:
        """Write one copy; returns how many files were new or had changed.

        Raises
        ------
        OSError
            If the folder cannot be written.
        """
        steady = _steady_parts(self._house)
        fresh = self._steady is not None and _same(steady, self._steady)
        written = 0
        made: set[str] = set()
        steady_names = self._steady_names if fresh else set()
        async for one in public_files(
            self._app,
            self._house,
            self._names,
            skip=lambda path: fresh and path.startswith(STEADY),
        ):
            written += await asyncio.to_thread(self._folder.write, one)
            (steady_names if one.steady else made).add(one.name)
        await asyncio.to_thread(self._folder.keep_only, made | steady_names)
        self._steady, self._steady_names = steady, steady_names
        return written

    async def _run(self) -> None:
        copied_seq, copied_at, gap_s = -1, 0.0, 0.0
        while True:
            await asyncio.sleep(max(gap_s, _LOOK_S))
            began, seq = time.monotonic(), self._house.state.seq
            if seq == copied_seq and began - copied_at < MOST_AGE_S:
                gap_s = _LOOK_S
                continue
            await self._try()
            copied_seq, copied_at = seq, time.monotonic()
            gap_s = max(LEAST_GAP_S, _SHARE * (copied_at - began))

    async def _try(self) -> None:
        try:
            await self.copy()
        except OSError as fault:
            if not self._failing:
                _log.warning("the copy of the public pages cannot be written: %s", fault)
            self._failing = True
        except Exception:  # noqa: BLE001 - whatever it was, the next copy may succeed
            _log.exception("copying the public pages failed")
        else:
            self._failing = False


def _steady_parts(house: House) -> tuple[object, ...]:
    """Return what the steady pages are made from."""
    state = house.state
    return (state.event, state.rulings, state.amendments, state.rehearsal, house.released())


def _same(before: tuple[object, ...], now: tuple[object, ...]) -> bool:
    *earlier, seen_before = before
    *parts, seen = now
    return seen == seen_before and all(a is b for a, b in zip(earlier, parts, strict=True))
