"""What `check` says of a book beyond what its parts say."""

import msgspec

from callroom.actions.checks import check_book
from callroom.model import CrewMember
from tests.views.building import example_event, example_state, long_haul


def test_a_movement_without_a_standard_is_said_with_the_nearest() -> None:
    workout = long_haul()
    part = workout.parts[0]
    block = part.blocks[0]
    task = msgspec.structs.replace(block.tasks[0], movement="deadlfit")
    block = msgspec.structs.replace(block, tasks=(task, *block.tasks[1:]))
    part = msgspec.structs.replace(part, blocks=(block, *part.blocks[1:]))
    event = example_event(workouts=(msgspec.structs.replace(workout, parts=(part,)),))
    found = [
        one for one in check_book(example_state(event)) if one.rule == "check.movement_unknown"
    ]
    assert {one.facts["movement"]: one.facts["like"] for one in found}["deadlfit"] == "deadlift"


def test_judges_counted_from_the_crew_list_are_counted_again() -> None:
    """A plan is stored once, and the crew goes on changing."""
    event = example_event()
    event = msgspec.structs.replace(
        event, wishes=msgspec.structs.replace(event.wishes, judges_from_crew=True)
    )
    crew = {
        name: CrewMember(person=name, posts=("judge",)) for name in (f"p{n}" for n in range(40))
    }
    enough = {one.rule for one in check_book(example_state(event, crew=crew))}
    assert "check.judges_short" not in enough
    one_left = {name: crew[name] for name in ("p0",)}
    short = [
        one
        for one in check_book(example_state(event, crew=one_left))
        if one.rule == "check.judges_short"
    ]
    assert short
    assert {one.facts["limit"] for one in short} == {1}
