"""The application: every address, what each handler is given, how refusals are answered."""

from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager

from litestar import Litestar
from litestar.di import Provide
from litestar.types import ASGIApp, Receive, Scope, Send

from callroom.web.assets import Assets
from callroom.web.envelope import Envelope
from callroom.web.house import Asked, House, answer_fault, posted_form
from callroom.web.ports import Book
from callroom.web.routes import HANDLERS
from callroom.web.settings import WebSettings
from callroom.web.visitor import Visitor, visitor_of

# The largest thing a page or a pad sends is a score with its lifts; a plan comes by command.
MOST_BODY_BYTES = 4 * 1024 * 1024


def make_app(book: Book, settings: WebSettings | None = None) -> Litestar:
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
    chosen = settings or WebSettings()
    house = House(book, chosen, Assets())

    def hand_house() -> House:
        return house

    def hand_visitor(request: Asked) -> Visitor:
        return visitor_of(request, book, chosen)

    @asynccontextmanager
    async def running(_app: Litestar) -> AsyncGenerator[None, None]:
        async with house.hub.running():
            yield

    class Sealed:
        """The envelope as middleware of Litestar."""

        def __init__(self, app: ASGIApp) -> None:
            self._envelope = Envelope(app, book, chosen)

        async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
            await self._envelope(scope, receive, send)

    app = Litestar(
        route_handlers=list(HANDLERS),
        dependencies={
            "house": Provide(hand_house, sync_to_thread=False),
            "visitor": Provide(hand_visitor, sync_to_thread=False),
            "form": Provide(posted_form),
        },
        exception_handlers={Exception: answer_fault},
        lifespan=[running],
        middleware=[],
        openapi_config=None,
        request_max_body_size=MOST_BODY_BYTES,
        debug=False,
        # Whoever runs the server decides what is logged and where.
        logging_config=None,
    )
    app.state.house = house
    app.asgi_handler = Sealed(app.asgi_handler)
    return app
