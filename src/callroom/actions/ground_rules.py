"""Rules for the ground, the side programme and the checklists: what can be, and what exists."""

from collections import Counter
from collections.abc import Iterable

from callroom.actions.case import Case
from callroom.journal.entries import ground_bodies as bodies
from callroom.model import BadInput, Finding, Refusal
from callroom.model.ground import Ground

MOST_THINGS = 200
"""More than this nobody can read in one drawing. Common practice, no source."""


def ground_set(case: Case, body: bodies.GroundSet) -> None:
    """Every thing has an id of its own, and names a space, floor and workout there is."""
    found = tuple(_ground_faults(case, body.ground))
    if found:
        raise BadInput(found)


def _ground_faults(case: Case, ground: Ground) -> Iterable[Finding]:
    floors = {floor.id for floor in case.event.floors}
    workouts = {workout.id for workout in case.event.workouts}
    spaces = {space.id for space in ground.spaces}
    ids = [
        *(f"space:{one.id}" for one in ground.spaces),
        *(f"spot:{one.id}" for one in ground.spots),
        *(f"door:{one.id}" for one in ground.doors),
        *(f"course:{one.id}" for one in ground.courses),
        *(f"lanes:{one.floor}" for one in ground.fields),
    ]
    if len(ids) > MOST_THINGS:
        yield _fault("ground.too_many", "ground", count=len(ids), most=MOST_THINGS)
    for id_, count in Counter(ids).items():
        if count > 1:
            yield _fault("ground.twice", id_, thing=id_)
    for field in ground.fields:
        if field.floor not in floors:
            yield _fault("floor.unknown", f"lanes:{field.floor}", floor=field.floor)
    for door in ground.doors:
        if door.space not in spaces:
            yield _fault("ground.no_space", f"door:{door.id}", name=door.name, space=door.space)
    for course in ground.courses:
        if course.workout and course.workout not in workouts:
            yield _fault("workout.unknown", f"course:{course.id}", workout=course.workout)


def _fault(rule: str, subject: str, **facts: str | int) -> Finding:
    return Finding(rule=rule, severity="error", subject=subject, facts=facts)


def side_set(case: Case, body: bodies.SideSet) -> None:
    """It names floors of the event and somebody of the crew."""
    item = body.item
    unknown = sorted(set(item.floors) - {floor.id for floor in case.event.floors})
    if unknown:
        raise Refusal("floor.unknown", floor=unknown[0])
    if item.person and item.person not in case.state.crew:
        raise Refusal("person.unknown", person=item.person)
    if not item.name.strip() or not item.spans:
        raise Refusal("side.no_name" if item.spans else "side.no_time", name=item.name)


def side_dropped(case: Case, body: bodies.SideDropped) -> None:
    """It must be there."""
    if body.item not in case.state.side:
        raise Refusal("side.unknown", item=body.item)


def check_added(case: Case, body: bodies.CheckAdded) -> None:
    """It says something."""
    del case
    if not body.check.text.strip():
        raise Refusal("check.no_text")


def check_dropped(case: Case, body: bodies.CheckDropped) -> None:
    """Only what the director added can be taken out."""
    if body.check not in case.state.own_checks:
        raise Refusal("check.not_own", check=body.check)
