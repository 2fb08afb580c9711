"""The director's own movements, and what divisions allow and bar, as decided and folded."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day
from callroom.actions.digest import inputs_digest
from callroom.actions.movements import drop_movement, permit_movement, set_movement
from callroom.actions.standards_check import RULES, check_standards
from callroom.actions.workouts import set_workout
from callroom.model import (
    Actor,
    BadInput,
    Event,
    MovementRule,
    NotAllowed,
    Refusal,
    Stale,
    State,
    VariationRule,
)
from callroom.model.movement import KitNeed
from callroom.standards import movement
from callroom.views.sentences import SENTENCES
from tests.views.building import example_event
from tests.web.building import DIRECTOR, FakeBook, example_book

OWN = replace(movement("deadlift"), id="log_pull", name="Log pull", many="log pulls")
CHANGED = replace(movement("thruster"), start="The bar on the blocks.")


def event_of(state: State) -> Event:
    assert state.event is not None
    return state.event


def refused(book: FakeBook, request: Any, actor: Actor = DIRECTOR) -> str:
    with pytest.raises(Refusal) as fault:
        book.do(actor, request)
    return fault.value.rule


def found(event: Event) -> list[str]:
    """The rules found beyond the example's two movements that the library does not know."""
    known = check_standards(example_event())
    return [one.rule for one in check_standards(event) if one not in known]


def with_task(**changed: Any) -> Event:
    """The example with the second task of its first workout changed."""
    event = example_event()
    workout = event.workouts[0]
    part = workout.parts[0]
    block = part.blocks[0]
    task = replace(block.tasks[1], **changed)
    block = replace(block, tasks=(block.tasks[0], task, *block.tasks[2:]))
    part = replace(part, blocks=(block, *part.blocks[1:]))
    return replace(event, workouts=(replace(workout, parts=(part,)), *event.workouts[1:]))


def test_a_movement_is_added_changed_and_given_up_again() -> None:
    book = example_book()
    book.do(DIRECTOR, set_movement(book.state, OWN, 0))
    book.do(DIRECTOR, set_movement(book.state, CHANGED, 0))
    assert event_of(book.state).movements == (OWN, CHANGED)
    seq = book.state.subjects["movement:log_pull"]
    heavier = replace(OWN, name="Heavy log pull")
    book.do(DIRECTOR, set_movement(book.state, heavier, seq))
    assert event_of(book.state).movements == (heavier, CHANGED)
    book.do(DIRECTOR, drop_movement("log_pull", book.state.subjects["movement:log_pull"]))
    assert event_of(book.state).movements == (CHANGED,)


def test_one_set_as_the_library_has_it_is_ones_own_no_more() -> None:
    book = example_book()
    book.do(DIRECTOR, set_movement(book.state, CHANGED, 0))
    seq = book.state.subjects["movement:thruster"]
    book.do(DIRECTOR, set_movement(book.state, movement("thruster"), seq))
    assert event_of(book.state).movements == ()


def test_two_who_change_one_movement_at_once_are_told() -> None:
    book = example_book()
    book.do(DIRECTOR, set_movement(book.state, OWN, 0))
    with pytest.raises(Stale):
        book.do(DIRECTOR, set_movement(book.state, replace(OWN, name="Other"), 0))


def test_only_the_director_may() -> None:
    book = example_book()
    judge = book.doors.holders["token-head_judge"]
    with pytest.raises(NotAllowed):
        book.do(judge, set_movement(book.state, OWN, 0))


def test_a_movement_that_does_not_fit_together_is_refused() -> None:
    book = example_book()
    with pytest.raises(BadInput) as fault:
        book.do(DIRECTOR, set_movement(book.state, replace(OWN, no_reps=()), 0))
    assert [one.rule for one in fault.value.findings] == ["standards.list_empty"]


def test_what_a_workout_needs_is_not_given_up() -> None:
    book = example_book()
    book.do(DIRECTOR, set_movement(book.state, OWN, 0))
    workout = with_task(movement="log_pull").workouts[0]
    book.do(DIRECTOR, set_workout(book.state, workout, book.state.subjects.get("event", 0)))
    seq = book.state.subjects["movement:log_pull"]
    assert refused(book, drop_movement("log_pull", seq)) == "movement.in_use"
    assert refused(book, drop_movement("row", 0)) == "movement.not_own"


def test_a_variation_that_a_workout_names_stays() -> None:
    book = example_book()
    workout = with_task(movement="push_up", loads=(), variation="knees").workouts[0]
    book.do(DIRECTOR, set_workout(book.state, workout, book.state.subjects.get("event", 0)))
    bare = replace(movement("push_up"), variations=(), points=movement("push_up").points[:1])
    bare = replace(bare, no_reps=tuple(replace(one, unless="") for one in bare.no_reps))
    with pytest.raises(BadInput) as fault:
        book.do(DIRECTOR, set_movement(book.state, bare, 0))
    assert {one.rule for one in fault.value.findings} == {"check.variation_unknown"}


