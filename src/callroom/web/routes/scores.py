"""One score: its history, and what the head judge may decide about it."""

import asyncio
from typing import Any
from urllib.parse import quote

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.request import Request
from callroom.model import BadInput, SheetRef, State
from callroom.model.lanes import attempts
from callroom.views.codes import CardRef
from callroom.views.heat_desk import sheet_view
from callroom.views.masthead import published
from callroom.web.contexts import SheetPage
from callroom.web.errors import Unreadable
from callroom.web.forms.entry import EntryForm, entry_form, only_part
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_entry import read_entry
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

ADDRESS = "/judge/score/{workout_id:str}/{part_id:str}/{team_id:str}/{attempt:int}"


@get(ADDRESS)
async def show_score(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    workout_id: FromPath[str],
    part_id: FromPath[str],
    team_id: FromPath[str],
    attempt: FromPath[int],
) -> Response[str]:
    """One score and its history."""
    need_role(visitor, "score.corrected")
    ref = SheetRef(workout=workout_id, part=part_id, team=team_id, attempt=attempt)
    sheet_view(house.state, ref)
    form = only_part(entry_form(house.state, _card(ref), filled=True), part_id)
    return await _page(request, house, visitor, ref, form)


@post(ADDRESS, status_code=200)
async def rule_on_score(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    workout_id: FromPath[str],
    part_id: FromPath[str],
    team_id: FromPath[str],
    attempt: FromPath[int],
) -> Response[Any]:
    """Choose a report, correct, penalise, lift a penalty, or grant a re-run."""
    need_role(visitor, "score.corrected")
    ref = SheetRef(workout=workout_id, part=part_id, team=team_id, attempt=attempt)
    try:
        asked = _ruling(house.state, ref, form)
    except BadInput as fault:
        again = entry_form(house.state, _card(ref), typed=form.texts, faults=fault.findings)
        text = house.voice(house.state).sentence(fault.findings[0])
        told = Told(text=text, good=False)
        shown = only_part(again, part_id)
        return await _page(request, house, visitor, ref, shown, told, key=form.text("key"))
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect(sheet_path(ref), status_code=303)


def sheet_path(ref: SheetRef) -> str:
    """Return the address of one score."""
    fields = (ref.workout, ref.part, ref.team)
    return f"/judge/score/{'/'.join(quote(field, safe='') for field in fields)}/{ref.attempt}"


async def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    ref: SheetRef,
    form: EntryForm,
    told: Told | None = None,
    *,
    key: str = "",
) -> Response[str]:
    state = house.state
    _, plan = published(state)
    heat = plan.heat_of(ref.workout, ref.team)
    heat_id = heat.id if heat is not None else ""
    history = await asyncio.to_thread(house.book.history, ref, heat_id)
    page = SheetPage(
        sheet=sheet_view(state, ref),
        history=history,
        labels=house.labels({line.device for line in history}),
        attempts=attempts(state, ref.workout, ref.team),
        form=form,
        told=told,
        key=key or new_key(),
    )
    return house.show(request, visitor, page, 200 if told is None or told.good else 422)


def _ruling(state: State, ref: SheetRef, form: Posted) -> Request:
    deed, reason = form.text("do"), form.text("reason")
    basis = {f"sheet:{ref.key}": form.whole("seen") or 0}
    number = form.whole("seq") or 0
    if deed == "choose":
        return day.choose_report(ref, number, basis)
    if deed == "lift":
        return day.lift_penalty(ref, number, reason)
    if deed == "penalty":
        seconds, counts = form.whole("seconds") or 0, form.whole("counts") or 0
        return day.give_penalty(ref, reason, seconds=seconds, counts=counts)
    if deed == "rerun":
        better = form.text("counts_how") == "better"
        return day.grant_rerun(ref.workout, ref.team, "better" if better else "replaces", reason)
    if deed == "correct":
        shown = only_part(entry_form(state, _card(ref)), ref.part)
        event, _ = published(state)
        division = event.division(state.teams[ref.team].division)
        typed = read_entry(shown, form, division, need_all=True)
        return day.correct_score(ref, typed[0].result, reason)
    raise Unreadable("web.unknown_button", given=deed[:80])


def _card(ref: SheetRef) -> CardRef:
    return CardRef(workout=ref.workout, team=ref.team, attempt=ref.attempt)


HANDLERS = (show_score, rule_on_score)
