"""The application: every address, what each handler is given, how refusals are answered."""

from contextlib import AbstractAsyncContextManager, nullcontext
from functools import cache
from pathlib import Path
from typing import cast

from litestar import Litestar
from litestar.di import Provide
from litestar.types import LifeSpanReceive, LifeSpanSend, Receive, Scope, Send

from callroom.web.assets import Assets
from callroom.web.compressing import Compressing
from callroom.web.copies import Copier, CopyFolder
from callroom.web.envelope import Envelope
from callroom.web.house import House, answer_fault, asking, house_of, posted_form
from callroom.web.ports import Book
from callroom.web.remembered import Remembered
from callroom.web.routes import HANDLERS
from callroom.web.seen import by_printed
from callroom.web.settings import WebSettings

# The largest thing a page or a pad sends is a score with its lifts; a plan comes by command.
MOST_BODY_BYTES = 4 * 1024 * 1024


class Site:
    """The application that serves one book: `house` is what its handlers are given."""

    def __init__(self, house: House) -> None:
        """Answer for the book of `house`."""
        self.house = house
        app = Remembered(addresses(), house.book, house.settings)
        self._sealed = Compressing(Envelope(app, house.book, house.settings))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or live as long as the server does."""
        if cast("str", scope["type"]) == "lifespan":
            await self._live(cast("LifeSpanReceive", receive), cast("LifeSpanSend", send))
            return
        scope.setdefault("state", {})["house"] = self.house
        self._note(scope)
        await self._sealed(scope, receive, send)

    def _note(self, scope: Scope) -> None:
        host = next((value for name, value in scope["headers"] if name == b"host"), b"")
        peer = scope.get("client")
        house = self.house
        if by_printed(host.decode("latin-1"), peer[0] if peer else "", house.printed):
            house.seen.printed_ms = house.book.now_ms()

    async def _live(self, receive: LifeSpanReceive, send: LifeSpanSend) -> None:
        # The addresses are shared by all sites of a process; only the hub starts and ends.
        await receive()
        self.house.letters.begin()
        async with self.house.hub.running(), self._copying():
            await send({"type": "lifespan.startup.complete"})
            await receive()
        await send({"type": "lifespan.shutdown.complete"})

    def _copying(self) -> AbstractAsyncContextManager[None]:
        folder = self.house.settings.copy_to
        if not folder:
            return nullcontext()
        return Copier(self, self.house, CopyFolder(Path(folder))).running()


def make_app(book: Book, settings: WebSettings | None = None) -> Site:
    """Return the application that serves `book`.

    Parameters
    ----------
    book
        An open book, as `callroom.bootstrap` hands it out.
    settings
        Which hosts are answered, and where phones find the server.

    Raises
    ------
    AssetsMissing
        If the browser's stylesheets and scripts were not built.
    """
    return Site(House(book, settings or WebSettings(), Assets()))


@cache
def addresses() -> Litestar:
    """Return what answers at every address; it knows no book, so one is enough for all."""
    return Litestar(
        route_handlers=list(HANDLERS),
        dependencies={
            "house": Provide(house_of, sync_to_thread=False),
            "visitor": Provide(asking, sync_to_thread=False),
            "form": Provide(posted_form),
        },
        exception_handlers={Exception: answer_fault},
        middleware=[],
        openapi_config=None,
        request_max_body_size=MOST_BODY_BYTES,
        debug=False,
        # Whoever runs the server decides what is logged and where.
        logging_config=None,
    )
