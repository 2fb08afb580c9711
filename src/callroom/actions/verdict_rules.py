"""Rules for appeals, for podiums let out, and for results kept from the public."""

from callroom.actions.case import Case, need_reason
from callroom.actions.reseeding import new_faults, reseeding
from callroom.actions.setup_rules import need_next_revision
from callroom.journal.entries import verdict_bodies as bodies
from callroom.model import BadInput, Refusal, Stale, errors_among
from callroom.model.appeal import Appeal


def appeal_made(case: Case, body: bodies.AppealMade) -> None:
    """An appeal is about something of this event, says what, and comes in time.

    The time is that at which the captain came with it: typing it in may take the desk longer.
    """
    team = case.team(body.team)
    if body.workout or body.part:
        case.need_part(body.workout, body.part)
    if not body.text.strip():
        raise Refusal("appeal.says_nothing")
    if body.handed_in_ms > case.now_ms:
        ahead_s = (body.handed_in_ms - case.now_ms) // 1000
        raise Refusal("appeal.from_the_future", ahead_s=ahead_s)
    rules = case.event.rules
    posting = case.state.postings.get(team.division)
    if posting is None or rules.late_appeals == "marked":
        return
    over_ms = posting.appeals_until_ms(rules.appeal_window_s)
    if body.handed_in_ms > over_ms:
        late_s = (body.handed_in_ms - over_ms) // 1000
        raise Refusal("appeal.late", division=team.division, late_s=max(late_s, 1))


def appeal_decided(case: Case, body: bodies.AppealDecided) -> None:
    """An appeal is decided once, with a reason."""
    _need_open(case, body.number)
    need_reason(body.reason)


def appeal_withdrawn(case: Case, body: bodies.AppealWithdrawn) -> None:
    """Only an open appeal can be taken back."""
    _need_open(case, body.number)


def podium_released(case: Case, body: bodies.PodiumReleased) -> None:
    """Whoever presents what could still change says why."""
    case.need_division(body.division)
    need_reason(body.reason)


def embargo_set(case: Case, body: bodies.EmbargoSet) -> None:
    """Only the results of a workout of this event can be kept back or let out."""
    if body.workout not in {workout.id for workout in case.event.workouts}:
        raise Refusal("workout.unknown", workout=body.workout)


def plan_reseeded(case: Case, body: bodies.PlanReseeded) -> None:
    """Exactly what the standings say now, once the workouts before are confirmed."""
    case.need_division(body.division)
    need_next_revision(case, body.revision)
    proposed = reseeding(case.state, body.workout, body.division)
    if proposed.begun:
        raise Refusal("seeding.too_late", heats=", ".join(proposed.begun))
    if proposed.awaited:
        parts = ", ".join("/".join(name) for name in proposed.awaited)
        raise Refusal("seeding.awaited", division=body.division, parts=parts)
    if not body.heats or proposed.after != body.heats:
        raise Stale("seeding.other_standings", workout=body.workout, division=body.division)
    faults = errors_among(new_faults(case.state, proposed))
    if faults:
        raise BadInput(faults)


def _need_open(case: Case, number: int) -> Appeal:
    appeal = case.state.appeals.get(str(number))
    if appeal is None:
        raise Refusal("appeal.unknown", number=number)
    if not appeal.open:
        raise Refusal("appeal.closed", number=number)
    return appeal
