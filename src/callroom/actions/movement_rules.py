"""Rules for the director's own movements, and for what divisions allow and bar."""

from msgspec.structs import replace

from callroom.actions.case import Case
from callroom.actions.standards_check import check_standards
from callroom.journal.entries import movement_bodies
from callroom.model import BadInput, Event, Refusal, errors_among
from callroom.model.checking import check_event
from callroom.standards import built_in, check_own


def movement_set(case: Case, body: movement_bodies.MovementSet) -> None:
    """A movement that fits together and takes no variation away that the event names."""
    faults = errors_among(check_own((body.movement,)))
    if faults:
        raise BadInput(faults)
    _need_unjudged(case, body.movement.id)
    others = tuple(one for one in case.event.movements if one.id != body.movement.id)
    _need_sound(replace(case.event, movements=(*others, body.movement)))


def movement_dropped(case: Case, body: movement_bodies.MovementDropped) -> None:
    """Only one of the director's own, and not while a workout needs it."""
    event = case.event
    if body.movement not in {one.id for one in event.movements}:
        raise Refusal("movement.not_own", movement=body.movement)
    _need_unjudged(case, body.movement)
    using = users_of(event, body.movement)
    if using and body.movement not in built_in().movements:
        raise Refusal("movement.in_use", movement=body.movement, workouts=", ".join(using))
    kept = tuple(one for one in event.movements if one.id != body.movement)
    _need_sound(replace(event, movements=kept))


def movement_permitted(case: Case, body: movement_bodies.MovementPermitted) -> None:
    """Rules about this movement, for divisions there are, which no workout goes against."""
    for division_id in body.rules:
        case.need_division(division_id)
    _need_unjudged(case, body.movement)
    if any(rule.movement != body.movement for rules in body.rules.values() for rule in rules):
        raise Refusal("movement.other_rules", movement=body.movement)
    divisions = tuple(
        replace(
            division,
            movement_rules=(
                *(rule for rule in division.movement_rules if rule.movement != body.movement),
                *body.rules.get(division.id, ()),
            ),
        )
        for division in case.event.divisions
    )
    _need_sound(replace(case.event, divisions=divisions))


def users_of(event: Event, movement_id: str) -> tuple[str, ...]:
    """Return the ids of the workouts in which a movement is done or held."""
    return tuple(
        workout.id
        for workout in event.workouts
        if any(
            movement_id in {task.movement, task.while_holding}
            for part in workout.parts
            for block in part.blocks
            for task in block.tasks
        )
    )


def _need_unjudged(case: Case, movement_id: str) -> None:
    """Refuse to change a standard by which heats have been judged; that takes a ruling."""
    using = users_of(case.event, movement_id)
    heats = case.state.plan.heats if case.state.plan is not None else ()
    judged = [
        heat.id
        for heat in heats
        if heat.workout in using and case.state.heat_run(heat.id).started_ms is not None
    ]
    if judged:
        listed = ", ".join(judged[:5])
        raise Refusal("movement.already_judged", movement=movement_id, heats=listed)


def _need_sound(event: Event) -> None:
    faults = errors_among((*check_event(event), *check_standards(event)))
    if faults:
        raise BadInput(faults)
