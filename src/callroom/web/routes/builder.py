"""The workout builder, for the director."""

import asyncio
from typing import Any

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect
from markupsafe import Markup
from msgspec.structs import replace

from callroom.actions.workouts import set_workout
from callroom.model import BadInput, NotFound, Refusal, State
from callroom.views.timetable import CREW, workout_title
from callroom.web.builder import Draft, Node, blank, do, next_workout_id, posted_root, read_deed
from callroom.web.builder import written as written_workout
from callroom.web.builder.pages import BuilderListPage, BuilderPage, movement_choices
from callroom.web.builder.preview import Preview, read_draft, with_forecast
from callroom.web.errors import Unreadable, findings_of, status_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import html
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

DRAFTS = "workout/"
"""How the names of drafts begin in the book's side table."""


@get("/director/workouts")
async def show_builder_list(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every workout, and what was begun and not saved."""
    need_director(visitor)
    event = house.state.event
    kept = house.book.drafts(DRAFTS) if event is not None else {}
    drafts = {name.removeprefix(DRAFTS): _decoded(draft) for name, draft in kept.items()}
    page = BuilderListPage(
        event=event.name if event is not None else "",
        workouts=tuple(workout_title(event, one, CREW) for one in event.workouts)
        if event is not None
        else (),
        drafts={
            name: draft.root.text("name") or name
            for name, draft in drafts.items()
            if draft is not None
        },
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/director/workouts", status_code=200)
async def begin(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Begin one more workout, blank or from one there is."""
    need_director(visitor)
    state, event = house.state, need_event(house.state)
    drafted = frozenset(name.removeprefix(DRAFTS) for name in house.book.drafts(DRAFTS))
    new = next_workout_id(event, drafted)
    source = next((one for one in event.workouts if one.id == form.text("from")), None)
    if source is not None:
        root = written_workout(event, source)
    else:
        floor = event.floors[0].id if event.floors else ""
        root = Node(texts={"floor": floor}, inside=(blank("part"),))
    name = form.text("name")
    root = replace(root, texts={**root.texts, "id": new, "name": name})
    await _keep(house, new, Draft(basis=_basis(state), root=root))
    return Redirect(f"/director/workouts/{new}", status_code=303)


@get("/director/workouts/{workout_id:str}")
async def show_builder(
    request: Asked, house: InHouse, visitor: ByVisitor, workout_id: FromPath[str]
) -> Response[str]:
    """The workout as it is being built."""
    need_director(visitor)
    draft = draft_of(house, workout_id)
    at = request.query_params.get("at", "")
    return await _page(request, house, visitor, draft, at=at)


@post("/director/workouts/{workout_id:str}", status_code=200)
async def build(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    workout_id: FromPath[str],
) -> Response[Any]:
    """Change the draft, save it as a workout of the event, or let go of it."""
    need_director(visitor)
    here = f"/director/workouts/{workout_id}"
    draft = _posted(house, workout_id, form)
    deed = form.text("do") or "look"
    if deed == "discard":
        await asyncio.to_thread(house.book.keep_draft, DRAFTS + workout_id, None)
        return Redirect("/director/workouts", status_code=303)
    if deed == "save":
        return await _save(request, house, visitor, draft, form.text("key"))
    changed = read_deed(deed)
    if changed is not None:
        root, path = do(draft.root, changed)
        await _keep(house, workout_id, replace(draft, root=root))
        at = ".".join(map(str, path))
        return Redirect(f"{here}?at={at}" if at else here, status_code=303)
    if deed == "renew":
        draft = replace(draft, basis=_basis(house.state))
    elif deed != "look":
        raise Unreadable("web.unknown_button", given=deed[:80])
    await _keep(house, workout_id, draft)
    return Redirect(here, status_code=303)


@post("/director/workouts/{workout_id:str}/draft", status_code=200)
async def keep_and_preview(
    house: InHouse, visitor: ByVisitor, form: PostedForm, workout_id: FromPath[str]
) -> Response[str]:
    """Keep what is typed, and answer with what it would be, as a part of the page."""
    need_director(visitor)
    draft = _posted(house, workout_id, form)
    await _keep(house, workout_id, draft)
    preview = await _previewed(house, draft.root)
    return html(_fragment(house, preview))


async def _save(
    request: Asked, house: House, visitor: Visitor, draft: Draft, key: str
) -> Response[Any]:
    workout_id = draft.root.id
    await _keep(house, workout_id, draft)
    preview = read_draft(house.state, need_event(house.state), draft.root)
    errors = [fault for fault in preview.faults if fault.finding.severity == "error"]
    if errors:
        said = house.words.ngettext(
            "Not saved yet: one thing must be mended.",
            "Not saved yet: {count} things must be mended.",
            len(errors),
        ).format(count=len(errors))
        told = Told(text=said, good=False)
        return await _page(request, house, visitor, draft, told=told, status=422)
    try:
        if visitor.actor is not None:
            asked = set_workout(house.state, preview.reading.workout, draft.basis)
            await house.book.ask(visitor.actor, asked, key=key or new_key())
    except (BadInput, Refusal) as fault:
        finding = findings_of(fault)[0]
        told = Told(text=house.voice(preview.state).sentence(finding), good=False)
        status = status_of(fault)
        return await _page(request, house, visitor, draft, told=told, status=status)
    await asyncio.to_thread(house.book.keep_draft, DRAFTS + workout_id, None)
    return Redirect(f"/director/workouts#{workout_id}", status_code=303)


async def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    draft: Draft,
    *,
    at: str = "",
    told: Told | None = None,
    status: int = 200,
) -> Response[str]:
    event = need_event(house.state)
    preview = await _previewed(house, draft.root)
    voice = house.voice(preview.state)
    faults: dict[str, str] = {}
    for fault in preview.faults:
        faults.setdefault(fault.field, voice.sentence(fault.finding))
    page = BuilderPage(
        root=draft.root,
        basis=draft.basis,
        faults=faults,
        preview=Markup(_fragment(house, preview)),  # noqa: S704 - our own template made it
        divisions=event.divisions,
        categories=event.categories,
        floors=event.floors,
        movements=movement_choices(event),
        variations={one.node.text("movement"): one.variations for one in preview.ways},
        unit=event.mass_unit,
        saved=preview.state.event == event,
        stale=draft.basis != _basis(house.state),
        at=at,
        told=told,
        key=new_key(),
    )
    return house.show(request, visitor, page, status)


