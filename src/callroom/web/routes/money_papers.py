"""What the money leaves the book as: sheets to print, and files for an accountant."""

import asyncio
from collections.abc import Callable, Mapping
from typing import Any

from litestar import Response, get
from litestar.params import FromPath, FromQuery

from callroom.bootstrap.money_files import money_files
from callroom.model import NotFound, State, from_milliseconds
from callroom.paper.giving_letters import count_sheets_pdf, letters_pdf, thanks_pdf
from callroom.paper.statements import statement_pdf
from callroom.views.count_sheet import count_sheet
from callroom.views.letters import letters, thanks
from callroom.views.statement import statement
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import need_director
from callroom.web.money.desk import people_named
from callroom.web.routes.files import SIZES

_TYPES = {"csv": "text/csv; charset=utf-8", "beancount": "text/plain; charset=utf-8"}
People = Mapping[str, str]
Draw = Callable[[State, People, dict[str, Any]], bytes]

_SHEETS: Mapping[str, Draw] = {
    "statement.pdf": lambda state, _people, look: statement_pdf(statement(state), **look),
    "letters.pdf": lambda state, people, look: letters_pdf(letters(state, people), **look),
    "thanks.pdf": lambda state, people, look: thanks_pdf(thanks(state, people), **look),
    "count-sheets.pdf": lambda state, _people, look: count_sheets_pdf(count_sheet(state), **look),
}


@get("/director/money/papers/{name:str}")
async def send_paper(
    house: InHouse, visitor: ByVisitor, name: FromPath[str], size: FromQuery[str] = "a4"
) -> Response[bytes]:
    """One sheet or file about the money."""
    need_director(visitor)
    state = house.state
    if state.event is None:
        raise NotFound("book.no_event")
    if state.budget is None:
        raise NotFound("money.no_budget")
    draw = _SHEETS.get(name)
    if draw is not None:
        look = {
            "size": SIZES.get(size, "a4"),
            "at": from_milliseconds(state.at_ms),
            "words": house.words,
        }
        people = await people_named(house)
        content = await asyncio.to_thread(draw, state, people, look)
        return _sent(content, name, "application/pdf")
    files = money_files(state, house.words)
    if name not in files:
        raise NotFound("web.no_page")
    return _sent(files[name], name, _TYPES[name.rpartition(".")[2]])


def _sent(content: bytes, name: str, media_type: str) -> Response[bytes]:
    headers = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type=media_type, headers=headers)


HANDLERS = (send_paper,)
