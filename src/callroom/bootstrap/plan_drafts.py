"""Plans that were found and not told to anybody yet: kept in the book beside the journal."""

from collections.abc import Mapping
from typing import Protocol

import msgspec

from callroom.actions.digest import inputs_digest
from callroom.bootstrap.planning import Searched
from callroom.model import Event, Finding, NotFound, Plan, Refusal, Stale, State
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.prices import Option
from callroom.planner.prices.measures import longest_waits, spare_lanes
from callroom.planner.touch import Touch

SHELF = "plan/"
MOST_KEPT = 12
"""Older drafts make room: nobody chooses from more."""


class DraftShelf(Protocol):
    """Where drafts are kept: an open book."""

    def drafts(self, prefix: str, /) -> Mapping[str, bytes]:
        """Return what is kept, by its name, where that begins so."""

    def keep_draft(self, name: str, draft: bytes | None, /) -> None:
        """Keep a draft under a name, or (None) let go of it."""


class PlanDraft(msgspec.Struct, frozen=True, kw_only=True):
    """A plan to look at, to compare, and to publish or let go of.

    Attributes
    ----------
    number, made_ms
        Counts the drafts of a book; when it was made [ms, UTC].
    of
        What is different about it: an option's name, or empty for the day as wished.
    event, inputs_digest
        The event it was planned for, and the digest of the data in force when it was.
    certificate_s, because
        No plan of these heats is over before it, and why [s from the day's start].
    findings
        What the check has to say of it.
    stopped
        The search was stopped before its end.
    longest_wait_s, spare_lanes
        The longest wait of any team [s]; lanes every floor can lose before a workout needs
        another heat.
    hand
        What was done to it by hand; None: nothing yet.
    """

    number: int
    made_ms: int
    event: Event
    plan: Plan
    inputs_digest: str
    of: str = ""
    certificate_s: int = 0
    because: tuple[Finding, ...] = ()
    findings: tuple[Finding, ...] = ()
    stopped: bool = False
    longest_wait_s: int = 0
    spare_lanes: int = 0
    hand: "Hand | None" = None


class Hand(msgspec.Struct, frozen=True, kw_only=True):
    """What was done to a draft by hand.

    Attributes
    ----------
    found
        The draft as it was before, with what the check says of it.
    steps, undone
        The changes it has now, in order; those taken back, the next to be done again last.
    turn
        Counts every change, those taken back too: who changes it says which turn they saw.
    """

    found: PlanDraft
    steps: tuple[Touch, ...] = ()
    undone: tuple[Touch, ...] = ()
    turn: int = 0


def drafts_of(shelf: DraftShelf) -> tuple[PlanDraft, ...]:
    """Return the drafts of a book, the newest first; what cannot be read any more is left out."""
    found = []
    for kept in shelf.drafts(SHELF).values():
        try:
            found.append(msgspec.msgpack.decode(kept, type=PlanDraft))
        except msgspec.MsgspecError:
            continue  # written by another version: it can be searched for again
    return tuple(sorted(found, key=lambda draft: -draft.number))


def draft_of(shelf: DraftShelf, number: int) -> PlanDraft:
    """Return one draft; NotFound if there is none."""
    kept = shelf.drafts(f"{SHELF}{number}").get(f"{SHELF}{number}")
    try:
        if kept is not None:
            return msgspec.msgpack.decode(kept, type=PlanDraft)
    except msgspec.MsgspecError:
        pass  # written by another version: it can be searched for again
    raise NotFound("plan.no_draft", number=number)


def keep_searched(
    shelf: DraftShelf,
    state: State,
    searched: Searched,
    made_ms: int,
    *,
    wished: Event | None = None,
) -> PlanDraft | None:
    """Keep the plan that a search found, if it found one.

    It was for the day as it stands in `state`, or as `wished` where that is another one.
    """
    plan, event = searched.reply.plan, wished or state.event
    if plan is None or event is None:
        return None
    draft = PlanDraft(
        number=_next_number(shelf),
        made_ms=made_ms,
        event=event,
        plan=plan,
        inputs_digest=inputs_digest(state),
        certificate_s=searched.reply.certificate_s,
        because=searched.because,
        findings=searched.reply.findings,
        stopped=searched.stopped,
        longest_wait_s=max(longest_waits(event, plan).values(), default=0),
        spare_lanes=spare_lanes(event, state.teams.values(), plan),
    )
    _keep(shelf, draft)
    return draft


def keep_option(shelf: DraftShelf, state: State, option: Option, made_ms: int) -> PlanDraft:
    """Keep one of a few plans to choose from."""
    draft = PlanDraft(
        number=_next_number(shelf),
        made_ms=made_ms,
        of=option.name if option.name != "as_wished" else "",
        event=option.event,
        plan=option.plan,
        inputs_digest=inputs_digest(state),
        certificate_s=option.plan.bound_s or 0,
        longest_wait_s=option.longest_wait_s,
        spare_lanes=option.spare_lanes,
    )
    _keep(shelf, draft)
    return draft


def drop_draft(shelf: DraftShelf, number: int) -> None:
    """Let go of a draft."""
    shelf.keep_draft(f"{SHELF}{number}", None)


def put_draft(shelf: DraftShelf, draft: PlanDraft) -> None:
    """Keep a draft in the place of the one with its number."""
    shelf.keep_draft(f"{SHELF}{draft.number}", msgspec.msgpack.encode(draft))


def _keep(shelf: DraftShelf, draft: PlanDraft) -> None:
    for old in drafts_of(shelf)[MOST_KEPT - 1 :]:
        drop_draft(shelf, old.number)
    put_draft(shelf, draft)


def _next_number(shelf: DraftShelf) -> int:
    return 1 + max((draft.number for draft in drafts_of(shelf)), default=0)


def need_fresh(state: State, draft: PlanDraft) -> Event:
    """Return the event in force, if a draft was made from the data in force.

    Raises
    ------
    Stale
        If event, teams, crew or kit have changed since.
    """
    if state.event is None:
        raise Refusal("book.no_event")
    if draft.inputs_digest != inputs_digest(state):
        raise Stale("plan.draft_is_old", number=draft.number)
    return state.event


def numbered(state: State, draft: PlanDraft) -> Plan:
    """Return a draft's plan as the next revision of the data in force."""
    return msgspec.structs.replace(
        draft.plan,
        revision=1 if state.plan is None else state.plan.revision + 1,
        inputs_digest=inputs_digest(state),
    )


def keep_plan(shelf: DraftShelf, state: State, plan: Plan, of: str, made_ms: int) -> PlanDraft:
    """Keep a plan that was made from the one in force, with what the check says of it."""
    if state.event is None:
        raise Refusal("book.no_event")
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    draft = PlanDraft(
        number=_next_number(shelf),
        made_ms=made_ms,
        of=of,
        event=state.event,
        plan=plan,
        inputs_digest=inputs_digest(state),
        findings=check_plan(with_crew_judges(state.event, state.crew.values()), teams, plan),
        longest_wait_s=max(longest_waits(state.event, plan).values(), default=0),
        spare_lanes=spare_lanes(state.event, teams, plan),
    )
    _keep(shelf, draft)
    return draft
