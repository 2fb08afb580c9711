"""A day that does not go as planned: what is lost, how it can go on, who must be told."""

import asyncio
from typing import Any, ClassVar

import msgspec
from litestar import Response, get, post
from litestar.params import FromPath
from litestar.response import Redirect

from callroom.actions import planned
from callroom.actions.day_now import day_now, typed_s
from callroom.actions.request import Request
from callroom.bootstrap import repairing
from callroom.bootstrap.punctual import slack_now
from callroom.bootstrap.speech import speech_for
from callroom.model import Event, Loss, NotFound, Refusal, State, from_milliseconds
from callroom.paper import person_days_pdf
from callroom.views.page_head import public_at
from callroom.views.plan_desk import PlanPair, plan_pair
from callroom.views.plan_news import PlanNews, plan_news
from callroom.views.rota_day import HandOver, RotaDay, hand_overs, rota_day
from callroom.views.timetable import CREW, WorkoutTitle, workout_title
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page


class NoticeShown(msgspec.Struct, frozen=True, kw_only=True):
    """Who must be told what: teams by name (none: the crew of the floor), in a sentence."""

    teams: tuple[str, ...]
    text: str


class ProposalShown(msgspec.Struct, frozen=True, kw_only=True):
    """A way to go on, as it is shown; `faults` keep it from being accepted as it is."""

    name: str
    how: str
    acceptable: bool
    finish_s: int
    was_finish_s: int
    heats: int
    cost: int
    notices: tuple[NoticeShown, ...]
    faults: tuple[str, ...]
    warnings: tuple[str, ...]
    pair: PlanPair
    moves: tuple[HandOver, ...]


class RepairPage(Page, frozen=True, kw_only=True):
    """``/director/repair``: what is lost, how late the day is, and how it can go on.

    `ready`: there is a plan. `night`: the day is still to come, and thin heats are closed.
    `late` are sentences; `floors` are pairs of id and name with the numbers of the lanes.
    """

    template: ClassVar[str] = "repair.html"
    ready: bool
    night: bool
    late: tuple[str, ...]
    losses: tuple[Loss, ...]
    floors: tuple[tuple[str, str, tuple[int, ...]], ...]
    workouts: tuple[WorkoutTitle, ...]
    proposals: tuple[ProposalShown, ...]
    news: tuple[PlanNews, ...]
    crew_sheets: bool
    key: str


class ChangesPage(Page, frozen=True, kw_only=True):
    """``/changes``: what has changed in the running plan, for everyone."""

    template: ClassVar[str] = "changes.html"
    news: tuple[PlanNews, ...]


