"""The one place where roles and rules decide about a request."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

import msgspec

from callroom.actions import (
    change_rules,
    check_in_rules,
    clock_rules,
    entering_rules,
    ground_rules,
    helping_rules,
    line_up_rules,
    money_rules,
    movement_rules,
    pace_rules,
    plan_rules,
    running_rules,
    safety_rules,
    score_rules,
    setup_rules,
    verdict_rules,
)
from callroom.actions.case import Case
from callroom.actions.request import Asked, Request, kind_of
from callroom.journal.entries.kinds import KINDS
from callroom.model import Actor, NotAllowed, Refusal, Role, Stale, State


class Permit(msgspec.Struct, frozen=True):
    """Which roles may propose a kind, and the rule that judges it (None: no rule)."""

    roles: frozenset[Role]
    rule: Callable[[Case, Any], None] | None = None


_DIRECTOR: frozenset[Role] = frozenset({"director"})
_TEAMS_TOO: frozenset[Role] = frozenset({"director", "public"})
_JUDGING: frozenset[Role] = frozenset({"director", "head_judge"})
_DESK: frozenset[Role] = frozenset({"director", "head_judge", "desk"})
_FLOOR: frozenset[Role] = frozenset({"director", "head_judge", "crew"})
_CHECK_IN: frozenset[Role] = frozenset({"director", "head_judge", "desk", "crew"})
_ANYONE_IN: frozenset[Role] = frozenset({"director", "head_judge", "desk", "judge", "crew"})
_ALL_HANDS: frozenset[Role] = _ANYONE_IN | {"first_aid"}
_CARING: frozenset[Role] = frozenset({"director", "head_judge", "first_aid"})

PERMITS: Mapping[str, Permit] = MappingProxyType(
    {
        "event.set": Permit(_DIRECTOR, setup_rules.event_set),
        "team.set": Permit(_DIRECTOR, setup_rules.team_set),
        "team.left": Permit(_DESK | _TEAMS_TOO, setup_rules.team_left),
        "team.back": Permit(_JUDGING, setup_rules.team_back),
        "entering.set": Permit(_DIRECTOR, entering_rules.entering_set),
        "team.enrolled": Permit(_DESK | _TEAMS_TOO, entering_rules.team_enrolled),
        "team.revised": Permit(_TEAMS_TOO, entering_rules.team_revised),
        "team.accepted": Permit(_DIRECTOR, entering_rules.team_accepted),
        "enrolment.ended": Permit(_TEAMS_TOO, entering_rules.enrolment_ended),
        "helping.set": Permit(_DIRECTOR),
        "help.offered": Permit(_TEAMS_TOO, helping_rules.help_offered),
        "offer.ended": Permit(_DIRECTOR, helping_rules.offer_ended),
        "crew.set": Permit(_DIRECTOR),
        "crew.left": Permit(_DIRECTOR, setup_rules.crew_left),
        "kit.set": Permit(_DIRECTOR),
        "plan.published": Permit(_DIRECTOR, setup_rules.plan_published),
        "plan.changed": Permit(_DIRECTOR, setup_rules.plan_changed),
        "plan.repaired": Permit(_DIRECTOR, plan_rules.plan_repaired),
        "plan.frozen": Permit(_DIRECTOR, plan_rules.plan_frozen),
        "plan.thawed": Permit(_DIRECTOR, plan_rules.plan_thawed),
        "loss.noted": Permit(_FLOOR, plan_rules.loss_noted),
        "loss.over": Permit(_FLOOR, plan_rules.loss_over),
        "rota.published": Permit(_DIRECTOR, plan_rules.rota_published),
        "rota.changed": Permit(_DIRECTOR, plan_rules.rota_changed),
        "heat.called": Permit(_FLOOR, running_rules.heat_called),
        "heat.started": Permit(_FLOOR, running_rules.heat_started),
        "heat.restarted": Permit(_JUDGING, running_rules.heat_restarted),
        "heat.finished": Permit(_FLOOR, running_rules.heat_finished),
        "heat.stopped": Permit(_FLOOR, clock_rules.heat_stopped),
        "stop.ruled": Permit(_JUDGING, clock_rules.stop_ruled),
        "rerun.started": Permit(_FLOOR, clock_rules.rerun_started),
        "credit.given": Permit(_JUDGING, clock_rules.credit_given),
        "heat.confirmed": Permit(_JUDGING, running_rules.heat_confirmed),
        "heat.reopened": Permit(_JUDGING, running_rules.heat_reopened),
        "team.arrived": Permit(_ANYONE_IN),
        "line_up.set": Permit(_CHECK_IN, line_up_rules.line_up_set),
        "athlete.stood_down": Permit(_CHECK_IN | _CARING, line_up_rules.athlete_stood_down),
        "athlete.cleared": Permit(_CARING, line_up_rules.athlete_cleared),
        "pace.taken": Permit(_DIRECTOR, pace_rules.pace_taken),
        "pace.dropped": Permit(_DIRECTOR, pace_rules.pace_dropped),
        "team.no_show": Permit(_ANYONE_IN),
        "team.awaited": Permit(_ANYONE_IN),
        "heat.on_floor": Permit(_FLOOR, running_rules.heat_on_floor),
        "heat.stepped_back": Permit(_FLOOR, running_rules.heat_stepped_back),
        "score.reported": Permit(_ANYONE_IN),
        "lane.noted": Permit(_ANYONE_IN),
        "lane.ready": Permit(_ANYONE_IN),
        "report.chosen": Permit(_JUDGING, score_rules.report_chosen),
        "report.taken": Permit(_JUDGING, score_rules.report_taken),
        "report.dismissed": Permit(_JUDGING, score_rules.report_dismissed),
        "score.corrected": Permit(_JUDGING, score_rules.score_corrected),
        "penalty.given": Permit(_JUDGING, score_rules.penalty_given),
        "penalty.lifted": Permit(_JUDGING, score_rules.penalty_lifted),
        "rerun.granted": Permit(_JUDGING, score_rules.rerun_granted),
        "standings.posted": Permit(_JUDGING, running_rules.standings_posted),
        "ruling.made": Permit(_JUDGING, change_rules.ruling_made),
        "ruling.withdrawn": Permit(_JUDGING, change_rules.ruling_withdrawn),
        "ruling.acknowledged": Permit(_ANYONE_IN),
        "amendment.made": Permit(_JUDGING, change_rules.amendment_made),
        "appeal.made": Permit(_DESK, verdict_rules.appeal_made),
        "appeal.decided": Permit(_JUDGING, verdict_rules.appeal_decided),
        "appeal.withdrawn": Permit(_DESK, verdict_rules.appeal_withdrawn),
        "podium.released": Permit(_JUDGING, verdict_rules.podium_released),
        "embargo.set": Permit(_DIRECTOR, verdict_rules.embargo_set),
        "plan.reseeded": Permit(_DIRECTOR, verdict_rules.plan_reseeded),
        "device.joined": Permit(_DIRECTOR),
        "device.revoked": Permit(_DIRECTOR, running_rules.device_revoked),
        "training.taken": Permit(_ANYONE_IN),
        "book.carried": Permit(_DIRECTOR, setup_rules.book_carried),
        "desk.set": Permit(_JUDGING),
        "screen.set": Permit(_DIRECTOR, setup_rules.screen_set),
        "budget.set": Permit(_DIRECTOR, money_rules.budget_set),
        "money.booked": Permit(_DESK, money_rules.money_booked),
        "money.reversed": Permit(_DIRECTOR, money_rules.money_reversed),
        "money.promised": Permit(_DIRECTOR, money_rules.money_promised),
        "promise.ended": Permit(_DIRECTOR, money_rules.promise_ended),
        "receipt.kept": Permit(_DIRECTOR, money_rules.receipt_kept),
        "movement.set": Permit(_DIRECTOR, movement_rules.movement_set),
        "movement.dropped": Permit(_DIRECTOR, movement_rules.movement_dropped),
        "movement.permitted": Permit(_DIRECTOR, movement_rules.movement_permitted),
        "safety.set": Permit(_DIRECTOR, safety_rules.safety_set),
        "weather.read": Permit(_ALL_HANDS),
        "incident.noted": Permit(_ALL_HANDS),
        "incident.followed": Permit(_CARING, safety_rules.incident_followed),
        "ground.set": Permit(_DIRECTOR, ground_rules.ground_set),
        "side.set": Permit(_DIRECTOR, ground_rules.side_set),
        "side.dropped": Permit(_DIRECTOR, ground_rules.side_dropped),
        "check.ticked": Permit(_DIRECTOR),
        "check.added": Permit(_DIRECTOR, ground_rules.check_added),
        "check.dropped": Permit(_DIRECTOR, ground_rules.check_dropped),
        "athletes.here": Permit(_CHECK_IN, check_in_rules.athletes_here),
        "pack.given": Permit(_CHECK_IN, check_in_rules.pack_given),
        "paper.signed": Permit(_DESK, check_in_rules.paper_signed),
        "go.decided": Permit(_DIRECTOR, check_in_rules.go_decided),
        "book.taken": Permit(_DIRECTOR, check_in_rules.book_taken),
        "book.stayed": Permit(_DIRECTOR, check_in_rules.book_stayed),
        "person.erased": Permit(_DIRECTOR),
        "everyone.erased": Permit(_DIRECTOR),
        "rehearsal.marked": Permit(_DIRECTOR),
    }
)


def decide(state: State, actor: Actor, request: Request, now_ms: int) -> tuple[Asked, ...]:
    """Return the bodies of the entries a request makes, or refuse it whole.

    Parameters
    ----------
    state
        The State inside the write transaction, with everything accepted before.
    now_ms
        The time of the clock bootstrap supplies [ms, UTC].

    Raises
    ------
    Refusal
        If the book was taken to the hall, whatever is asked: a report stored here as well would
        make two books of it.
    NotAllowed
        If the role may not do this, or the device lost its role (reports are still taken).
    Stale
        If something the asker looked at has changed since.
    Refusal, BadInput
        If a rule says no.
    """
    _need_here(state, request)
    _need_fresh(state, request)
    case = Case(state=state, actor=actor, request=request, now_ms=now_ms)
    for body in request.proposals:
        kind = kind_of(body)
        permit = PERMITS[kind]
        _need_role(case, kind, permit)
        if permit.rule is not None:
            permit.rule(case, body)
    return request.proposals


# Personal details go when their time has come, also where a book was left behind.
_GO_ON = frozenset({"book.stayed", "book.carried", "everyone.erased"})


def _need_here(state: State, request: Request) -> None:
    if state.away is not None and any(kind_of(one) not in _GO_ON for one in request.proposals):
        raise Refusal("book.away")


def _need_fresh(state: State, request: Request) -> None:
    moved = [
        subject for subject, seq in request.basis.items() if state.subjects.get(subject, 0) != seq
    ]
    if moved:
        raise Stale("request.stale", subject=moved[0], count=len(moved))


def _need_role(case: Case, kind: str, permit: Permit) -> None:
    if case.actor.role not in permit.roles:
        raise NotAllowed("role.not_allowed", role=case.actor.role, kind=kind)
    device = case.state.devices.get(case.actor.device)
    lost = device is not None and device.revoked_seq is not None
    if lost and not KINDS[kind].is_report:
        raise NotAllowed("device.revoked", role=case.actor.role, kind=kind)
