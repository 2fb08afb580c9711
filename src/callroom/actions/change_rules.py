"""Rules for what changes the rules of the day: rulings and amendments."""

from msgspec.structs import replace

from callroom.actions.case import Case, need_reason
from callroom.actions.standards_check import check_standards
from callroom.journal.entries import bodies
from callroom.model import BadInput, Heat, Plan, Refusal, State, Workout, errors_among
from callroom.model.checking import check_event


def ruling_made(case: Case, body: bodies.RulingMade) -> None:
    """A ruling asks and answers, about something the event has."""
    if not body.question.strip() or not body.answer.strip():
        raise Refusal("ruling.incomplete")
    workouts = [one for one in case.event.workouts if body.workout in {"", one.id}]
    if not workouts:
        raise Refusal("workout.unknown", workout=body.workout)
    used = {
        task.movement
        for workout in workouts
        for part in workout.parts
        for block in part.blocks
        for task in block.tasks
    }
    if body.movement and body.movement not in used:
        raise Refusal("ruling.movement_unknown", movement=body.movement)


def ruling_withdrawn(case: Case, body: bodies.RulingWithdrawn) -> None:
    """Only a ruling in force can be taken back, with a reason."""
    ruling = case.state.rulings.get(str(body.number))
    if ruling is None or not ruling.in_force:
        raise Refusal("ruling.not_in_force", number=body.number)
    need_reason(body.reason)


def amendment_made(case: Case, body: bodies.AmendmentMade) -> None:
    """A sound workout in place of the one told; heats that have run need a remedy."""
    before = _told(case, body)
    if not body.what.strip():
        raise Refusal("amendment.nothing_said")
    need_reason(body.why)
    if body.workout == before and body.remedy == "none":
        raise Refusal("amendment.nothing_changed", workout=before.id)
    if body.workout.floor != before.floor:
        raise Refusal("amendment.other_floor", workout=before.id)
    workouts = tuple(body.workout if one is before else one for one in case.event.workouts)
    after = replace(case.event, workouts=workouts)
    faults = errors_among((*check_event(after), *check_standards(after)))
    if faults:
        raise BadInput(faults)
    _need_remedy(case, body)


def _told(case: Case, body: bodies.AmendmentMade) -> Workout:
    for workout in case.event.workouts:
        if workout.id == body.workout.id:
            return workout
    raise Refusal("workout.unknown", workout=body.workout.id)


def _need_remedy(case: Case, body: bodies.AmendmentMade) -> None:
    heats = heats_in_order(case.plan, body.workout.id)
    stages = {heat.id: case.state.heat_run(heat.id) for heat in heats}
    running = [heat.id for heat in heats if stages[heat.id].stage == "started"]
    if running:
        raise Refusal("amendment.heat_running", heat=running[0])
    ran = [heat.id for heat in heats if stages[heat.id].started_ms is not None]
    if ran and body.remedy == "none":
        raise Refusal("amendment.needs_remedy", heats=", ".join(ran))
    if not ran and body.remedy in {"again", "common"}:
        raise Refusal("amendment.nothing_ran", workout=body.workout.id)
    if body.remedy == "common" and not body.common_point.strip():
        raise Refusal("amendment.no_common_point")
    first = first_to_come(case.state, case.plan, body.workout.id)
    if body.from_heat != first:
        raise Refusal("amendment.other_heat", given=body.from_heat or "–", wanted=first or "–")


def first_to_come(state: State, plan: Plan, workout_id: str) -> str:
    """Return the first heat of a workout that has not run, empty if all have."""
    for heat in heats_in_order(plan, workout_id):
        if state.heat_run(heat.id).started_ms is None:
            return heat.id
    return ""


def heats_in_order(plan: Plan, workout_id: str) -> tuple[Heat, ...]:
    """Return the heats of a workout in order of time."""
    mine = (heat for heat in plan.heats if heat.workout == workout_id)
    return tuple(sorted(mine, key=lambda heat: (heat.start_s, heat.id)))
