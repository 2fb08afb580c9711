"""Appeals: filed at the desk, decided by the head judge with what that does to the standings."""

import asyncio
from collections.abc import Mapping
from typing import Any, ClassVar, Literal

from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import day, verdicts
from callroom.actions.preview import preview
from callroom.actions.request import Asked as Body
from callroom.actions.request import Request
from callroom.model import (
    BadInput,
    SheetRef,
    State,
    from_milliseconds,
    milliseconds,
    parse_clock,
    wall_time,
)
from callroom.model.clock import local_instant
from callroom.views.appeals import AppealText, Effect, appeal_text, appeals, effect
from callroom.views.codes import CardRef
from callroom.views.heat_desk import SheetView, sheet_view
from callroom.views.home import DivisionLink, division_links
from callroom.views.masthead import published
from callroom.views.timetable import CREW, WorkoutTitle, workout_title
from callroom.web.errors import Unreadable
from callroom.web.forms.entry import EntryForm, entry_form, only_part
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_entry import read_entry
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor
from callroom.web.voice import Told


class AppealsPage(Page, frozen=True, kw_only=True):
    """``/desk/appeals``: file one; those that are open, then the others.

    `parts` are what an appeal may be about: the value of the choice, the workout, the part's
    name. `decides`: this visitor may decide; `filed` is the number just given (None: none).
    """

    template: ClassVar[str] = "appeals.html"
    appeals: tuple[AppealText, ...]
    divisions: tuple[DivisionLink, ...]
    parts: tuple[tuple[str, WorkoutTitle, str], ...]
    decides: bool
    filed: int | None
    key: str


class AppealPage(Page, frozen=True, kw_only=True):
    """``/judge/appeals/<number>``: one appeal; while it is open, what a decision would do.

    `sheet` is the score it is about and `form` the fields for another result; None without a
    scored part. `effect` is what the decision did, or would do as far as it was typed in
    `typed`; None: nothing was asked yet. `seen` is the last entry about the appeal.
    """

    template: ClassVar[str] = "appeal.html"
    text: AppealText
    sheet: SheetView | None
    form: EntryForm | None
    effect: Effect | None
    typed: Mapping[str, str]
    told: Told | None
    seen: int
    key: str


