"""What is proven of a plan in one sentence, and two plans side by side."""

from msgspec.structs import replace

from callroom.views.plan_desk import gap_said, plan_pair
from callroom.views.sentences import sentence
from tests.views.building import example_state

STATE = example_state()


def test_the_gap_is_said_as_far_as_it_is_known() -> None:
    plan = STATE.plan
    assert plan is not None
    proven = gap_said(plan, plan.finish_s)
    assert proven.rule == "plan.gap_none"
    wishes = gap_said(replace(plan, bound_s=plan.finish_s), plan.finish_s - 600)
    assert wishes.rule == "plan.gap_wishes"
    some = gap_said(replace(plan, bound_s=plan.finish_s - 60), plan.finish_s - 600)
    assert "10:00" in sentence(some, event=STATE.event)
    assert gap_said(replace(plan, bound_s=None), 0).rule == "plan.gap_unknown"


def test_what_moved_is_marked_and_joined() -> None:
    event, plan = STATE.event, STATE.plan
    assert event is not None
    assert plan is not None
    first = plan.heats[0]
    later = replace(first, start_s=first.start_s + 60, end_s=first.end_s + 60)
    moved = replace(plan, heats=(later, *plan.heats[1:]))
    pair = plan_pair(event, STATE.teams.values(), plan, moved)
    floor = next(one for one in pair.floors if one.name == event.floor(first.floor).name)
    assert [box.start_s for box in floor.before if box.moved] == [first.start_s]
    assert [box.start_s for box in floor.after if box.moved] == [later.start_s]
    assert [(one.before_s, one.after_s) for one in floor.lines if one.before_s != one.after_s] == [
        (first.start_s, later.start_s)
    ]
    assert "compare.moved" in {one.rule for one in pair.said}


def test_two_plans_that_are_the_same_say_so() -> None:
    event, plan = STATE.event, STATE.plan
    assert event is not None
    assert plan is not None
    pair = plan_pair(event, STATE.teams.values(), plan, plan)
    assert [one.rule for one in pair.said] == ["compare.nothing"]
    assert not [box for floor in pair.floors for box in floor.before if box.moved]
