"""Rules for what changes the rules of the day: rulings."""

from callroom.actions.case import Case, need_reason
from callroom.journal.entries import bodies
from callroom.model import Refusal


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
