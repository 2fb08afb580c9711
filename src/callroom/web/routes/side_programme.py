"""The side programme: what happens beside the heats, for the director and for everybody."""

from collections.abc import Iterable, Mapping
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions import ground as ask_ground
from callroom.actions.request import Request
from callroom.model import BadInput, Finding
from callroom.model.side_programme import SIDE_KINDS, SideItem, SideKind
from callroom.views import rota_wording
from callroom.views.rota_day import name_of
from callroom.views.side_programme import (
    SideLine,
    SideTime,
    side_findings,
    side_lines,
    side_times,
)
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.forms.side import SPANS, days_of, read_side
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.voice import Told


class ProgrammePage(Page, frozen=True, kw_only=True):
    """``/programme``: everything public of the side programme, in order of time."""

    template: ClassVar[str] = "programme.html"
    times: tuple[SideTime, ...]


class SideProgrammePage(Page, frozen=True, kw_only=True):
    """``/director/side-programme``: every thing, what does not go, and a form for one.

    `changed` is the thing in the form (None: a new one); `typed` what was typed into a form
    that was refused. `spots` and `people` are pairs of an id and a name.
    """

    template: ClassVar[str] = "side_programme.html"
    lines: tuple[SideLine, ...]
    wrong: tuple[str, ...]
    changed: SideItem | None
    typed: Mapping[str, str]
    faults: tuple[Finding, ...]
    kinds: tuple[SideKind, ...]
    spots: tuple[tuple[str, str], ...]
    people: tuple[tuple[str, str], ...]
    floors: tuple[tuple[str, str], ...]
    span_rows: int
    days: int
    start_s: int
    told: Told | None
    key: str


@get("/programme")
async def show_programme(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What happens beside the heats, for everybody."""
    return house.show(request, visitor, ProgrammePage(times=side_times(house.state)))


@get("/director/side-programme")
async def show_side_programme(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    change: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """The side programme; `change` names the thing to be changed in the form."""
    need_director(visitor)
    said = {
        "kept": house.words.gettext("It is kept."),
        "dropped": house.words.gettext("It is taken out."),
        "pinned": house.words.gettext(
            "The floor is kept free from now on. The plan in force is as it was: look for a plan "
            "again."
        ),
    }.get(done)
    page = _page(house, change, told=Told(text=said) if said else None)
    return house.show(request, visitor, page)


@post("/director/side-programme", status_code=200)
async def change_side_programme(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Keep a thing, take it out, or keep its floors free."""
    need_director(visitor)
    deed = form.text("do")
    try:
        asked = _asked(house, deed, form)
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except BadInput as fault:
        page = _page(house, form.text("id"), typed=form.texts, faults=findings_of(fault))
        return house.show(request, visitor, page, 422)
    done = {"keep": "kept", "drop": "dropped"}.get(deed, "pinned")
    return Redirect(f"/director/side-programme?done={done}", status_code=303)


def _asked(house: House, deed: str, form: Posted) -> Request:
    if deed == "keep":
        return ask_ground.set_side(read_side(form, house.state, need_event(house.state)))
    if deed == "drop":
        return ask_ground.drop_side(form.text("id"))
    if deed == "pin":
        return ask_ground.keep_floor_free(house.state, form.text("id"))
    raise Unreadable("web.unknown_button", given=deed[:80])


def _page(
    house: House,
    change: str,
    *,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
    told: Told | None = None,
) -> SideProgrammePage:
    event, state, people = need_event(house.state), house.state, house.book.people()
    named = ((person, name_of(person, people)) for person in state.crew)
    return SideProgrammePage(
        lines=side_lines(state, event, people),
        wrong=_said(house, side_findings(state, event)),
        changed=state.side.get(change),
        typed=typed or {},
        faults=faults,
        kinds=SIDE_KINDS,
        spots=tuple((spot.id, spot.name) for spot in state.ground.spots),
        people=tuple(sorted(named, key=lambda pair: pair[1].casefold())),
        floors=tuple((floor.id, floor.name) for floor in event.floors),
        span_rows=SPANS,
        days=days_of(event),
        start_s=event.start_s,
        told=told,
        key=new_key(),
    )


def _said(house: House, findings: Iterable[Finding]) -> tuple[str, ...]:
    """Return findings as sentences, with people and posts by name."""
    voice, people = house.voice(house.state), house.book.people()
    said = []
    for one in findings:
        facts = dict(one.facts)
        if "person" in facts:
            facts["person"] = name_of(str(facts["person"]), people)
        if "post" in facts:
            facts["post"] = rota_wording.post(str(facts["post"]), house.words)
        said.append(voice.sentence(msgspec.structs.replace(one, facts=facts)))
    return tuple(said)


HANDLERS = (show_programme, show_side_programme, change_side_programme)
