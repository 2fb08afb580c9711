"""The run sheet: the day in order of time, by person and by post, live and on paper."""

import asyncio
from collections.abc import Mapping
from typing import ClassVar

from litestar import Response, get
from litestar.params import FromQuery

from callroom.actions.day_now import day_now
from callroom.model import from_milliseconds
from callroom.model.person import Person
from callroom.paper import run_sheet_pdf
from callroom.views.day_times import day_times
from callroom.views.page_head import page_head
from callroom.views.rota_day import name_of
from callroom.views.run_sheet import RunSheet, for_person, for_post, run_sheet
from callroom.views.run_wording import line_text, people_text
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, need_director, need_event
from callroom.web.pages import Page

_LONGEST_ID = 80


class RunSheetPage(Page, frozen=True, kw_only=True):
    """``/director/run-sheet``: the lines shown, with what each says and who has it.

    `at_now` is the place of the line that came on last (None: none is on); `person` and `post`
    say whose lines are shown.
    """

    template: ClassVar[str] = "run_sheet.html"
    sheet: RunSheet
    texts: tuple[str, ...]
    who: tuple[str, ...]
    at_now: int | None
    late: int
    people: tuple[tuple[str, str], ...]
    posts: tuple[str, ...]
    person: str
    post: str


@get("/director/run-sheet")
async def show_run_sheet(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    person: FromQuery[str] = "",
    post: FromQuery[str] = "",
) -> Response[str]:
    """The whole day, or one person's, or one post's."""
    need_director(visitor)
    event, people = need_event(house.state), house.book.people()
    now_s = day_now(house.state, house.book.now_ms()).now_s
    whole = run_sheet(house.state, event, now_s, day_times(house.state, now_s))
    shown = _chosen(whole, person, post)
    on = [place for place, line in enumerate(shown.lines) if line.standing == "now"]
    named = ((one, name_of(one, people)) for one in whole.people)
    page = RunSheetPage(
        sheet=shown,
        texts=tuple(line_text(line, event, house.words) for line in shown.lines),
        who=tuple(
            people_text(line, people, house.words, alone=bool(person)) for line in shown.lines
        ),
        at_now=on[-1] if on else None,
        late=sum(line.expected_s is not None for line in shown.lines),
        people=tuple(sorted(named, key=lambda pair: pair[1].casefold())),
        posts=whole.posts,
        person=person[:_LONGEST_ID],
        post=post[:_LONGEST_ID],
    )
    return house.show(request, visitor, page)


def _chosen(sheet: RunSheet, person: str, post: str) -> RunSheet:
    if person:
        return for_person(sheet, person)
    return for_post(sheet, post) if post else sheet


@get("/director/run-sheet.pdf")
async def print_run_sheet(
    house: InHouse,
    visitor: ByVisitor,
    person: FromQuery[str] = "",
    post: FromQuery[str] = "",
    each: FromQuery[str] = "",
    size: FromQuery[str] = "",
) -> Response[bytes]:
    """The run sheet to print: whole, one person's, one post's, or a sheet for `each` in charge."""
    need_director(visitor)
    state, event = house.state, need_event(house.state)
    people = dict(house.book.people())
    whole = run_sheet(state, event)
    title = name_of(person, people) if person else house.words.gettext("Run sheet")
    sheets = [(title, bool(person), _chosen(whole, person, post))]
    if each:
        sheets = _each(whole, people)
    letter = size == "letter" or (not size and event.mass_unit == "lb")
    pdf = await asyncio.to_thread(
        run_sheet_pdf,
        sheets,
        event,
        page_head(state),
        people,
        size="us-letter" if letter else "a4",
        at=from_milliseconds(state.at_ms),
        at_ms=state.at_ms,
        words=house.words,
    )
    headers = {"content-disposition": 'inline; filename="run-sheet.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _each(whole: RunSheet, people: Mapping[str, Person]) -> list[tuple[str, bool, RunSheet]]:
    """Return a sheet for everybody who holds more than lanes; judges have the rota's sheets."""
    leading = dict.fromkeys(
        who.person for line in whole.lines for who in line.people if who.post != "judge"
    )
    named = sorted(leading, key=lambda one: name_of(one, people).casefold())
    sheets = [(name_of(one, people), True, for_person(whole, one)) for one in named]
    return sheets or [("", False, whole)]


HANDLERS = (show_run_sheet, print_run_sheet)