def test_once_it_was_judged_by_it_takes_a_ruling() -> None:
    book = example_book()
    plan = book.state.plan
    assert plan is not None
    first = next(heat for heat in plan.heats if heat.workout == "w1")
    start_ms = book.now_ms() + first.start_s * 1000
    book.do(DIRECTOR, day.call_heat(first.id))
    book.do(DIRECTOR, day.start_heat(first.id, start_ms))
    assert refused(book, set_movement(book.state, CHANGED, 0)) == "movement.already_judged"
    book.do(DIRECTOR, set_movement(book.state, OWN, 0))


def test_a_division_bars_what_no_workout_asks_of_it() -> None:
    book = example_book()
    pairs = event_of(book.state).divisions[1]
    rule = MovementRule(movement="rope_climb")
    book.do(DIRECTOR, permit_movement("rope_climb", {pairs.id: (rule,)}, 0))
    assert event_of(book.state).division(pairs.id).bars("rope_climb")
    used = MovementRule(movement="thruster")
    with pytest.raises(BadInput) as fault:
        book.do(DIRECTOR, permit_movement("thruster", {pairs.id: (used,)}, 0))
    assert {one.rule for one in fault.value.findings} == {"task.movement_barred"}
    seq = book.state.subjects["movement:rope_climb"]
    book.do(DIRECTOR, permit_movement("rope_climb", {}, seq))
    assert event_of(book.state).division(pairs.id).movement_rules == ()


def test_rules_are_about_one_movement_and_divisions_there_are() -> None:
    book = example_book()
    rule = MovementRule(movement="row")
    pairs = event_of(book.state).divisions[1].id
    assert refused(book, permit_movement("rope_climb", {pairs: (rule,)}, 0)) == (
        "movement.other_rules"
    )
    assert refused(book, permit_movement("row", {"nobody": (rule,)}, 0)) == "division.unknown"
    unknown = MovementRule(movement="row", variation="kip", allowed=True)
    with pytest.raises(BadInput):
        book.do(DIRECTOR, permit_movement("row", {pairs: (unknown,)}, 0))


def test_a_workout_saved_from_a_page_keeps_movements_set_meanwhile() -> None:
    book = example_book()
    asked = set_workout(book.state, event_of(book.state).workouts[0], 0)
    book.do(DIRECTOR, set_movement(book.state, OWN, 0))
    with pytest.raises(Stale):
        book.do(DIRECTOR, asked)


def test_what_a_task_names_is_held_against_the_library() -> None:
    rules = (VariationRule(variation="upside_down", allowed=True),)
    assert found(with_task(variation_rules=rules)) == ["check.variation_unknown"]
    assert found(with_task(unit="metres")) == ["check.unit_unfit"]
    pairs = replace(
        example_event().divisions[1], movement_rules=(MovementRule(movement="levitation"),)
    )
    event = replace(example_event(), divisions=(example_event().divisions[0], pairs))
    assert found(event) == ["check.rule_unknown"]


def test_a_load_or_height_that_nobody_has_set_is_said() -> None:
    assert found(with_task(movement="deadlift", loads=())) == ["check.setting_missing"]
    assert found(with_task(movement="box_jump", loads=())) == ["check.setting_missing"]
    assert found(with_task(movement="pull_up", loads=())) == []


def test_a_better_sentence_makes_no_plan_old_and_other_kit_does() -> None:
    book = example_book()
    before = inputs_digest(book.state)
    book.do(DIRECTOR, set_movement(book.state, CHANGED, 0))
    rule = MovementRule(movement="rope_climb")
    book.do(DIRECTOR, permit_movement("rope_climb", {"pairs": (rule,)}, 0))
    after = inputs_digest(book.state)
    reworded = replace(CHANGED, finish="Tall, bar overhead.")
    seq = book.state.subjects["movement:thruster"]
    book.do(DIRECTOR, set_movement(book.state, reworded, seq))
    assert inputs_digest(book.state) == after
    heavier = replace(reworded, kit=(*reworded.kit, KitNeed(item="chalk")))
    seq = book.state.subjects["movement:thruster"]
    book.do(DIRECTOR, set_movement(book.state, heavier, seq))
    assert len({before, after, inputs_digest(book.state)}) == 3


def test_every_rule_of_the_check_has_its_sentence() -> None:
    assert [rule.rule for rule in RULES if rule.rule not in SENTENCES] == []