@get("/desk/appeals")
async def show_appeals(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """Every appeal, and a form for the next one."""
    need_role(visitor, "appeal.made")
    state = house.state
    filed = request.query_params.get("filed", "")
    page = AppealsPage(
        appeals=appeals(state),
        divisions=division_links(state),
        parts=_parts(state),
        decides=visitor.may("appeal.decided"),
        filed=int(filed)
        if filed.isascii() and filed.isdigit() and filed in state.appeals
        else None,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@post("/desk/appeals", status_code=200)
async def file_or_withdraw(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """File an appeal, or note that a team took its appeal back."""
    need_role(visitor, "appeal.made")
    asked = _asked(house, form)
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    if form.text("do") == "withdraw":
        return Redirect("/desk/appeals", status_code=303)
    return Redirect(f"/desk/appeals?filed={len(house.state.appeals)}", status_code=303)


@get("/judge/appeals/{number:int}")
async def show_appeal(
    request: Asked, house: InHouse, visitor: ByVisitor, number: FromPath[int]
) -> Response[str]:
    """One appeal, and what was decided."""
    need_role(visitor, "appeal.decided")
    text = appeal_text(house.state, number)
    decision = text.appeal.decision
    done = None
    if decision is not None:
        before, after = await asyncio.to_thread(house.book.around, decision.seq)
        done = effect(before, after, text.appeal)
    return house.show(request, visitor, _page(house.state, text, done))


@post("/judge/appeals/{number:int}", status_code=200)
async def decide(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    number: FromPath[int],
) -> Response[Any]:
    """Show what a decision would do, or take it."""
    need_role(visitor, "appeal.decided")
    state = house.state
    text = appeal_text(state, number)
    try:
        asked = _decision(state, text, form)
    except BadInput as fault:
        said = house.voice(state).sentence(fault.findings[0])
        page = _page(state, text, None, form, Told(text=said, good=False), fault)
        return house.show(request, visitor, page, 422)
    if form.text("do") == "try":
        return house.show(request, visitor, _tried(house, visitor, text, asked, form))
    if visitor.actor is not None:
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect(f"/judge/appeals/{number}", status_code=303)


def _tried(
    house: House, visitor: Visitor, text: AppealText, asked: Request, form: Posted
) -> AppealPage:
    state = house.state
    if visitor.actor is None:
        return _page(state, text, None, form)
    after = preview(state, visitor.actor, asked, house.book.now_ms())
    return _page(state, text, effect(state, after, text.appeal), form)


def _page(
    state: State,
    text: AppealText,
    done: Effect | None,
    form: Posted | None = None,
    told: Told | None = None,
    fault: BadInput | None = None,
) -> AppealPage:
    ref = _ref(text)
    faults = fault.findings if fault is not None else ()
    fields = None
    if ref is not None:
        typed = form.texts if form is not None else None
        card = _card(ref)
        whole = entry_form(state, card, filled=typed is None, typed=typed, faults=faults)
        fields = only_part(whole, ref.part)
    return AppealPage(
        text=text,
        sheet=sheet_view(state, ref) if ref is not None else None,
        form=fields,
        effect=done,
        typed=form.texts if form is not None else {},
        told=told,
        seen=state.subjects.get(f"appeal:{text.appeal.number}", 0),
        key=(form.text("key") if form is not None else "") or new_key(),
    )


def _decision(state: State, text: AppealText, form: Posted) -> Request:
    outcome, reason = form.text("outcome"), form.text("reason")
    number = text.appeal.number
    basis = {f"appeal:{number}": form.whole("seen") or 0}
    changes: tuple[Body, ...] = ()
    ref = _ref(text)
    if ref is not None and outcome == "result":
        shown = only_part(entry_form(state, _card(ref)), ref.part)
        event, _ = published(state)
        division = event.division(text.division)
        typed = read_entry(shown, form, division, need_all=True)
        changes = day.correct_score(ref, typed[0].result, reason).proposals
    elif ref is not None and outcome.startswith("lift:"):
        seq = (
            int(outcome.removeprefix("lift:"))
            if outcome[5:].isascii() and outcome[5:].isdigit()
            else 0
        )
        changes = day.lift_penalty(ref, seq, reason).proposals
    elif ref is not None and outcome in {"rerun:better", "rerun:replaces"}:
        how: Literal["better", "replaces"] = "better" if outcome == "rerun:better" else "replaces"
        changes = day.grant_rerun(ref.workout, ref.team, how, reason).proposals
    elif outcome not in {"rejected", "upheld"}:
        raise Unreadable("web.unknown_button", given=outcome[:80])
    return verdicts.decide_appeal(
        number, reason, upheld=outcome != "rejected", changes=changes, basis=basis
    )


def _asked(house: House, form: Posted) -> Request:
    deed = form.text("do")
    if deed == "withdraw":
        return verdicts.withdraw_appeal(form.whole("number") or 0, form.text("reason"))
    if deed != "file":
        raise Unreadable("web.unknown_button", given=deed[:80])
    ground = form.text("ground")
    if ground not in {"arithmetic", "standard", "lane", "other"}:
        raise Unreadable("web.unknown_button", given=ground[:80])
    workout, _, part = form.text("about").partition("/")
    return verdicts.make_appeal(
        form.text("team"),
        form.text("text"),
        ground=ground,  # type: ignore[arg-type]  # one of the four, as just seen
        handed_in_ms=_handed_in_ms(house, form.text("handed_in")),
        workout=workout,
        part=part,
    )


def _handed_in_ms(house: House, typed: str) -> int:
    """Return when the captain came: as typed on the wall's clock of today, else now."""
    now_ms, event = house.book.now_ms(), house.state.event
    if not typed or event is None:
        return now_ms
    today = wall_time(from_milliseconds(now_ms), event.zone).date()
    return milliseconds(local_instant(today, parse_clock(typed), event.zone))


def _parts(state: State) -> tuple[tuple[str, WorkoutTitle, str], ...]:
    event = state.event
    if event is None:
        return ()
    return tuple(
        (
            f"{workout.id}/{part.id}",
            workout_title(event, workout, CREW),
            (part.name or part.id) if len(workout.parts) > 1 else "",
        )
        for workout in event.workouts
        for part in workout.parts
    )


def _ref(text: AppealText) -> SheetRef | None:
    appeal = text.appeal
    if text.workout is None:
        return None
    return SheetRef(
        workout=appeal.workout, part=appeal.part, team=appeal.team, attempt=text.attempt
    )


def _card(ref: SheetRef) -> CardRef:
    return CardRef(workout=ref.workout, team=ref.team, attempt=ref.attempt)


HANDLERS = (show_appeals, file_or_withdraw, show_appeal, decide)
