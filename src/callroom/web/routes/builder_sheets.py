"""A workout that is being built, on paper: its card and its standards, for one division."""

import asyncio
from typing import Any

from litestar import Response, get
from litestar.params import FromPath, FromQuery

from callroom.model import NotFound, State, from_milliseconds
from callroom.paper.samples import (
    sample_card_pdf,
    sample_card_svg,
    standards_pdf,
    standards_svg,
)
from callroom.paper.typesetting import PaperSize
from callroom.views.guide_text import guide_text
from callroom.views.masthead import masthead_of
from callroom.views.samples import sample_cards, standards_of
from callroom.views.work_wording import Speech
from callroom.web.builder.preview import read_draft
from callroom.web.errors import Unreadable
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import need_director, need_event
from callroom.web.routes.builder import draft_of
from callroom.web.routes.files import SIZES

SHEETS = ("card.pdf", "card.svg", "standards.pdf", "standards.svg")
_MEDIA = {"pdf": "application/pdf", "svg": "image/svg+xml"}


@get("/director/workouts/{workout_id:str}/sheets/{sheet:str}")
async def send_sheet(
    house: InHouse,
    visitor: ByVisitor,
    workout_id: FromPath[str],
    sheet: FromPath[str],
    division: FromQuery[str],
    size: FromQuery[str] = "a4",
) -> Response[bytes]:
    """A sheet of the draft as it is kept, to print or as a picture of its first page."""
    need_director(visitor)
    if sheet not in SHEETS:
        raise NotFound("web.no_page")
    preview = read_draft(house.state, need_event(house.state), draft_of(house, workout_id).root)
    if any(fault.finding.severity == "error" for fault in preview.faults):
        raise Unreadable("draft.not_sound")
    speech = house.voice(preview.state).speech
    paper = SIZES.get(size, "a4")
    content = await asyncio.to_thread(
        _drawn, preview.state, workout_id, division, sheet, paper, speech
    )
    name = f"{workout_id}-{division}-{sheet}"
    headers: dict[str, Any] = {"content-disposition": f'inline; filename="{name}"'}
    return Response(content, media_type=_MEDIA[sheet[-3:]], headers=headers)


def _drawn(
    state: State, workout_id: str, division: str, sheet: str, size: PaperSize, speech: Speech
) -> bytes:
    at = from_milliseconds(state.at_ms)
    if sheet.startswith("card"):
        view = sample_cards(state, workout_id, division)
        if sheet.endswith("svg"):
            return sample_card_svg(view, size=size, speech=speech).encode()
        return sample_card_pdf(view, size=size, at=at, speech=speech)
    text = guide_text(standards_of(state, workout_id, division), speech)
    head = masthead_of(state)
    if sheet.endswith("svg"):
        return standards_svg(text, head, size=size, speech=speech).encode()
    return standards_pdf(text, head, size=size, at=at, speech=speech)


HANDLERS = (send_sheet,)
