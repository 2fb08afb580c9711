"""The library of movements, for the director: look, change one, add one, allow and bar."""

from decimal import Decimal
from typing import Any, get_args

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions.movement_rules import users_of
from callroom.actions.movements import drop_movement, permit_movement, set_movement
from callroom.actions.request import Request
from callroom.model import BadInput, Event, MovementRule, NotFound, Refusal, State
from callroom.model.movement import Counting, Family, JudgePlace, Movement, Rate, Space
from callroom.model.permitted import division_switches
from callroom.standards import Library, built_in, check_own, library_with
from callroom.views.guide import Standard, guide, standard
from callroom.views.guide_text import standard_text
from callroom.views.timetable import CREW
from callroom.web.errors import Unreadable, findings_of, status_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.movements import MovementForm, form_of, read_form, typed_form
from callroom.web.movements.pages import (
    MovementFamily,
    MovementFormPage,
    MovementLine,
    MovementListPage,
    VariationRow,
)
from callroom.web.movements.read import free_id, plain
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

HERE = "/director/movements"
NEW = "new"
_SAID = {None: "", True: "allow", False: "bar"}


def _blank() -> Movement:
    """Return what a movement that is begun from nothing has filled in."""
    return Movement(
        id="",
        name="",
        many="",
        family="object",
        start="",
        points=(),
        finish="",
        no_reps=(),
        judge=JudgePlace(stands="", watches=""),
        counting=(Counting(unit="reps", counts=""),),
        space=Space(length_m=Decimal(3), width_m=Decimal("2.5"), height_m=Decimal(3)),
        cadence=(
            Rate(
                unit="s_per_rep",
                level="intermediate",
                low=Decimal(3),
                high=Decimal(5),
                source="common practice, no source",
            ),
        ),
        capacities=(),
    )


