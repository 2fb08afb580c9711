"""What the day taught, on a page and as PDF."""

import asyncio
from typing import ClassVar

from litestar import Response, get
from markupsafe import Markup

from callroom.bootstrap.calibrating import calibration_of
from callroom.bootstrap.speech import speech_for
from callroom.model import State, from_milliseconds
from callroom.paper import lessons_pdf
from callroom.views.lateness_picture import lateness_svg
from callroom.views.lessons import Lessons, lessons
from callroom.views.masthead import masthead
from callroom.views.money import money_view
from callroom.views.money_wording import money
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House, need_director
from callroom.web.pages import Page


class LessonsPage(Page, frozen=True, kw_only=True):
    """``/director/lessons``: the day in figures; `drawn` is the lateness over the day as SVG.

    `labels` is what was typed about the devices that counted.
    """

    template: ClassVar[str] = "lessons.html"
    lessons: Lessons
    drawn: Markup
    labels: dict[str, str]
    planned: bool


@get("/director/lessons")
async def show_lessons(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What the day taught, as far as it was recorded."""
    need_director(visitor)
    found = await asyncio.to_thread(lessons, house.state)
    page = LessonsPage(
        lessons=found,
        # Our own drawing of whole numbers: nothing of it was typed by anybody.
        drawn=Markup(lateness_svg(found.heats)),  # noqa: S704
        labels=dict(house.labels(one.device for one in found.judges)),
        planned=house.state.plan is not None,
    )
    return house.show(request, visitor, page)


@get("/director/lessons.pdf")
async def print_lessons(house: InHouse, visitor: ByVisitor) -> Response[bytes]:
    """The same as a report, with the forecast held against the results."""
    need_director(visitor)
    pdf = await asyncio.to_thread(_report, house, house.state)
    headers = {"content-disposition": 'inline; filename="lessons.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _report(house: House, state: State) -> bytes:
    head = masthead(state)
    told = calibration_of(state)
    pounds = state.event is not None and state.event.mass_unit == "lb"
    found = lessons(state)
    return lessons_pdf(
        found,
        told.measured,
        head,
        net_per_head=_net_per_head(house, state),
        labels=house.labels(one.device for one in found.judges),
        size="us-letter" if pounds else "a4",
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )


def _net_per_head(house: House, state: State) -> str:
    event = state.event
    athletes = sum(len(team.athletes) for team in state.teams.values())
    view = money_view(state) if state.budget is not None and event is not None else None
    if view is None or event is None or not athletes:
        return ""
    said = house.words.gettext("{net} for the cause: {each} for each athlete.")
    net = view.now.net
    whole, each = (money(one, event.currency, house.words) for one in (net, net // athletes))
    return said.format(net=whole, each=each)


HANDLERS = (show_lessons, print_lessons)
