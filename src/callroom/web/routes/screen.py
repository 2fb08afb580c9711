"""The hall screen and the announcer's page: open to everyone; the director sets the screen."""

from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions import day
from callroom.model import SCREEN_PARTS, Screen, ScreenPart
from callroom.model.screen import LEAST_EACH_S, MOST_EACH_S
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, need_director, new_key
from callroom.web.live_text import LiveText
from callroom.web.pages import Page
from callroom.web.voice import Told

_MOST_LINES = 60
_LONGEST_LINE = 60
_LONGEST_MESSAGE = 120


class ScreenPage(Page, frozen=True, kw_only=True):
    """``/screen``: every turn of the hall screen."""

    template: ClassVar[str] = "screen.html"
    screen: LiveText


class AnnouncerPage(Page, frozen=True, kw_only=True):
    """``/announcer``: what is said into the microphone."""

    template: ClassVar[str] = "announcer.html"
    announcer: LiveText


class ScreenSettingPage(Page, frozen=True, kw_only=True):
    """``/director/screen``: what the hall screen shows, how long, and whom it thanks."""

    template: ClassVar[str] = "screen_setting.html"
    parts: tuple[ScreenPart, ...]
    screen: Screen
    least_s: int
    most_s: int
    told: Told | None
    key: str


@get("/screen")
async def show_screen(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What is on, called and next, the standings and whom to thank, in turn."""
    return house.show(request, visitor, ScreenPage(screen=await house.live("screen")))


@get("/announcer")
async def show_announcer(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Who is on and next, how their names are said, and who leads."""
    page = AnnouncerPage(announcer=await house.live("announcer"))
    return house.show(request, visitor, page)


@get("/director/screen")
async def show_setting(
    request: Asked, house: InHouse, visitor: ByVisitor, saved: FromQuery[str] = ""
) -> Response[str]:
    """Choose what the hall screen shows."""
    need_director(visitor)
    told = Told(text=house.words.gettext("The hall screen shows it now.")) if saved else None
    page = ScreenSettingPage(
        parts=SCREEN_PARTS,
        screen=house.state.screen,
        least_s=LEAST_EACH_S,
        most_s=MOST_EACH_S,
        told=told,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/director/screen", status_code=200)
async def keep_setting(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Keep what the hall screen shows; every screen follows at once."""
    need_director(visitor)
    if visitor.actor is not None:
        asked = day.set_screen(_typed(form, house.state.screen))
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/director/screen?saved=yes", status_code=303)


def _typed(form: Posted, before: Screen) -> Screen:
    lines = (line.strip()[:_LONGEST_LINE] for line in form.text("thanks").splitlines())
    each_s = form.whole("each_s")
    return msgspec.structs.replace(
        before,
        parts=tuple(part for part in SCREEN_PARTS if form.ticked(f"show-{part}")),
        each_s=before.each_s if each_s is None else each_s,
        message=form.text("message")[:_LONGEST_MESSAGE],
        thanks=tuple(line for line in lines if line)[:_MOST_LINES],
    )


HANDLERS = (show_screen, show_announcer, show_setting, keep_setting)