async def _previewed(house: House, root: Node) -> Preview:
    preview = read_draft(house.state, need_event(house.state), root)
    speech = house.voice(preview.state).speech
    return await asyncio.to_thread(with_forecast, preview, speech)


def _fragment(house: House, preview: Preview) -> str:
    return house.pages.fragment("parts/draft_preview.html", preview, preview.state)


def draft_of(house: House, workout_id: str) -> Draft:
    """Return the draft that is kept, else one of the workout as it stands."""
    event = need_event(house.state)
    kept = _decoded(house.book.drafts(DRAFTS).get(DRAFTS + workout_id, b""))
    if kept is not None:
        return kept
    known = next((one for one in event.workouts if one.id == workout_id), None)
    if known is None:
        raise NotFound("workout.unknown", workout=workout_id)
    return Draft(basis=_basis(house.state), root=written_workout(event, known))


def _posted(house: House, workout_id: str, form: Posted) -> Draft:
    """Return the draft as posted, of a workout that there is or that was begun."""
    draft_of(house, workout_id)
    root = posted_root(form.texts)
    if root is None:
        raise Unreadable("web.unreadable")
    root = replace(root, texts={**root.texts, "id": workout_id})
    return Draft(basis=form.whole("basis") or 0, root=root)


def _decoded(kept: bytes) -> Draft | None:
    try:
        return msgspec.json.decode(kept, type=Draft)
    except msgspec.MsgspecError:
        return None


async def _keep(house: House, workout_id: str, draft: Draft) -> None:
    kept = msgspec.json.encode(draft)
    await asyncio.to_thread(house.book.keep_draft, DRAFTS + workout_id, kept)


def _basis(state: State) -> int:
    return state.subjects.get("event", 0)


HANDLERS = (show_builder_list, begin, show_builder, build, keep_and_preview)
