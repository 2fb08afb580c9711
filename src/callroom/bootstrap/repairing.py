"""Proposals for a day that does not go as planned, and what it takes to accept one."""

import hashlib

import msgspec
from msgspec.structs import replace

from callroom.actions.day_now import NIGHT_BEFORE_S, day_now
from callroom.actions.planned import publish_rota, repair_plan
from callroom.actions.request import Request
from callroom.bootstrap.plan_drafts import DraftShelf
from callroom.bootstrap.planning import ask_apart
from callroom.bootstrap.rota_making import carried
from callroom.bootstrap.solving import RepairAsked
from callroom.model import Heat, Plan, Refusal, Rota, Stale, State, errors_among
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.day_now import DayNow, Repaired
from callroom.planner.repair import night_before, repair
from callroom.planner.repair.notices import notices
from callroom.planner.rota import Move, RotaRepair

__all__ = [
    "NIGHT_BEFORE_S",
    "Proposal",
    "RotaRepair",
    "accepted",
    "keep_proposals",
    "kept_proposal",
    "proposals",
]

SHELF = "repair/"
LEAD_S = 180
"""A proposal leaves so much time to read, accept and tell it before the first change [s]."""
LATE_FROM_S = 120
"""A start within two minutes of the plan is on time: nobody is told anything for it.

Common practice, no source; the same as in the forecast of lateness.
"""
MINUTE_S = 60


class Proposal(msgspec.Struct, frozen=True, kw_only=True):
    """A way to go on.

    Attributes
    ----------
    repaired
        The day from now on, who must be told what, and what the check says.
    based_on
        The revision it changes.
    rota, moves
        The rota that goes with it, and the shifts that change hands; none without a rota.
    at_ms
        When it was worked out [ms, UTC].
    """

    repaired: Repaired
    based_on: int
    rota: Rota | None
    moves: tuple[Move, ...]
    at_ms: int

    @property
    def name(self) -> str:
        """What tells this proposal from every other."""
        said = msgspec.msgpack.encode((self.repaired.plan, self.rota, self.based_on))
        return hashlib.sha256(said).hexdigest()[:16]

    @property
    def changes(self) -> bool:
        """Whether it changes anything."""
        return self.repaired.how != "unchanged"

    @property
    def acceptable(self) -> bool:
        """Whether it can be done as it is."""
        return self.changes and not errors_among(self.repaired.findings)


def proposals(state: State, now_ms: int, *, search: bool = True) -> tuple[Proposal, ...]:
    """Return how the day can go on: in the order published, and in another where that pays.

    The night before, thin heats are closed or filled up instead. The first one changes nothing
    where nothing has to; it then still says who must be told of lanes that stay empty. It takes
    a second or two where another order is looked for, in a process of its own.

    Raises
    ------
    Refusal
        Without an event, or a plan.
    """
    event, plan = state.event, state.plan
    if event is None:
        raise Refusal("book.no_event")
    if plan is None:
        raise Refusal("plan.none")
    event = with_crew_judges(event, state.crew.values())
    teams, now = tuple(state.teams.values()), day_now(state, now_ms)
    if now.now_s < -NIGHT_BEFORE_S:
        found = [night_before(event, teams, plan, now.withdrawn)]
    else:
        found = [repair(event, teams, plan, now)]
        ahead = _with_lead(plan, found[0], now)
        if ahead is None:
            found = [_unmoved(plan, found[0], now)]
        elif ahead != now:
            found = [repair(event, teams, plan, ahead)]
        if search and ahead is not None:
            asked = RepairAsked(event=event, teams=teams, plan=plan, now=ahead)
            found += _reordered(asked)
    return tuple(_proposal(state, one, now, now_ms) for one in found)


def _with_lead(plan: Plan, repaired: Repaired, now: DayNow) -> DayNow | None:
    """Return the day with time to tell what changes soon; None if nothing worth telling changes.

    Only floors on which something changes wait: a heat that is about to start on time elsewhere
    is not held up.
    """
    was = {heat.id: heat for heat in plan.heats}
    changed = [heat for heat in repaired.plan.heats if was.get(heat.id) != heat]
    gone = was.keys() - {heat.id for heat in repaired.plan.heats}
    if not gone and all(_is_slight(was.get(heat.id), heat) for heat in changed):
        return None
    until_s = -(-(now.now_s + LEAD_S) // MINUTE_S) * MINUTE_S
    soon = {heat.floor for heat in changed if heat.start_s < until_s}
    waits = {floor: max(until_s, now.ready_s.get(floor, 0)) for floor in soon}
    return replace(now, ready_s={**now.ready_s, **waits})


def _is_slight(was: Heat | None, heat: Heat) -> bool:
    """Whether a heat is the same but for a start that nobody would call late."""
    if was is None or (was.floor, was.lanes) != (heat.floor, heat.lanes):
        return False
    return abs(heat.start_s - was.start_s) <= LATE_FROM_S


def _unmoved(plan: Plan, repaired: Repaired, now: DayNow) -> Repaired:
    """Return the plan as it is, with what has to be told all the same: lanes that stay empty."""
    if repaired.how == "unchanged":
        return repaired
    return Repaired(how="unchanged", plan=plan, cost=0, notices=notices(plan, plan, now))


def _reordered(asked: RepairAsked) -> list[Repaired]:
    found: list[Repaired] = []

    def hear(_kind: str, data: bytes) -> None:
        found.append(msgspec.json.decode(data, type=Repaired))

    ask_apart("reorder", asked, hear)
    return found


def _proposal(state: State, repaired: Repaired, now: DayNow, now_ms: int) -> Proposal:
    based_on = state.plan.revision if state.plan is not None else 0
    along = None
    if repaired.how != "unchanged" and state.rota is not None and state.crew:
        along = carried(state, repaired.plan, now.now_s)
    return Proposal(
        repaired=repaired,
        based_on=based_on,
        rota=along.rota if along is not None else None,
        moves=along.moves if along is not None else (),
        at_ms=now_ms,
    )


def keep_proposals(shelf: DraftShelf, found: tuple[Proposal, ...]) -> None:
    """Keep proposals as they were shown, in place of those before."""
    for name in shelf.drafts(SHELF):
        shelf.keep_draft(name, None)
    for one in found:
        if one.acceptable:
            shelf.keep_draft(SHELF + one.name, msgspec.msgpack.encode(one))


def kept_proposal(shelf: DraftShelf, name: str) -> Proposal:
    """Return a proposal as it was shown.

    Raises
    ------
    Stale
        If there is none of that name any more: others have been worked out since.
    """
    kept = shelf.drafts(SHELF).get(SHELF + name)
    if kept is None:
        raise Stale("repair.gone")
    try:
        return msgspec.msgpack.decode(kept, type=Proposal)
    except msgspec.MsgspecError as fault:
        raise Stale("repair.gone") from fault


def accepted(state: State, proposal: Proposal, why: str) -> Request:
    """Return the request that makes a proposal the plan in force, with the rota that goes with it.

    Raises
    ------
    Stale
        If another plan is in force by now.
    """
    plan = state.plan
    if plan is None or plan.revision != proposal.based_on:
        raise Stale("repair.gone")
    rota = publish_rota(proposal.rota, state.rota_rules) if proposal.rota is not None else None
    return repair_plan(plan, proposal.repaired.plan, why, rota)
