"""The desk: from a card's code or a lane to a form, from a form to a report."""

import asyncio
from collections.abc import Collection
from typing import Any
from urllib.parse import quote, urlencode

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions import day
from callroom.actions.request import propose
from callroom.model import BadInput, CallroomError, Heat, NotAllowed, Refusal, ScoreReport, State
from callroom.model.lanes import attempts, lane_states
from callroom.views.amendment_text import AmendmentText, amendment_text
from callroom.views.card_questions import card_questions
from callroom.views.codes import CardRef, read_code
from callroom.views.heat_desk import HeatScores, LaneScores, heat_scores, planned_heat
from callroom.views.masthead import published
from callroom.views.score_list import score_list
from callroom.views.timetable import CREW
from callroom.web.contexts import DeskHeatPage, DeskPage, EntryPage
from callroom.web.errors import NotSignedIn
from callroom.web.forms.entry import EntryForm, entry_form
from callroom.web.forms.questions import Questions, asked_mark
from callroom.web.forms.read_entry import PartResult, read_entry
from callroom.web.forms.typings import (
    Typing,
    differences,
    drop_typing,
    keep_typing,
    typing_of,
    typings,
)
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_role, new_key
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

_AT_THE_DESK = frozenset({"director", "head_judge", "desk"})


def need_desk(visitor: Visitor) -> None:
    """Refuse whoever does not work at the desk."""
    need_role(visitor, "score.reported")
    if visitor.role not in _AT_THE_DESK:
        raise NotAllowed("web.other_role", role=visitor.role)


@get("/desk")
async def show_desk(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    code: FromQuery[str] = "",
    saved: FromQuery[str] = "",
) -> Response[Any]:
    """The desk's start: type a code, or choose a heat; a good code leads on to its form."""
    need_desk(visitor)
    told = _saved(house, saved)
    if code.strip():
        try:
            ref = read_code(code, house.state)
        except CallroomError as fault:
            voice = house.voice(house.state)
            told = Told(text=voice.sentence(fault.finding()), good=False)
        else:
            return Redirect(_opened(house.state, ref), status_code=303)
    once = await asyncio.to_thread(typings, house.book)
    page = DeskPage(
        scores=score_list(house.state),
        code=code.strip()[:40],
        once=once,
        mine=_device(visitor),
        double_entry=house.state.double_entry,
        sets=visitor.may("desk.set"),
        told=told,
        key=new_key(),
    )
    return house.show(request, visitor, page)


@get("/c/{code:str}")
async def open_card(house: InHouse, visitor: ByVisitor, code: FromPath[str]) -> Redirect:
    """Where a card's QR code leads: to its form at the desk, to its lane on a judge's phone."""
    need_role(visitor, "score.reported")
    ref = read_code(code, house.state)
    if visitor.role in _AT_THE_DESK:
        return Redirect(_opened(house.state, ref), status_code=303)
    _, plan = published(house.state)
    heat = plan.heat_of(ref.workout, ref.team)
    lane = heat.lane_of(ref.team) if heat is not None else None
    where = f"/pad/{quote(heat.id)}/{lane}" if heat is not None and lane is not None else "/pad"
    return Redirect(where, status_code=303)


@get("/desk/heat/{heat_id:str}")
async def show_desk_heat(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    heat_id: FromPath[str],
    saved: FromQuery[str] = "",
    lane: FromQuery[str] = "",
) -> Response[Any]:
    """A heat's lanes, with what is in and what is missing; a typed `lane` opens its form."""
    need_desk(visitor)
    heat = heat_scores(house.state, heat_id)
    wanted = next((one for one in heat.lanes if str(one.lane) == lane.strip()), None)
    if wanted is not None:
        return Redirect(_lane_path(heat.slot.workout.id, wanted), status_code=303)
    told = _saved(house, saved)
    if lane.strip():
        said = house.words.gettext("There is no lane {given} in this heat.")
        told = Told(text=said.format(given=lane.strip()[:20]), good=False)
    return house.show(request, visitor, DeskHeatPage(heat=heat, told=told))


@get("/desk/card/{workout_id:str}/{team_id:str}/{attempt:int}")
async def show_entry(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    workout_id: FromPath[str],
    team_id: FromPath[str],
    attempt: FromPath[int],
    saved: FromQuery[str] = "",
    card: FromQuery[str] = "",
) -> Response[str]:
    """The form of one card; `card` says which amendment a card has that is from before one."""
    need_desk(visitor)
    number = int(card) if card.isdecimal() and len(card) < 6 else None
    ref = _as_on_card(house.state, workout_id, team_id, attempt, number)
    return _entry(request, house, visitor, entry_form(house.state, ref), _saved(house, saved))


