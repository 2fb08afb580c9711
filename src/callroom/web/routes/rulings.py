"""Rulings: for everyone to read, for the head judge to make and to see who has read them."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.request import Request
from callroom.bootstrap.speech import speech_for
from callroom.model import State, from_milliseconds
from callroom.paper import addendum_pdf
from callroom.views.addendum import addendum
from callroom.views.amendment_text import AmendmentText, amendments
from callroom.views.page_head import public_at
from callroom.views.rulings import RulingHeard, RulingText, rulings, rulings_heard
from callroom.views.timetable import CREW, WorkoutTitle, workout_title
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, need_role, new_key
from callroom.web.pages import Page


class RulingsPage(Page, frozen=True, kw_only=True):
    """``/rulings``: what was amended and ruled, for everyone; `rules`: this visitor may make rulings."""

    template: ClassVar[str] = "rulings.html"
    rulings: tuple[RulingText, ...]
    amendments: tuple[AmendmentText, ...]
    rules: bool


class JudgeRulingsPage(Page, frozen=True, kw_only=True):
    """``/judge/rulings``: make a ruling, see who has yet to read which.

    `labels` is what was typed about the judges' devices; `movements` are the ids of those
    that some task has, to choose from; `printable`: there is a plan to print under.
    """

    template: ClassVar[str] = "judge_rulings.html"
    heard: tuple[RulingHeard, ...]
    labels: Mapping[str, str]
    workouts: tuple[WorkoutTitle, ...]
    movements: tuple[str, ...]
    printable: bool
    key: str


@get("/rulings")
async def show_rulings(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What was amended and ruled, as far as it may be seen."""
    state = house.state
    audience = CREW if visitor.actor is not None else public_at(state, house.book.now_ms())
    page = RulingsPage(
        rulings=rulings(state, audience),
        amendments=amendments(state, audience),
        rules=visitor.may("ruling.made"),
    )
    return house.show(request, visitor, page)


@get("/judge/rulings")
async def show_judge_rulings(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every ruling with who has read it, and a form for the next one."""
    need_role(visitor, "ruling.made")
    state = house.state
    heard = rulings_heard(state)
    devices = {device for one in heard for device in (*one.seen, *one.unseen)}
    page = JudgeRulingsPage(
        heard=heard,
        labels=house.labels(devices),
        workouts=_workouts(state),
        movements=_movements(state),
        printable=state.plan is not None,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/judge/rulings", status_code=200)
async def make_or_withdraw(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Make a ruling, or take one back."""
    need_role(visitor, "ruling.made")
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, _asked(form), key=form.text("key") or new_key())
    return Redirect("/judge/rulings", status_code=303)


@get("/judge/rulings/addendum.pdf")
async def print_addendum(house: InHouse, visitor: ByVisitor) -> Response[bytes]:
    """Every amendment and ruling on one sheet, with the plan's revision and the time."""
    need_role(visitor, "ruling.made")
    state = house.state
    pdf = await asyncio.to_thread(
        addendum_pdf,
        addendum(state),
        size="a4",
        at=from_milliseconds(state.at_ms),
        speech=speech_for(state),
    )
    headers = {"content-disposition": 'attachment; filename="addendum.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _asked(form: Posted) -> Request:
    deed = form.text("do")
    if deed == "make":
        return day.make_ruling(
            form.text("question"),
            form.text("answer"),
            workout=form.text("workout"),
            movement=form.text("movement"),
        )
    if deed == "withdraw":
        return day.withdraw_ruling(form.whole("number") or 0, form.text("reason"))
    raise Unreadable("web.unknown_button", given=deed[:80])


def _workouts(state: State) -> tuple[WorkoutTitle, ...]:
    event = state.event
    if event is None:
        return ()
    return tuple(workout_title(event, workout, CREW) for workout in event.workouts)


def _movements(state: State) -> tuple[str, ...]:
    workouts = state.event.workouts if state.event is not None else ()
    blocks = (block for workout in workouts for part in workout.parts for block in part.blocks)
    return tuple(dict.fromkeys(task.movement for block in blocks for task in block.tasks))


HANDLERS = (show_rulings, show_judge_rulings, make_or_withdraw, print_addendum)
