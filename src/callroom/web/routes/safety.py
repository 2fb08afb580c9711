"""Safety: the plan, the posts' pages, the weather, incidents."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions import safety as ask_safety
from callroom.bootstrap.incident_notes import beside_step, incident_notes
from callroom.model import BadInput, Event, Finding, from_milliseconds
from callroom.model.safety import AREA_USES, INCIDENT_SORTS, AreaUse, IncidentSort, SafetyFacts
from callroom.paper import safety_pdf
from callroom.standards import library_with
from callroom.views.incidents import HeatNamed, IncidentTold, heats_named, incidents
from callroom.views.page_head import page_head
from callroom.views.safety_plan import POSTS, Post, SafetyPlan, for_post, safety_plan
from callroom.views.weather_watch import WeatherTold, weather_now
from callroom.web.errors import NeedsPrivacy, findings_of
from callroom.web.forms.safety import (
    BLANK_ROWS,
    MOST_ROWS,
    read_facts,
    read_sort,
    read_weather,
    time_typed,
)
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, need_role, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

_READERS = frozenset({"director", "first_aid"})
_LONGEST_TEXT = 2_000
_LONGEST_PLACE = 80


class SafetyFactsPage(Page, frozen=True, kw_only=True):
    """``/director/safety``: the plan, what is open, and the facts it rests on to be changed.

    `typed` are the fields of a form that was refused; empty: those of `facts`.
    """

    template: ClassVar[str] = "safety_facts.html"
    plan: SafetyPlan
    facts: SafetyFacts
    typed: Mapping[str, str]
    faults: tuple[Finding, ...]
    uses: tuple[AreaUse, ...]
    area_rows: int
    exit_rows: int
    told: Told | None
    key: str


class SafetyPage(Page, frozen=True, kw_only=True):
    """``/safety``: what holds at one post, the weather, and forms to report either."""

    template: ClassVar[str] = "safety.html"
    plan: SafetyPlan
    post: Post
    posts: tuple[Post, ...]
    weather: tuple[WeatherTold, ...]
    floors: tuple[tuple[str, str], ...]
    sorts: tuple[IncidentSort, ...]
    heats: tuple[HeatNamed, ...]
    typed: Mapping[str, str]
    faults: tuple[Finding, ...]
    told: Told | None
    may_follow: bool
    key: str


class IncidentsPage(Page, frozen=True, kw_only=True):
    """``/incidents``: all of them; `reads`: this reader sees the notes, `hidden`: not from here.

    `labels` is what was typed about the devices that wrote, by who they are in the record.
    """

    template: ClassVar[str] = "incidents.html"
    incidents: tuple[IncidentTold, ...]
    labels: dict[str, str]
    reads: bool
    hidden: bool
    key: str


@get("/director/safety")
async def show_facts(
    request: Asked, house: InHouse, visitor: ByVisitor, saved: FromQuery[str] = ""
) -> Response[str]:
    """The plan of the event, with what it still needs to know."""
    need_director(visitor)
    told = Told(text=house.words.gettext("The safety plan is made anew.")) if saved else None
    return house.show(request, visitor, _facts_page(house, told=told))


@post("/director/safety", status_code=200)
async def keep_facts(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Keep what the director says of the venue."""
    need_director(visitor)
    try:
        asked = ask_safety.set_facts(read_facts(form))
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except BadInput as fault:
        page = _facts_page(house, typed=form.texts, faults=fault.findings)
        return house.show(request, visitor, page, 422)
    return Redirect("/director/safety?saved=yes", status_code=303)


