"""Rules for what is decided before the day: event, teams, plan."""

from collections.abc import Mapping

from callroom.actions.case import Case, need_reason
from callroom.actions.digest import inputs_digest
from callroom.actions.entering_rules import need_divisions_kept, need_own_leave
from callroom.actions.standards_check import check_standards
from callroom.journal.entries import bodies
from callroom.model import BadInput, Event, Heat, Plan, Refusal, Stale, errors_among
from callroom.model.checking import check_event, check_teams
from callroom.model.screen import LEAST_EACH_S, MOST_EACH_S
from callroom.planner.check import check_plan


def event_set(case: Case, body: bodies.EventSet) -> None:
    """An event without faults of its own, in the same book."""
    faults = errors_among((*check_event(body.event), *check_standards(body.event)))
    if faults:
        raise BadInput(faults)
    known = case.state.event
    if known is not None and known.id != body.event.id:
        raise Refusal("event.another", known=known.id, given=body.event.id)
    if case.state.bookings and case.event.currency != body.event.currency:
        raise Refusal("money.currency_used", known=case.event.currency, given=body.event.currency)
    _need_amended_workouts(case, body.event)
    need_divisions_kept(case, body.event)
    started = sorted(heat for heat, run in case.state.heats.items() if run.started_ms is not None)
    if started and known is not None and known.workouts != body.event.workouts:
        raise Refusal("event.already_running", heats=", ".join(started[:5]))


def _need_amended_workouts(case: Case, event: Event) -> None:
    """Refuse to undo an amendment by loading the file from before it."""
    given = {workout.id: workout for workout in event.workouts}
    for amendment in case.state.amendments.values():
        now = case.event.workout(amendment.workout)
        if given.get(now.id) != now:
            number = case.state.amendment_number(now.id)
            raise Refusal("event.amended", workout=now.id, number=number)


def team_set(case: Case, body: bodies.TeamSet) -> None:
    """A team that fits the event (the one set in the same request), and stays where it has run."""
    before = case.state.teams.get(body.team.id)
    if before is not None and before.division != body.team.division:
        _need_not_run(case, body.team.id)
    event = _event_in_force(case)
    faults = errors_among(check_teams(event, (body.team,), ()))
    if faults:
        raise BadInput(faults)


def team_left(case: Case, body: bodies.TeamLeft) -> None:
    """A team leaves once; at the desk, or by its own link before the day."""
    case.team(body.team)
    if case.actor.role == "public":
        need_own_leave(case, body)
    if body.team in case.state.team_status:
        raise Refusal("team.left_already", team=body.team)


def team_back(case: Case, body: bodies.TeamBack) -> None:
    """A team comes back after the leaving that is named, with a reason."""
    status = case.state.team_status.get(body.team)
    if status is None or status.since_seq != body.left_seq:
        raise Refusal("team.not_left", team=body.team)
    need_reason(body.reason)


def crew_left(case: Case, body: bodies.CrewLeft) -> None:
    """Somebody of the crew; who holds shifts of the rota in force gives them to others first."""
    rota = case.state.rota
    if body.person not in case.state.crew:
        raise Refusal("person.unknown", person=body.person)
    if rota is not None and rota.shifts_of(body.person):
        raise Refusal("crew.holds_shifts", person=body.person)


def plan_published(case: Case, body: bodies.PlanPublished) -> None:
    """The next revision, made from the data as it stands, without the impossible in it."""
    plan = body.plan
    if case.state.plan_told is not None and case.state.plan_told.frozen:
        raise Refusal("plan.is_frozen")
    need_next_revision(case, plan.revision)
    if plan.inputs_digest != inputs_digest(case.state):
        raise Stale("plan.old_inputs", revision=plan.revision)
    need_as_run(case, {heat.id: heat for heat in plan.heats})
    _need_possible(case, plan)


def plan_changed(case: Case, body: bodies.PlanChanged) -> None:
    """The next revision of the plan with some heats changed, without the impossible in it."""
    need_next_revision(case, body.revision)
    changed = {heat.id: heat for heat in case.plan.heats if heat.id not in body.removed}
    changed.update((heat.id, heat) for heat in body.heats)
    need_as_run(case, changed)
    plan = Plan(
        revision=body.revision,
        inputs_digest=case.plan.inputs_digest,
        heats=tuple(changed.values()),
        pauses=case.plan.pauses,
        finish_s=max((heat.end_s for heat in changed.values()), default=0),
    )
    _need_possible(case, plan)


def book_carried(case: Case, body: bodies.BookCarried) -> None:
    """The next generation, from the very entry that the copy ends with."""
    wanted = case.state.generation + 1
    if body.generation != wanted or body.after_seq != case.state.seq:
        raise Stale("carry.other_generation", given=body.generation, wanted=wanted)


def screen_set(case: Case, body: bodies.ScreenSet) -> None:
    """Each part stays long enough to be read, and short enough to wait for."""
    del case
    if not LEAST_EACH_S <= body.screen.each_s <= MOST_EACH_S:
        raise Refusal(
            "screen.each_s",
            given=body.screen.each_s,
            least=LEAST_EACH_S,
            most=MOST_EACH_S,
        )


def need_as_run(case: Case, heats: Mapping[str, Heat]) -> None:
    """Refuse a plan in which a heat that has started is not as it was run."""
    before = case.state.plan.heats if case.state.plan is not None else ()
    running = [
        heat.id
        for heat in before
        if case.state.heat_run(heat.id).started_ms is not None and heats.get(heat.id) != heat
    ]
    if running:
        raise Refusal("plan.heat_has_run", heats=", ".join(running))


def _need_not_run(case: Case, team: str) -> None:
    heats = case.state.plan.heats if case.state.plan is not None else ()
    for heat in heats:
        if team in heat.teams and case.state.heat_run(heat.id).started_ms is not None:
            raise Refusal("team.has_run", team=team)


def _event_in_force(case: Case) -> Event:
    for body in case.request.proposals:
        if isinstance(body, bodies.EventSet):
            return body.event
    return case.event


def need_next_revision(case: Case, revision: int) -> None:
    """Refuse a plan that does not follow the one in force."""
    wanted = 1 if case.state.plan is None else case.state.plan.revision + 1
    if revision != wanted:
        raise Stale("plan.other_revision", given=revision, wanted=wanted)


def _need_possible(case: Case, plan: Plan) -> None:
    found = check_plan(
        case.event, case.state.teams.values(), plan, withdrawn=case.state.team_status.keys()
    )
    faults = errors_among(found)
    if faults:
        raise BadInput(faults)
