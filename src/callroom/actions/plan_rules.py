"""Rules for what is decided about a plan in force: its repair, what is lost, the rota."""

from callroom.actions.case import Case, need_reason
from callroom.actions.day_now import day_now
from callroom.actions.known_crew import known_crew
from callroom.actions.setup_rules import need_next_revision
from callroom.journal.entries import bodies
from callroom.model import (
    BadInput,
    CrewMember,
    Finding,
    Plan,
    Refusal,
    Rota,
    RotaRules,
    errors_among,
)
from callroom.planner.check import check_plan, check_repair, check_rota
from callroom.planner.repair.notices import notices


def plan_repaired(case: Case, body: bodies.PlanRepaired) -> None:
    """The next revision: nothing begun is touched, and no promise is broken.

    What was wrong with the plan before, for example a team that entered late, is not held
    against a repair.
    """
    need_next_revision(case, body.revision)
    need_reason(body.why)
    if not body.heats and not body.removed:
        raise Refusal("plan.nothing_repaired")
    before, after = case.plan, repaired_plan(case.plan, body)
    now = day_now(case.state, case.now_ms)
    teams = tuple(case.state.teams.values())
    told = notices(before, after, now)
    found = check_repair(case.event, teams, before, after, now=now, notices=told)
    known = {(one.rule, one.subject) for one in _faults_of(case, before)}
    fresh = (one for one in _faults_of(case, after) if (one.rule, one.subject) not in known)
    faults = errors_among((*found, *fresh))
    if faults:
        raise BadInput(faults)


def repaired_plan(before: Plan, body: bodies.PlanRepaired) -> Plan:
    """Return the plan that a repair makes of the one `before`."""
    kept = {heat.id: heat for heat in before.heats if heat.id not in body.removed}
    kept.update((heat.id, heat) for heat in body.heats)
    return Plan(
        revision=body.revision,
        inputs_digest=before.inputs_digest,
        heats=tuple(sorted(kept.values(), key=lambda heat: (heat.start_s, heat.floor, heat.id))),
        pauses=before.pauses,
        finish_s=max((heat.end_s for heat in kept.values()), default=0),
    )


def _faults_of(case: Case, plan: Plan) -> tuple[Finding, ...]:
    withdrawn = case.state.team_status.keys()
    return errors_among(
        check_plan(case.event, case.state.teams.values(), plan, withdrawn=withdrawn)
    )


def plan_frozen(case: Case, body: bodies.PlanFrozen) -> None:
    """The plan in force is frozen once."""
    _need_in_force(case, body.revision)
    if case.state.plan_told is not None and case.state.plan_told.frozen:
        raise Refusal("plan.frozen_already")


def plan_thawed(case: Case, body: bodies.PlanThawed) -> None:
    """Only a frozen plan can be thawed, and somebody says why."""
    _need_in_force(case, body.revision)
    if case.state.plan_told is None or not case.state.plan_told.frozen:
        raise Refusal("plan.not_frozen")
    need_reason(body.reason)


def _need_in_force(case: Case, revision: int) -> None:
    if case.plan.revision != revision:
        raise Refusal("plan.other_revision", given=revision, wanted=case.plan.revision)


def loss_noted(case: Case, body: bodies.LossNoted) -> None:
    """A loss is of something the event has, and says how much is left of it."""
    need_reason(body.why)
    floors = {floor.id: floor for floor in case.event.floors}
    if body.kind in {"lane", "floor"} and body.floor not in floors:
        raise Refusal("loss.unknown_floor", floor=body.floor)
    if body.kind == "lane" and body.lane not in floors[body.floor].lane_numbers:
        raise Refusal("loss.unknown_lane", floor=floors[body.floor].name, lane=body.lane)
    if body.kind == "kit" and body.workout not in {one.id for one in case.event.workouts}:
        raise Refusal("workout.unknown", workout=body.workout)
    if body.kind in {"kit", "judges"} and (body.left is None or body.left < 0):
        raise Refusal("loss.no_number")


def loss_over(case: Case, body: bodies.LossOver) -> None:
    """Only what is lost can be there again."""
    loss = case.state.losses.get(str(body.number))
    if loss is None or loss.over:
        raise Refusal("loss.not_lost", number=body.number)


def rota_published(case: Case, body: bodies.RotaPublished) -> None:
    """A rota for the plan in force (or published in the same request), possible to work."""
    plan = _plan_in_force(case)
    if body.rota.plan_revision != plan.revision:
        raise Refusal("rota.other_plan", given=body.rota.plan_revision, wanted=plan.revision)
    _need_workable(case, plan, body.rota, body.rules)


def rota_changed(case: Case, body: bodies.RotaChanged) -> None:
    """Shifts of the rota change hands to people who are there, with a reason."""
    rota = case.state.rota
    if rota is None:
        raise Refusal("rota.none")
    need_reason(body.why)
    shifts = {shift.id for shift in rota.shifts}
    for duty in body.duties:
        if duty.shift not in shifts:
            raise Refusal("rota.shift_unknown", shift=duty.shift)
        if duty.person and duty.person not in case.state.crew:
            raise Refusal("person.unknown", person=duty.person)
    changed = rota.with_duties(body.duties)
    if changed == rota:
        raise Refusal("rota.nothing_changed")
    _need_workable(case, case.plan, changed, case.state.rota_rules)


def _plan_in_force(case: Case) -> Plan:
    for body in case.request.proposals:
        if isinstance(body, bodies.PlanPublished):
            return body.plan
        if isinstance(body, bodies.PlanRepaired):
            return repaired_plan(case.plan, body)
    return case.plan


def _need_workable(case: Case, plan: Plan, rota: Rota, rules: RotaRules) -> None:
    """Refuse a rota that nobody could work; what was worked already is history."""
    now_s = day_now(case.state, case.now_ms).now_s
    starts = {shift.id: shift.start_s for shift in rota.shifts}
    faults = [
        fault
        for fault in errors_among(
            check_rota(
                case.event,
                tuple(t for t in case.state.teams.values() if t.id not in case.state.team_status),
                plan,
                _crew_in_force(case),
                rota=rota,
                rules=rules,
            )
        )
        if starts.get(str(fault.facts.get("shift", "")), now_s) >= now_s
    ]
    if faults:
        raise BadInput(tuple(faults))


def _crew_in_force(case: Case) -> tuple[CrewMember, ...]:
    crew = dict(case.state.crew)
    for body in case.request.proposals:
        if isinstance(body, bodies.CrewSet):
            crew[body.member.person] = body.member
    return known_crew(case.state, crew.values())