@post("/desk/card/{workout_id:str}/{team_id:str}/{attempt:int}", status_code=200)
async def post_entry(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    form: PostedForm,
    workout_id: FromPath[str],
    team_id: FromPath[str],
    attempt: FromPath[int],
) -> Response[Any]:
    """Hand in what a card says, then go on to the next lane of the heat."""
    need_desk(visitor)
    state = house.state
    ref = _as_on_card(state, workout_id, team_id, attempt, form.whole("amendment"))
    empty = entry_form(state, ref)
    event, plan = published(state)
    division = event.division(state.teams[team_id].division)
    heat = plan.heat_of(ref.workout, ref.team)
    if heat is None:
        raise Refusal("entry.no_heat", team=team_id, workout=workout_id)
    try:
        results = read_entry(empty, form, division, asking=True)
    except BadInput as fault:
        again = entry_form(state, ref, typed=form.texts, faults=fault.findings)
        voice = house.voice(state)
        told = Told(text=voice.sentence(fault.findings[0]), good=False)
        return _entry(request, house, visitor, again, told, key=form.text("key"), status=422)
    first = await asyncio.to_thread(_typed_by_another, house, visitor, ref)
    typed = {one.part: one.result for one in results}
    found = card_questions(state, ref, typed, house.expected())
    found += differences(first, results) if first is not None else ()
    mark = asked_mark(results, found)
    if found and form.text("asked") != mark:
        again = entry_form(state, ref, typed=form.texts)
        asked_about = Questions(found=found, mark=mark)
        return _entry(request, house, visitor, again, None, key=form.text("key"), asked=asked_about)
    reports = [_report(ref, heat, one, signed=form.ticked("signed")) for one in results]
    if visitor.actor is None:
        raise NotSignedIn("web.not_signed_in")
    if state.double_entry and first is None:
        typing = Typing(
            ref=ref, device=visitor.actor.device, at_ms=house.book.now_ms(), results=results
        )
        await asyncio.to_thread(keep_typing, house.book, typing)
        said = f"once-{team_id}"
    else:
        asked = propose(*reports)
        outcome = await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
        await asyncio.to_thread(drop_typing, house.book, ref)
        said = str(outcome.seqs[0])
    skip = await asyncio.to_thread(_typed_here, house, visitor)
    return Redirect(_next_path(house.state, heat, ref, said, skip), status_code=303)