@get("/director/movements")
async def show_movement_list(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every movement, family by family."""
    need_director(visitor)
    event = house.state.event
    library = library_with(event.movements if event is not None else ())
    listed = sorted(library.movements.values(), key=lambda one: one.name.casefold())
    page = MovementListPage(
        event=event.name if event is not None else "",
        families=tuple(
            MovementFamily(
                family=family,
                movements=tuple(
                    _line(one, event, library) for one in listed if one.family == family
                ),
            )
            for family in get_args(Family)
        ),
    )
    return house.show(request, visitor, page)


@get("/director/movements/{movement_id:str}")
async def show_movement_form(
    request: Asked, house: InHouse, visitor: ByVisitor, movement_id: FromPath[str]
) -> Response[str]:
    """One movement to change, or a new one begun from another."""
    need_director(visitor)
    library = library_with(need_event(house.state).movements)
    asked = request.query_params
    if movement_id == NEW:
        base = library.movements.get(asked.get("from", ""), _blank())
        form = form_of(base)
        name = asked.get("name", "").strip()[:80]
        fresh = {"id": "", "name": name, "many": name[:1].lower() + name[1:]}
        form = MovementForm(values={**form.values, **fresh}, rows=form.rows)
        return _page(request, house, visitor, "", base.id, form)
    known = _known(library, movement_id)
    told = Told(text=house.words.gettext("Kept.")) if "kept" in asked else None
    return _page(request, house, visitor, movement_id, movement_id, form_of(known), told=told)


@post("/director/movements/{movement_id:str}", status_code=200)
async def change_movement(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    movement_id: FromPath[str],
) -> Response[Any]:
    """Keep a movement as typed, show more empty rows, or give up what is the director's own."""
    need_director(visitor)
    library = library_with(need_event(house.state).movements)
    deed, basis = form.text("do") or "save", form.whole("basis") or 0
    own_id = "" if movement_id == NEW else _known(library, movement_id).id
    base = library.movements.get(form.text("base"), _blank())
    if deed == "drop":
        asked: Request | None = drop_movement(own_id, basis)
        typed, made_id = form_of(_known(library, own_id)), own_id
    elif deed == "more":
        return _page(request, house, visitor, own_id, base.id, _typed(form, more=True))
    elif deed == "save":
        typed, made_id, asked = _saving(house.state, library, form, own_id, base)
    else:
        raise Unreadable("web.unknown_button", given=deed[:80])
    if typed.faults:
        told = Told(text=_unsaved(house, len(typed.faults)), good=False)
        return _page(request, house, visitor, own_id, base.id, typed, told=told, status=422)
    try:
        if visitor.actor is not None and asked is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        said = house.voice(house.state).sentence(findings_of(fault)[0])
        told = Told(text=said, good=False)
        status = status_of(fault)
        return _page(request, house, visitor, own_id, base.id, typed, told=told, status=status)
    gone = deed == "drop" and made_id not in built_in().movements
    return Redirect(HERE if gone else f"{HERE}/{made_id}?kept=1", status_code=303)


@post("/director/movements/{movement_id:str}/divisions", status_code=200)
async def permit(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    movement_id: FromPath[str],
) -> Response[Any]:
    """Say what each division allows and bars of a movement in every workout."""
    need_director(visitor)
    event = need_event(house.state)
    known = _known(library_with(event.movements), movement_id)
    rules = {
        division.id: tuple(
            MovementRule(movement=known.id, variation=variation, allowed=said == "allow")
            for variation in ("", *(one.id for one in known.variations))
            if (said := form.text(f"d:{division.id}:{variation}")) in {"allow", "bar"}
        )
        for division in event.divisions
    }
    asked = permit_movement(known.id, rules, form.whole("basis") or 0)
    try:
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        said = house.voice(house.state).sentence(findings_of(fault)[0])
        told = Told(text=said, good=False)
        shown = form_of(known)
        status = status_of(fault)
        return _page(request, house, visitor, known.id, known.id, shown, told=told, status=status)
    return Redirect(f"{HERE}/{known.id}?kept=1#divisions", status_code=303)


def _saving(
    state: State, library: Library, form: Posted, own_id: str, base: Movement
) -> tuple[MovementForm, str, Request | None]:
    """Return the form as typed, the movement's id, and what is asked; None: nothing changed."""
    typed = _typed(form)
    taken = frozenset((*library.movements, NEW))
    made_id = own_id or free_id(typed.value("name"), taken)
    typed = MovementForm(values={**typed.values, "id": made_id}, rows=typed.rows)
    read = read_form(typed, base)
    if read.movement is None:
        return MovementForm(values=typed.values, rows=typed.rows, faults=read.faults), made_id, None
    if read.movement == library.movements.get(made_id):
        return typed, made_id, None
    return typed, made_id, set_movement(state, read.movement, form.whole("basis") or 0)


def _typed(form: Posted, *, more: bool = False) -> MovementForm:
    values = {name: form.text(name) for name in form.texts}
    return typed_form(values, {}, more=more)


def _unsaved(house: House, count: int) -> str:
    said = house.words.ngettext(
        "Not kept yet: one thing must be mended.",
        "Not kept yet: {count} things must be mended.",
        count,
    )
    return said.format(count=count)


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    movement_id: str,
    base: str,
    form: MovementForm,
    *,
    told: Told | None = None,
    status: int = 200,
) -> Response[str]:
    state, event = house.state, need_event(house.state)
    library = library_with(event.movements)
    kept = library.movements.get(movement_id)
    speech = house.voice(state).speech
    page = MovementFormPage(
        movement_id=movement_id,
        name=kept.name if kept is not None else form.value("name"),
        base=base,
        form=form,
        own=movement_id in {one.id for one in event.movements},
        known=movement_id in built_in().movements,
        used=users_of(event, movement_id) if movement_id else (),
        poses=tuple(sorted(library.poses)),
        standards=tuple(standard_text(one, speech) for one in _standards(state, kept, library)),
        doubts=tuple(map(plain, check_own((kept,)))) if kept is not None else (),
        divisions=event.divisions,
        permitted=_permitted(event, kept) if kept is not None else (),
        basis=state.subjects.get(f"movement:{movement_id}", 0),
        told=told,
        key=new_key(),
    )
    return house.show(request, visitor, page, status)


def _standards(state: State, kept: Movement | None, library: Library) -> tuple[Standard, ...]:
    if kept is None:
        return ()
    asked = (one for one in guide(state, CREW).standards if one.movement.id == kept.id)
    return tuple(asked) or (standard(kept, library),)


def _permitted(event: Event, movement: Movement) -> tuple[VariationRow, ...]:
    rows = [("", movement.name, "")]
    rows += [(one.id, one.name, one.usual) for one in movement.variations]
    said = {division.id: division_switches(movement.id, division) for division in event.divisions}
    return tuple(
        VariationRow(
            id=variation,
            name=name,
            usual=usual,
            cells=tuple(
                (
                    f"d:{division.id}:{variation}",
                    _SAID[said[division.id].get(variation)]
                    if variation
                    else "bar" * division.bars(movement.id),
                )
                for division in event.divisions
            ),
        )
        for variation, name, usual in rows
    )


def _line(one: Movement, event: Event | None, library: Library) -> MovementLine:
    own = event is not None and one in event.movements
    svgs = standard(one, library).svgs
    return MovementLine(
        id=one.id,
        name=one.name,
        own=own,
        changed=own and one.id in built_in().movements,
        used=users_of(event, one.id) if event is not None else (),
        svg=svgs[-1] if svgs else "",
    )


def _known(library: Library, movement_id: str) -> Movement:
    known = library.movements.get(movement_id)
    if known is None:
        raise NotFound("movement.unknown", movement=movement_id[:80])
    return known


HANDLERS = (show_movement_list, show_movement_form, change_movement, permit)
