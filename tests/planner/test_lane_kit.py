"""What one lane needs more of than there is: a workout that no laying of heats can save."""

from msgspec.structs import replace

from callroom.model import Block, KitItem, Part, Task, Workout
from callroom.planner.plates import lane_findings
from callroom.standards import built_in
from tests.planner import days
from tests.planner.plate_days import kg

MOVEMENTS = built_in().movements
EVENT = days.event()
TWO = Task(id="s", movement="kettlebell_swing", amounts=(10,), working=2)
BELLS = KitItem(id="k", name="Bell", kind="kettlebell", count=2, mass=kg(16))


def found(task: Task, *kit: KitItem) -> list[tuple[str, object, object]]:
    part = Part(id="a", kind="time", cap_s=600, blocks=(Block(id="b", tasks=(task,)),))
    workout = Workout(id="w", name="W", floor=EVENT.floors[0].id, parts=(part,))
    event = replace(EVENT, workouts=(workout,))
    findings = lane_findings(workout, event, kit, MOVEMENTS)
    return [(one.subject, one.facts["needed"], one.facts["there"]) for one in findings]


def test_a_lane_that_needs_more_than_there_is_is_named_by_its_task() -> None:
    at = "workouts.w.parts.a.blocks.b.tasks.s.movement"
    assert found(TWO, replace(BELLS, count=1)) == [(at, 2, 1)]
    assert found(TWO, BELLS) == []
    assert found(replace(TWO, working=1), replace(BELLS, count=1)) == []


def test_what_stands_on_another_floor_does_not_count() -> None:
    here, there = EVENT.floors[0].id, "elsewhere"
    assert found(TWO, replace(BELLS, floor=there))[0][2] == 0
    assert found(TWO, replace(BELLS, floor=here)) == []


def test_what_the_list_does_not_name_is_passed_over() -> None:
    assert found(TWO, KitItem(id="b", name="Bars", kind="bar", count=4)) == []
