"""The entry sheet to print and to mail out: by hand as PDF, or as a workbook to read back."""

import asyncio
from collections.abc import Mapping

from litestar import Response, get
from litestar.params import FromPath, FromQuery

from callroom.bootstrap.entry_template import entry_template
from callroom.model import from_milliseconds
from callroom.paper import PaperSize
from callroom.paper.entry_sheet import entry_sheet_pdf
from callroom.views.entry_sheet import entry_sheet
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import need_director, need_event

_SIZES: Mapping[str, PaperSize] = {"a4": "a4", "letter": "us-letter"}
_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@get("/director/entering/{division:str}/sheet.pdf")
async def print_sheet(
    house: InHouse, visitor: ByVisitor, division: FromPath[str], size: FromQuery[str] = "a4"
) -> Response[bytes]:
    """The sheet of a division, to be filled in by hand."""
    need_director(visitor)
    view = entry_sheet(house.state, division)
    at = from_milliseconds(house.book.now_ms())
    words = house.words
    made = await asyncio.to_thread(
        entry_sheet_pdf, view, size=_SIZES.get(size, "a4"), at=at, words=words
    )
    return Response(made, media_type="application/pdf")


@get("/director/entering/{division:str}/sheet.xlsx")
async def take_workbook(
    house: InHouse, visitor: ByVisitor, division: FromPath[str]
) -> Response[bytes]:
    """The workbook of a division, with a row for each athlete."""
    need_director(visitor)
    state = house.state
    made = await asyncio.to_thread(
        entry_template, need_event(state), division, state.entering, house.words
    )
    headers = {"content-disposition": 'attachment; filename="entry.xlsx"'}
    return Response(made, media_type=_XLSX, headers=headers)


HANDLERS = (print_sheet, take_workbook)
