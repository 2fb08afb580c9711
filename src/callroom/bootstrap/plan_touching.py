"""Drafts of a plan changed by hand: each change judged, kept at once, taken back, done again."""

import functools

import msgspec
from msgspec.structs import replace

from callroom.bootstrap.plan_drafts import (
    DraftShelf,
    Hand,
    PlanDraft,
    draft_of,
    keep_plan,
    put_draft,
)
from callroom.model import Event, Finding, KitItem, Plan, Refusal, Stale, State, Team
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.plates import kit_findings
from callroom.planner.prices import longest_waits, spare_lanes
from callroom.planner.touch import Effects, Judged, Touch, effects, made, said, touched
from callroom.standards import library_with

OF_THE_PLAN_IN_FORCE = "in_force"


class Step(msgspec.Struct, frozen=True, kw_only=True):
    """What the last change did, and the one that would be done again; None: there is none."""

    last: Finding | None
    again: Finding | None


def teams_of(state: State) -> tuple[Team, ...]:
    """Return the teams that need heats."""
    return tuple(team for team in state.teams.values() if team.id not in state.team_status)


def draft_in_force(shelf: DraftShelf, state: State, made_ms: int) -> PlanDraft:
    """Keep the plan in force as a draft, to be changed by hand."""
    if state.plan is None:
        raise Refusal("plan.none")
    return keep_plan(shelf, state, state.plan, OF_THE_PLAN_IN_FORCE, made_ms)


def hand_of(state: State, draft: PlanDraft) -> Hand:
    """Return what was done to a draft by hand, which may be nothing."""
    if draft.hand is not None:
        return draft.hand
    event = with_crew_judges(draft.event, state.crew.values())
    return Hand(found=replace(draft, findings=check_plan(event, teams_of(state), draft.plan)))


def touch_draft(shelf: DraftShelf, state: State, number: int, turn: int, touch: Touch) -> PlanDraft:
    """Make one change to a draft and keep it.

    Raises
    ------
    NotFound
        If there is no such draft.
    Stale
        If it has changed since `turn`.
    Impossible
        If the change cannot be made; the draft stays as it is.
    """
    draft, hand = _opened(shelf, state, number, turn)
    known = hand.found.findings if draft.hand is None else draft.findings
    event, plan, findings = touched(
        draft.event,
        teams_of(state),
        draft.plan,
        touch,
        crew=state.crew.values(),
        known=known,
    )
    later = replace(hand, steps=(*hand.steps, touch), undone=(), turn=turn + 1)
    return _kept(shelf, _as_now(state, draft, later, (event, plan, findings)))


def undo(shelf: DraftShelf, state: State, number: int, turn: int) -> PlanDraft:
    """Take back the last change of a draft; refused if there is none."""
    draft, hand = _opened(shelf, state, number, turn)
    if not hand.steps:
        raise Refusal("touch.nothing_to_undo")
    *kept, last = hand.steps
    later = replace(hand, steps=tuple(kept), undone=(*hand.undone, last), turn=turn + 1)
    return _kept(shelf, _again(state, draft, later))


def redo(shelf: DraftShelf, state: State, number: int, turn: int) -> PlanDraft:
    """Make the change again that was taken back last; refused if there is none."""
    draft, hand = _opened(shelf, state, number, turn)
    if not hand.undone:
        raise Refusal("touch.nothing_to_redo")
    *kept, first = hand.undone
    later = replace(hand, steps=(*hand.steps, first), undone=tuple(kept), turn=turn + 1)
    return _kept(shelf, _again(state, draft, later))


def effects_of(state: State, draft: PlanDraft) -> Effects:
    """Return what came of everything that was done to a draft by hand, kit that is short too.

    Bars and plates are left out: loading them for a day takes seconds, and the draft's own page
    says what comes of that.
    """
    found = hand_of(state, draft).found
    findings = found.findings if draft.hand is None else draft.findings
    return effects(
        teams_of(state),
        _judged(state, found.event, found.plan, found.findings),
        _judged(state, draft.event, draft.plan, findings),
    )


def _judged(state: State, event: Event, plan: Plan, findings: tuple[Finding, ...]) -> Judged:
    return Judged(event, plan, (*findings, *_kit_short(state, event, plan)))


def _kit_short(state: State, event: Event, plan: Plan) -> tuple[Finding, ...]:
    if not state.kit:
        return ()
    return _short(msgspec.msgpack.encode((event, teams_of(state), plan, state.kit)))


# What the draft was found with is asked for after every change.
@functools.lru_cache(maxsize=16)
def _short(encoded: bytes) -> tuple[Finding, ...]:
    asked = tuple[Event, tuple[Team, ...], Plan, tuple[KitItem, ...]]
    event, teams, plan, kit = msgspec.msgpack.decode(encoded, type=asked)
    movements = library_with(event.movements).movements
    found = kit_findings(event, teams, plan, kit, movements)
    return tuple(one for one in found if one.severity != "note")


def step_of(state: State, draft: PlanDraft) -> Step:
    """Return what the last change did, and what would be done again."""
    hand = hand_of(state, draft)
    teams = {team.id: team for team in teams_of(state)}
    last = again = None
    if hand.steps:
        _, before = _walked(teams, hand, len(hand.steps) - 1)
        last = said(before, draft.plan, hand.steps[-1])
    if hand.undone:
        _, after = made(draft.event, teams, draft.plan, hand.undone[-1])
        again = said(draft.plan, after, hand.undone[-1])
    return Step(last=last, again=again)


def _opened(shelf: DraftShelf, state: State, number: int, turn: int) -> tuple[PlanDraft, Hand]:
    draft = draft_of(shelf, number)
    hand = hand_of(state, draft)
    if hand.turn != turn:
        raise Stale("touch.changed_meanwhile", number=number)
    return draft, hand


def _walked(teams: dict[str, Team], hand: Hand, steps: int) -> tuple[Event, Plan]:
    """Return event and plan after the first so many changes."""
    event, plan = hand.found.event, hand.found.plan
    for touch in hand.steps[:steps]:
        event, plan = made(event, teams, plan, touch)
    return event, plan


def _again(state: State, draft: PlanDraft, hand: Hand) -> PlanDraft:
    teams = teams_of(state)
    event, plan = _walked({team.id: team for team in teams}, hand, len(hand.steps))
    judged = with_crew_judges(event, state.crew.values())
    return _as_now(state, draft, hand, (event, plan, check_plan(judged, teams, plan)))


def _as_now(
    state: State, draft: PlanDraft, hand: Hand, now: tuple[Event, Plan, tuple[Finding, ...]]
) -> PlanDraft:
    event, plan, findings = now
    if not hand.steps:
        return replace(hand.found, hand=hand)
    return replace(
        draft,
        event=event,
        plan=plan,
        findings=findings,
        certificate_s=0,  # what was proven was proven of other heats and wishes
        because=(),
        stopped=False,
        longest_wait_s=max(longest_waits(event, plan).values(), default=0),
        spare_lanes=spare_lanes(event, teams_of(state), plan),
        hand=hand,
    )


def _kept(shelf: DraftShelf, draft: PlanDraft) -> PlanDraft:
    put_draft(shelf, draft)
    return draft
