"""The shelf: the page that `callroom` alone opens, a list of books on this machine."""

import asyncio
import hmac
import secrets
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
import msgspec
from litestar import Litestar, MediaType, Request, Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.bootstrap.language import Language, accepted
from callroom.bootstrap.shelf import SUFFIX, BookOnShelf, books_on
from callroom.model import CallroomError
from callroom.views.sentences import sentence
from callroom.web.assets import Assets
from callroom.web.envelope import POLICY
from callroom.web.hosts import is_private

Asked = Request[Any, Any, Any]

# Opening a book leads from this page's form to that book's own server on this machine.
SHELF_POLICY = POLICY.replace("form-action 'self'", "form-action 'self' http://127.0.0.1:*")
_LONGEST_NAME = 80
_NO_NAME = frozenset('<>:"/\\|?*')


class ShelfPorts(msgspec.Struct, frozen=True, kw_only=True):
    """What the shelf needs: its folder, and how a book is made, filled and served.

    `serve` starts a server for a book, unless one has it already, and returns its address.
    """

    folder: Path
    make: Callable[[Path], None]
    make_demo: Callable[[Path], None]
    serve: Callable[[Path], str]


class ShelfPage(msgspec.Struct, frozen=True, kw_only=True):
    """What the template is given as ``page``."""

    folder: str
    books: tuple[BookOnShelf, ...]
    form_token: str
    told: str


class NotFromHere(CallroomError):
    """Only a browser on this machine may use the shelf."""


class _Shelf:
    def __init__(self, ports: ShelfPorts) -> None:
        self.ports = ports
        self._token = secrets.token_urlsafe(24)
        self.assets = Assets()

    def page(self, request: Asked, told: str = "", status: int = 200) -> Response[Any]:
        ports, language = self.ports, _language_of(request)
        page = ShelfPage(
            folder=str(ports.folder),
            books=books_on(ports.folder),
            form_token=self._token,
            told=told,
        )
        return Response(
            _template(language).render(page=page, lang=language.tag, asset=self.assets.address),
            status_code=status,
            media_type=MediaType.HTML,
            headers={"content-security-policy": SHELF_POLICY, "cache-control": "no-store"},
        )

    async def form(self, request: Asked) -> str:
        """Return the name in a posted form, if the form is this shelf's own."""
        _need_here(request)
        form = await request.form()
        if not hmac.compare_digest(str(form.get("form_token", "")), self._token):
            raise NotFromHere("web.forged")
        return str(form.get("name", "")).strip()

    def path(self, name: str) -> Path:
        """Return where a book of this name stands or would stand; refused if it is no name."""
        bad = not name or len(name) > _LONGEST_NAME or name.startswith(".")
        if bad or not name.isprintable() or _NO_NAME & set(name):
            raise CallroomError("shelf.bad_name", given=name[:_LONGEST_NAME])
        return self.ports.folder / f"{name}{SUFFIX}"


def make_shelf(ports: ShelfPorts) -> Litestar:
    """Return the application that lists the books of a folder and opens them."""
    shelf = _Shelf(ports)

    @get("/")
    async def show_books(request: Asked) -> Response[Any]:
        _need_here(request)
        return shelf.page(request)

    @post("/open", status_code=200)
    async def open_one(request: Asked) -> Response[Any]:
        path = shelf.path(await shelf.form(request))
        if not path.is_file():
            return shelf.page(request, status=404)
        return Redirect(await asyncio.to_thread(ports.serve, path), status_code=303)

    @post("/new", status_code=200)
    async def make_one(request: Asked) -> Response[Any]:
        path = shelf.path(await shelf.form(request))
        await asyncio.to_thread(ports.make, path)
        # A new book has no passphrase yet; after it come the first questions.
        address = await asyncio.to_thread(ports.serve, path)
        return Redirect(f"{address}sign-in", status_code=303)

    @post("/demo", status_code=200)
    async def make_demo(request: Asked) -> Response[Any]:
        await shelf.form(request)
        path = shelf.path("Demonstration")
        if not path.is_file():
            await asyncio.to_thread(ports.make_demo, path)
        return Redirect(await asyncio.to_thread(ports.serve, path), status_code=303)

    @get("/static/{name:path}")
    async def send_asset(name: FromPath[str]) -> Response[Any]:
        asset = shelf.assets.get(name.lstrip("/"))
        if asset is None:
            return Response("", status_code=404)
        return Response(asset.content, media_type=asset.media_type)

    def refuse(request: Asked, fault: Exception) -> Response[Any]:
        if not isinstance(fault, CallroomError):
            raise fault
        return shelf.page(
            request, sentence(fault.finding(), _language_of(request).words.gettext), 409
        )

    handlers: list[Any] = [show_books, open_one, make_one, make_demo, send_asset]
    return Litestar(
        route_handlers=handlers,
        exception_handlers={CallroomError: refuse},
        openapi_config=None,
        debug=False,
        logging_config=None,
    )


def _language_of(request: Asked) -> Language:
    return accepted(request.headers.get("accept-language", ""))


@lru_cache(maxsize=16)
def _template(language: Language) -> jinja2.Template:
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("callroom.web"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        extensions=["jinja2.ext.i18n"],
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.install_gettext_translations(language.words, newstyle=True)  # type: ignore[attr-defined]
    return environment.get_template("shelf.html")


def _need_here(request: Asked) -> None:
    peer = request.client.host if request.client is not None else ""
    site = request.headers.get("sec-fetch-site", "none")
    if not is_private("http", request.headers.get("host", ""), peer):
        raise NotFromHere("web.needs_privacy")
    if request.method == "POST" and site not in {"same-origin", "none"}:
        raise NotFromHere("web.other_origin")


__all__ = ["ShelfPorts", "make_shelf"]