@get("/director/repair")
async def show_repair(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """How the day stands, and proposals for how it can go on."""
    need_director(visitor)
    return house.show(request, visitor, await asyncio.to_thread(_page, house))


def _page(house: House) -> RepairPage:
    state, now_ms = house.state, house.book.now_ms()
    event = state.event
    if event is None or state.plan is None:
        return _nothing(house)
    found = repairing.proposals(state, now_ms)
    repairing.keep_proposals(house.book, found)
    voice = house.voice(state)
    return RepairPage(
        ready=True,
        night=day_now(state, now_ms).now_s < -repairing.NIGHT_BEFORE_S,
        late=tuple(voice.sentence(one) for one in slack_now(state, now_ms)),
        losses=tuple(loss for loss in state.losses.values() if not loss.over),
        floors=tuple((one.id, one.name, one.lane_numbers) for one in event.floors),
        workouts=tuple(workout_title(event, one, CREW) for one in event.workouts),
        proposals=tuple(_shown(house, state, event, one) for one in found),
        news=plan_news(state, CREW),
        crew_sheets=state.rota is not None,
        key=new_key(),
    )


def _nothing(house: House) -> RepairPage:
    return RepairPage(
        ready=False,
        night=False,
        late=(),
        losses=(),
        floors=(),
        workouts=(),
        proposals=(),
        news=(),
        crew_sheets=house.state.rota is not None,
        key=new_key(),
    )


def _shown(house: House, state: State, event: Event, one: repairing.Proposal) -> ProposalShown:
    repaired, before = one.repaired, state.plan or one.repaired.plan
    after = msgspec.structs.replace(state, plan=repaired.plan)
    voice = house.voice(after)
    was = {heat.id: heat for heat in before.heats}
    moved = one.rota is not None and one.moves
    along = repairing.RotaRepair(rota=one.rota, moves=one.moves) if one.rota is not None else None
    return ProposalShown(
        name=one.name,
        how=repaired.how,
        acceptable=one.acceptable,
        finish_s=repaired.plan.finish_s,
        was_finish_s=before.finish_s,
        heats=sum(was.get(heat.id) != heat for heat in repaired.plan.heats),
        cost=repaired.cost,
        notices=tuple(
            NoticeShown(
                teams=()
                if "team" in notice.said.facts  # the sentence names it
                else tuple(voice.team(team) for team in notice.teams),
                text=voice.sentence(notice.said),
            )
            for notice in repaired.notices
        ),
        faults=tuple(
            voice.sentence(found) for found in repaired.findings if found.severity == "error"
        ),
        warnings=tuple(
            voice.sentence(found) for found in repaired.findings if found.severity != "error"
        ),
        pair=plan_pair(event, state.teams.values(), before, repaired.plan),
        moves=hand_overs(after, along, house.book.people()) if moved and along else (),
    )


@post("/director/repair", status_code=200)
async def act_on_repair(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Say what is lost or there again, or accept a proposal."""
    need_director(visitor)
    deed, _, rest = form.text("do").partition(" ")
    asked = await asyncio.to_thread(_asked, house, form, deed, rest)
    if visitor.actor is not None:
        key = f"{form.text('key') or new_key()}-{deed}-{rest}"[:100]
        await house.book.ask(visitor.actor, asked, key=key)
    if deed == "accept":
        await asyncio.to_thread(repairing.keep_proposals, house.book, ())
    return Redirect("/director/repair", status_code=303)


def _asked(house: House, form: Posted, deed: str, rest: str) -> Request:
    state = house.state
    if deed == "accept":
        proposal = repairing.kept_proposal(house.book, rest)
        return repairing.accepted(state, proposal, form.text("why"))
    if deed == "again":
        loss = state.losses.get(rest)
        if loss is None:
            raise Refusal("loss.not_lost", number=0)
        return planned.end_loss(loss)
    why = form.text("why")
    if deed == "lane":
        floor, _, lane = form.text("lane").rpartition("/")
        number = int(lane) if lane.isascii() and lane.isdigit() else None
        return planned.note_loss("lane", why, floor=floor, lane=number)
    if deed == "floor":
        until = form.text("until")
        ready_s = typed_s(state, until) if until else None
        return planned.note_loss("floor", why, floor=form.text("floor"), ready_s=ready_s)
    if deed == "kit":
        return planned.note_loss(
            "kit", why, workout=form.text("workout"), left=form.whole("lanes_left")
        )
    if deed == "judges":
        return planned.note_loss("judges", why, left=form.whole("judges_left"))
    raise Unreadable("web.unknown_button", given=form.text("do")[:80])


@get("/director/repair/{revision:int}/crew.pdf")
async def print_crew(
    house: InHouse, visitor: ByVisitor, revision: FromPath[int]
) -> Response[bytes]:
    """The sheets of those of the crew whose day a change of the running plan changed."""
    need_director(visitor)
    pdf = await asyncio.to_thread(_crew_pdf, house, revision)
    headers = {"content-disposition": f'attachment; filename="crew-revision-{revision}.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _crew_pdf(house: House, revision: int) -> bytes:
    state = house.state
    view = changed_days(state, revision, house)
    return person_days_pdf(
        view, size="a4", at=from_milliseconds(state.at_ms), speech=speech_for(state)
    )


def changed_days(state: State, revision: int, house: House) -> RotaDay:
    """Return the days of those of the crew for whom something changed since a revision."""
    repair = state.repairs.get(str(revision))
    if repair is None or state.rota is None or repair.rota_before is None:
        raise NotFound("plan.no_such_change", revision=revision)
    people = house.book.people()
    now = rota_day(state, state.rota, people)
    then_state = msgspec.structs.replace(state, plan=repair.before)
    then = rota_day(then_state, repair.rota_before, people)
    known = {day.person: day.lines for day in then.people}
    changed = tuple(day for day in now.people if known.get(day.person) != day.lines)
    return msgspec.structs.replace(now, people=changed)


@get("/changes")
async def show_changes(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[str]:
    """What has changed in the running plan, for everyone."""
    state = house.state
    audience = CREW if visitor.actor is not None else public_at(state, house.book.now_ms())
    page = ChangesPage(news=plan_news(state, audience))
    return house.show(request, visitor, page)


HANDLERS = (show_repair, act_on_repair, print_crew, show_changes)