@get("/director/safety.pdf")
async def print_plan(house: InHouse, visitor: ByVisitor) -> Response[bytes]:
    """The plan to print: the whole of it, then a page for each post."""
    need_director(visitor)
    state = house.state
    event = need_event(house.state)
    plan = _plan(house, event)
    pdf = await asyncio.to_thread(
        safety_pdf,
        plan,
        page_head(state),
        size="us-letter" if event.mass_unit == "lb" else "a4",
        at=from_milliseconds(state.at_ms),
        at_ms=state.at_ms,
        words=house.words,
    )
    headers = {"content-disposition": 'inline; filename="safety.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


@get("/safety")
async def show_safety(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    at: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """What holds at a post, the weather, and forms to report the weather or an incident."""
    need_role(visitor, "incident.noted")
    said = {
        "weather": house.words.gettext("The reading is kept."),
        "incident": house.words.gettext("It is written down. First aid and the director see it."),
    }.get(done)
    page = _safety_page(house, visitor, at, told=Told(text=said) if said else None)
    return house.show(request, visitor, page)


@post("/safety/weather", status_code=200)
async def report_weather(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Keep a reading of the weather, or a forecast."""
    need_role(visitor, "weather.read")
    try:
        weather = read_weather(form, need_event(house.state), house.book.now_ms())
    except BadInput as fault:
        page = _safety_page(house, visitor, "", typed=form.texts, faults=findings_of(fault))
        return house.show(request, visitor, page, 422)
    if visitor.actor is not None:
        asked = ask_safety.read_weather(weather)
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/safety?done=weather", status_code=303)


@post("/safety/incident", status_code=200)
async def report_incident(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Write down that something happened; what was seen goes to the notes, not the journal."""
    need_role(visitor, "incident.noted")
    event, key = need_event(house.state), form.text("key") or new_key()
    record, beside = beside_step(
        key, form.text("text")[:_LONGEST_TEXT], visitor.role, house.book.now_ms()
    )
    heat = form.text("heat")
    known = {one.id for one in house.state.plan.heats} if house.state.plan is not None else set()
    asked = ask_safety.note_incident(
        time_typed(form.text("at"), event, house.book.now_ms()),
        read_sort(form),
        " ".join(form.text("place").split())[:_LONGEST_PLACE],
        heat=heat if heat in known else "",
        first_aid=form.ticked("first_aid"),
        ambulance=form.ticked("ambulance"),
        record=record,
    )
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=key, beside=beside)
    return Redirect("/safety?done=incident", status_code=303)


@get("/incidents")
async def show_incidents(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """All incidents; what was written of them only for the director and first aid."""
    need_role(visitor, "incident.followed")
    may_read = visitor.role in _READERS
    reads = may_read and visitor.private
    notes = await asyncio.to_thread(incident_notes, house.book) if reads else None
    told = incidents(house.state, notes)
    page = IncidentsPage(
        incidents=told,
        labels=_labels(house, told),
        reads=reads,
        hidden=may_read and not visitor.private,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/incidents/{number:int}", status_code=200)
async def follow_incident(
    house: InHouse, visitor: ByVisitor, form: PostedForm, number: FromPath[int]
) -> Response[Any]:
    """Write down what more was done, and whether it is closed."""
    need_role(visitor, "incident.followed")
    key = form.text("key") or new_key()
    text = form.text("text")[:_LONGEST_TEXT]
    if text and not (visitor.private and visitor.role in _READERS):
        raise NeedsPrivacy("web.needs_privacy")
    record, beside = beside_step(key, text, visitor.role, house.book.now_ms())
    asked = ask_safety.follow_incident(number, record=record, closes=form.text("do") == "close")
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=key, beside=beside)
    return Redirect("/incidents", status_code=303)


def _labels(house: House, told: tuple[IncidentTold, ...]) -> dict[str, str]:
    """Return the label of each device that wrote, by the actor: its role, and its device last."""
    actors = {step.step.actor for one in told for step in one.steps}
    device_of = {actor: actor.rpartition(" ")[2] for actor in actors}
    labels = house.labels(set(device_of.values()))
    return {actor: labels[device] for actor, device in device_of.items() if device in labels}


def _plan(house: House, event: Event) -> SafetyPlan:
    movements = library_with(event.movements).movements
    return safety_plan(house.state, event, movements)


def _facts_page(
    house: House,
    *,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
    told: Told | None = None,
) -> SafetyFactsPage:
    facts = house.state.safety
    return SafetyFactsPage(
        plan=_plan(house, need_event(house.state)),
        facts=facts,
        typed=typed or {},
        faults=faults,
        uses=AREA_USES,
        area_rows=min(MOST_ROWS, len(facts.areas) + BLANK_ROWS),
        exit_rows=min(MOST_ROWS, len(facts.exits) + BLANK_ROWS),
        told=told,
        key=new_key(),
    )


_POST_OF_ROLE: Mapping[str, Post] = {
    "director": "lead",
    "head_judge": "lead",
    "desk": "desk",
    "judge": "judge",
    "crew": "floor",
    "first_aid": "first_aid",
}


def _safety_page(
    house: House,
    visitor: Visitor,
    at: str,
    *,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
    told: Told | None = None,
) -> SafetyPage:
    event, state = need_event(house.state), house.state
    chosen = next((one for one in POSTS if one == at), _POST_OF_ROLE.get(visitor.role, "lead"))
    running = {id_ for id_, run in state.heats.items() if run.stage == "started"}
    return SafetyPage(
        plan=for_post(_plan(house, event), chosen),
        post=chosen,
        posts=POSTS,
        weather=weather_now(state, event, house.book.now_ms()),
        floors=tuple((floor.id, floor.name) for floor in event.floors),
        sorts=INCIDENT_SORTS,
        heats=tuple(heat for heat in heats_named(state) if heat.id in running),
        typed=typed or {},
        faults=faults,
        told=told,
        may_follow=visitor.may("incident.followed"),
        key=new_key(),
    )


HANDLERS = (
    show_facts,
    keep_facts,
    print_plan,
    show_safety,
    report_weather,
    report_incident,
    show_incidents,
    follow_incident,
)
