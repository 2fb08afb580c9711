"""Amendments: the head judge changes a workout, and prints what that made stale."""

import asyncio
import io
import zipfile
from collections.abc import Mapping
from typing import Any, ClassVar, get_args

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.change_rules import first_to_come
from callroom.actions.request import Request
from callroom.bootstrap.speech import speech_for
from callroom.model import (
    BadInput,
    Category,
    Decider,
    Finding,
    NotFound,
    Refusal,
    Remedy,
    State,
    Workout,
    from_milliseconds,
)
from callroom.model.movement import Movement
from callroom.paper import reprint
from callroom.standards import library_with
from callroom.views.amendments import Touched, touched
from callroom.views.masthead import published
from callroom.views.page_head import public_at
from callroom.views.timetable import CREW, HeatSlot, WorkoutTitle, heat_slot, workout_title
from callroom.web.errors import Unreadable, status_of
from callroom.web.forms.amend import AmendForm, amend_form, read_amended
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

_REMEDIES: Mapping[str, Remedy] = {one: one for one in get_args(Remedy)}
_DECIDERS: Mapping[str, Decider] = {one: one for one in get_args(Decider)}


class AmendmentsPage(Page, frozen=True, kw_only=True):
    """``/judge/amendments``: what was amended, what that made stale, and what may be amended."""

    template: ClassVar[str] = "amendments.html"
    touched: tuple[Touched, ...]
    workouts: tuple[WorkoutTitle, ...]


class AmendPage(Page, frozen=True, kw_only=True):
    """``/judge/amend/<workout>``: the workout to change.

    `from_heat` is the first heat still to come (None: none), `ran` the heats that have run.
    `movements` are the ids to choose from, `categories` those a new load may be for.
    """

    template: ClassVar[str] = "amend.html"
    form: AmendForm
    workout: WorkoutTitle
    from_heat: HeatSlot | None
    ran: tuple[HeatSlot, ...]
    movements: tuple[str, ...]
    categories: tuple[Category, ...]
    told: Told | None
    key: str


@get("/judge/amendments")
async def show_amendments(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every amendment with what it made stale, the newest first."""
    need_role(visitor, "amendment.made")
    state = house.state
    now_s = public_at(state, house.book.now_ms()).now_s
    numbers = sorted((one.number for one in state.amendments.values()), reverse=True)
    page = AmendmentsPage(
        touched=tuple(touched(state, number, now_s) for number in numbers),
        workouts=_amendable(state),
    )
    return house.show(request, visitor, page)


@get("/judge/amendments/{number:int}/sheets.zip")
async def send_reprint(
    house: InHouse, visitor: ByVisitor, number: FromPath[int]
) -> Response[bytes]:
    """The sheets that an amendment made stale, and no others."""
    need_role(visitor, "amendment.made")
    state = house.state
    now_s = public_at(state, house.book.now_ms()).now_s
    stale = touched(state, number, now_s)
    packed = await asyncio.to_thread(_packed, state, stale)
    headers = {"content-disposition": f'attachment; filename="amendment-{number}.zip"'}
    return Response(packed, media_type="application/zip", headers=headers)


@get("/judge/amend/{workout_id:str}")
async def show_amend(
    request: Asked, house: InHouse, visitor: ByVisitor, workout_id: FromPath[str]
) -> Response[str]:
    """The form of one workout."""
    need_role(visitor, "amendment.made")
    workout = _workout(house.state, workout_id)
    return _page(request, house, visitor, amend_form(workout))


@post("/judge/amend/{workout_id:str}", status_code=200)
async def amend(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    workout_id: FromPath[str],
) -> Response[Any]:
    """Amend the workout, or show the form again with what is wrong."""
    need_role(visitor, "amendment.made")
    workout = _workout(house.state, workout_id)
    try:
        asked = _asked(house.state, amend_form(workout), form)
        if visitor.actor is not None:
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        findings = fault.findings if isinstance(fault, BadInput) else (fault.finding(),)
        again = amend_form(workout, form.texts, findings)
        told = Told(text=house.voice(house.state).sentence(findings[0]), good=False)
        key = form.text("key")
        return _page(request, house, visitor, again, told, key=key, status=status_of(fault))
    return Redirect("/judge/amendments", status_code=303)


def _amendable(state: State) -> tuple[WorkoutTitle, ...]:
    """Return the workouts that may be amended: none before there is a plan."""
    event = state.event
    if event is None or state.plan is None:
        return ()
    return tuple(workout_title(event, workout, CREW) for workout in event.workouts)


def _workout(state: State, workout_id: str) -> Workout:
    event, _ = published(state)
    for workout in event.workouts:
        if workout.id == workout_id:
            return workout
    raise NotFound("workout.unknown", workout=workout_id)


def _asked(state: State, shown: AmendForm, form: Posted) -> Request:
    event, plan = published(state)
    remedy = _REMEDIES.get(form.text("remedy") or "none")
    decided_by = _DECIDERS.get(form.text("decided_by"))
    if remedy is None or decided_by is None:
        raise Unreadable("web.unreadable")
    amended = read_amended(shown, form, event)
    _need_known_movements(event.movements, shown.workout, amended)
    return day.amend_workout(
        amended,
        what=form.text("what"),
        why=form.text("why"),
        decided_by=decided_by,
        from_heat=first_to_come(state, plan, amended.id),
        remedy=remedy,
        common_point=form.text("common_point") if remedy == "common" else "",
    )


def _need_known_movements(own: tuple[Movement, ...], before: Workout, amended: Workout) -> None:
    """Refuse a new movement that no standard describes; one the event had already may stay."""
    known = {*library_with(own).movements, *_movements(before)}
    for movement in _movements(amended):
        if movement not in known:
            raise BadInput(
                (
                    Finding(
                        rule="amend.movement_unknown",
                        severity="error",
                        subject="movement",
                        facts={"given": movement[:40]},
                    ),
                )
            )


def _movements(workout: Workout) -> tuple[str, ...]:
    blocks = (block for part in workout.parts for block in part.blocks)
    return tuple(dict.fromkeys(task.movement for block in blocks for task in block.tasks))


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    form: AmendForm,
    told: Told | None = None,
    *,
    key: str = "",
    status: int = 200,
) -> Response[str]:
    state = house.state
    event, plan = published(state)
    mine = [heat for heat in plan.heats if heat.workout == form.workout.id]
    mine.sort(key=lambda heat: (heat.start_s, heat.id))
    first = first_to_come(state, plan, form.workout.id)
    page = AmendPage(
        form=form,
        workout=workout_title(event, form.workout, CREW),
        from_heat=next((heat_slot(state, heat) for heat in mine if heat.id == first), None),
        ran=tuple(
            heat_slot(state, heat)
            for heat in mine
            if state.heat_run(heat.id).started_ms is not None
        ),
        categories=event.categories,
        movements=tuple(library_with(event.movements).movements),
        told=told,
        key=key or new_key(),
    )
    return house.show(request, visitor, page, status)


def _packed(state: State, stale: Touched) -> bytes:
    at = from_milliseconds(state.at_ms)
    made = reprint(stale, size="a4", at=at, speech=speech_for(state))
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, pdf in made.items():
            archive.writestr(name, pdf)
    return packed.getvalue()


HANDLERS = (show_amendments, send_reprint, show_amend, amend)
