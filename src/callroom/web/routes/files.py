"""What the director takes away: results, calendars, sheets to print; and whether all is sound."""

import asyncio
import io
import tempfile
import zipfile
from pathlib import Path
from typing import Any

from litestar import Response, get, post
from litestar.params import FromQuery

from callroom.bootstrap.books import verify_book
from callroom.bootstrap.exporting import export_files
from callroom.bootstrap.places import Place
from callroom.bootstrap.speech import speech_for
from callroom.model import from_milliseconds
from callroom.paper import PaperSize, print_pack, role_cards_pdf
from callroom.views.role_cards import role_cards
from callroom.views.sheets import sheets
from callroom.web.contexts import FilesPage
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director
from callroom.web.voice import Told

SIZES: dict[str, PaperSize] = {"a4": "a4", "letter": "us-letter"}


@get("/director/files")
async def show_files(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What can be taken away."""
    need_director(visitor)
    return house.show(request, visitor, FilesPage(told=None, findings=()))


@post("/director/files", status_code=200)
async def verify_now(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[str]:
    """Read every entry of the book and say whether all is as it should be."""
    need_director(visitor)
    del form  # read only to see that it came from our own page
    findings = tuple(await asyncio.to_thread(verify_book, house.book.path))
    sound = house.words.gettext("Every entry of this book can be read, adds up and is sealed.")
    told = None if findings else Told(text=sound)
    return house.show(request, visitor, FilesPage(told=told, findings=findings))


@get("/director/files/results.zip")
async def send_results(
    house: InHouse, visitor: ByVisitor, share: FromQuery[str] = ""
) -> Response[bytes]:
    """Results, calendars and the whole book; to `share`, without anything personal."""
    need_director(visitor)
    path, leave_out = house.book.path, bool(share)
    return _zip("results", await asyncio.to_thread(_results, path, share=leave_out))


@get("/director/files/sheets.zip")
async def send_sheets(
    house: InHouse, visitor: ByVisitor, size: FromQuery[str] = "a4"
) -> Response[bytes]:
    """Every sheet of the day as PDF."""
    need_director(visitor)
    paper = SIZES.get(size, "a4")
    return _zip("sheets", await asyncio.to_thread(_sheets, house, paper))


@get("/director/files/roles.pdf")
async def send_roles(
    house: InHouse, visitor: ByVisitor, size: FromQuery[str] = "a4"
) -> Response[bytes]:
    """A card for each role: what to do, and whom to ask; also before there is a plan."""
    need_director(visitor)
    paper = SIZES.get(size, "a4")
    pdf = await asyncio.to_thread(_roles, house, paper)
    headers = {"content-disposition": 'inline; filename="roles.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _roles(house: House, size: PaperSize) -> bytes:
    state = house.state
    return role_cards_pdf(
        role_cards(state, house.book.people()),
        size=size,
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )


def _results(place: Place, *, share: bool) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        export_files(place, Path(folder), share=share)
        return _packed(Path(folder))


def _sheets(house: House, size: PaperSize) -> bytes:
    state = house.state
    with tempfile.TemporaryDirectory() as folder:
        print_pack(
            sheets(state, people=house.book.people()),
            Path(folder),
            size=size,
            speech=speech_for(state),
        )
        return _packed(Path(folder))


def _packed(folder: Path) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(path for path in folder.rglob("*") if path.is_file()):
            archive.write(path, path.relative_to(folder).as_posix())
    return packed.getvalue()


def _zip(name: str, content: bytes) -> Response[bytes]:
    headers: dict[str, Any] = {"content-disposition": f'attachment; filename="{name}.zip"'}
    return Response(content, media_type="application/zip", headers=headers)


HANDLERS = (show_files, verify_now, send_results, send_sheets, send_roles)