@post("/desk", status_code=200)
async def set_desk(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Say whether two people type each card."""
    need_role(visitor, "desk.set")
    if visitor.actor is not None:
        asked = day.set_desk(double_entry=form.text("double_entry") == "yes")
        await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    return Redirect("/desk", status_code=303)


def _typed_by_another(house: House, visitor: Visitor, ref: CardRef) -> Typing | None:
    """Return what somebody at another device typed of a card before."""
    typing = typing_of(house.book, ref)
    return typing if typing is not None and typing.device != _device(visitor) else None


def _typed_here(house: House, visitor: Visitor) -> frozenset[tuple[str, str, int]]:
    """Return the cards that this device has typed and somebody else has not yet."""
    return frozenset(
        (typing.ref.workout, typing.ref.team, typing.ref.attempt)
        for typing in typings(house.book)
        if typing.device == _device(visitor)
    )


def _device(visitor: Visitor) -> str:
    return visitor.actor.device if visitor.actor is not None else ""


def entry_path(ref: CardRef, *, old: bool = False) -> str:
    """Return the address of a card's form; `old`: the card is from before an amendment."""
    said = f"?card={ref.amendment}" if old else ""
    return (
        f"/desk/card/{quote(ref.workout, safe='')}/{quote(ref.team, safe='')}/{ref.attempt}{said}"
    )


def _as_on_card(state: State, workout: str, team: str, attempt: int, number: int | None) -> CardRef:
    """Return what a card is about, with the amendment it has (None: as the workout stands)."""
    amendment = state.amendment_number(workout) if number is None else number
    return CardRef(workout=workout, team=team, attempt=attempt, amendment=amendment)


def _opened(state: State, ref: CardRef) -> str:
    """Return the address that a card's code opens; an old card's form says so."""
    old = ref.amendment != state.amendment_number(ref.workout)
    return entry_path(_to_enter(state, ref), old=old)


def _to_enter(state: State, ref: CardRef) -> CardRef:
    """Return the attempt that a card means: a re-run is often written on the old card.

    The card's own attempt while something of it is missing, then the newest that was granted.
    """
    heat = published(state)[1].heat_of(ref.workout, ref.team)
    for lane in lane_states(state, heat) if heat is not None else ():
        if (lane.team, lane.attempt, lane.state) == (ref.team, ref.attempt, "missing"):
            return ref
    newest = attempts(state, ref.workout, ref.team)
    return msgspec.structs.replace(ref, attempt=newest)


def _entry(
    request: Asked,
    house: House,
    visitor: Visitor,
    form: EntryForm,
    told: Told | None,
    *,
    key: str = "",
    status: int = 200,
    asked: Questions | None = None,
) -> Response[str]:
    heat: HeatScores | None = None
    if form.heat is not None:
        heat = heat_scores(house.state, form.heat.id)
    amended = _amended_since(house.state, form.ref)
    page = EntryPage(
        form=form,
        heat=heat,
        amendment=form.ref.amendment,
        amended=amended,
        told=told,
        key=key or new_key(),
        asked=asked,
    )
    return house.show(request, visitor, page, status)


def _amended_since(state: State, ref: CardRef) -> AmendmentText | None:
    amendment = state.amendment_of(ref.workout)
    if amendment is None or amendment.number == ref.amendment:
        return None
    return amendment_text(state, amendment, CREW)


def _report(ref: CardRef, heat: Heat, typed: PartResult, *, signed: bool) -> ScoreReport:
    return ScoreReport(
        heat=heat.id,
        workout=ref.workout,
        part=typed.part,
        team=ref.team,
        lane=heat.lane_of(ref.team) or 0,
        source="paper",
        result=typed.result,
        attempt=ref.attempt,
        amendment=ref.amendment,
        signed=signed,
    )


def _next_path(
    state: State, heat: Heat, ref: CardRef, saved: str, skip: Collection[tuple[str, str, int]]
) -> str:
    """Return where the desk goes on: the next lane without a score, else the next such heat.

    Only heats whose cards can be at the desk: those that began. When none is left, the heat.
    What this device has typed and waits for a second person (`skip`) is passed over.
    """
    said = urlencode({"saved": saved})
    lanes = heat_scores(state, planned_heat(state, heat.id).id).lanes
    here = next((index for index, lane in enumerate(lanes) if lane.team == ref.team), 0)
    for lane in (*lanes[here + 1 :], *lanes[:here]):
        if lane.open and (ref.workout, lane.team, lane.attempt) not in skip:
            return f"{_lane_path(ref.workout, lane)}?{said}"
    for line in score_list(state).to_enter:
        further = heat_scores(state, line.slot.id).lanes if line.slot.id != heat.id else ()
        for lane in further:
            if lane.open and (line.slot.workout.id, lane.team, lane.attempt) not in skip:
                return f"{_lane_path(line.slot.workout.id, lane)}?{said}"
    return f"/desk/heat/{quote(heat.id, safe='')}?{said}"


def _lane_path(workout: str, lane: LaneScores) -> str:
    return entry_path(CardRef(workout=workout, team=lane.team, attempt=lane.attempt))


def _saved(house: House, saved: str) -> Told | None:
    """Return what was stored as entry `saved`, in words, so that a slip is seen at once."""
    if saved.startswith("once-"):
        team = house.state.teams.get(saved.removeprefix("once-"))
        said = house.words.gettext(
            "Typed once: {team}. It counts when a second person types it too."
        )
        return Told(text=said.format(team=team.name)) if team is not None else None
    if not (saved.isascii() and saved.isdigit()):
        return None
    voice, words, state = house.voice(house.state), house.words, house.state
    placed = [kept for sheet in state.sheets.values() for kept in sheet.reports]
    known = [*placed, *state.unplaced.values()]
    first = next((kept for kept in known if str(kept.seq) == saved), None)
    if first is None:
        return None
    # The parts of one card are one transaction, received at one time from one device.
    sent = (first.at_ms, first.device, first.report.team)
    card = [one for one in known if (one.at_ms, one.device, one.report.team) == sent]
    if any(one.unplaced for one in card):
        return Told(
            text=words.gettext(
                "Kept, but it does not fit as things stand, so it counts for nothing yet. The head"
                " judge sees it under “Without a place”."
            ),
            good=False,
        )
    results = [voice.report(one.report) for one in sorted(card, key=lambda one: one.seq)]
    text = words.gettext("Saved: lane {lane}, {team}: {result}").format(
        lane=first.report.lane, team=voice.team(first.report.team), result="; ".join(results)
    )
    return Told(text=text)


HANDLERS = (show_desk, set_desk, open_card, show_desk_heat, show_entry, post_entry)
