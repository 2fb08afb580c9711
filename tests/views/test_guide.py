"""The guide: every workout and standard of the event, and nothing before its release."""

from decimal import Decimal
from typing import get_args

import msgspec
import pytest
from msgspec.structs import replace

from callroom.bootstrap.speech import speech_for
from callroom.model import (
    Block,
    MovementRule,
    NotFound,
    Part,
    PublishedLoad,
    State,
    Task,
    TieBreak,
    VariationRule,
    Workout,
)
from callroom.model.movement import Cost
from callroom.standards import all_movements, built_in
from callroom.views import wording
from callroom.views.guide import Guide, guide, standard
from callroom.views.guide_rules import COSTS, cost, stage
from callroom.views.guide_text import GuideText, guide_text, standard_text
from callroom.views.timetable import CREW, Audience
from tests.views.building import example_event, example_state

PUBLIC = Audience(public=True, now_s=0)
STATE = example_state()
SPEECH = speech_for(STATE)


def text(view: Guide) -> GuideText:
    return guide_text(view, SPEECH)


def only(*tasks: Task, **part: object) -> State:
    """The example with one workout of these tasks."""
    given = {"kind": "time", "cap_s": 600, **part}
    made = Part(id="a", blocks=(Block(id="b1", tasks=tasks),), **given)  # type: ignore[arg-type]
    workout = Workout(id="w1", name="Only", floor="hall", parts=(made,))
    return example_state(example_event(workouts=(workout,)), plan=None)


def test_every_task_of_the_library_has_its_standard_once() -> None:
    view = guide(STATE, CREW)
    names = [one.movement.id for one in view.standards]
    asked = {
        task.movement
        for workout in example_event().workouts
        for part in workout.parts
        for block in part.blocks
        for task in block.tasks
    }
    assert len(names) == len(set(names))
    assert set(names) == asked & set(built_in().movements)
    assert set(view.workout("w1").unwritten) == {"row_calories", "synchronised_burpee"}


def test_before_its_release_a_workout_shows_its_number_alone() -> None:
    hidden = guide(STATE, PUBLIC)
    told = msgspec.json.encode(text(hidden)).decode()
    assert "Heavy single" not in told
    assert "clean_and_jerk" not in told
    assert text(hidden).workouts[2].released == "The work is told at 10:00."
    later = guide(STATE, Audience(public=True, now_s=2 * 3600))
    assert later == guide(STATE, CREW)


def test_divisions_that_do_the_same_share_one_scheme_and_loads_stand_apart() -> None:
    first = text(guide(STATE, CREW)).workouts[0].parts[0]
    assert [scheme.divisions for scheme in first.schemes] == [""]
    assert first.schemes[0].total == "200 counts in all"
    assert [row.totals for row in first.schemes[0].blocks[0].rows] == [
        ("60",), ("110",), ("150",), ("180",), ("200",),
    ]  # fmt: skip
    assert first.settings[0].cells == (
        ("women 29 kg / 65 lb", "men 43 kg / 95 lb"),
        ("29 kg / 65 lb",),
    )
    relay = text(guide(STATE, CREW)).workouts[4].parts[0]
    assert [scheme.divisions for scheme in relay.schemes] == ["Open fours", "Pairs"]


def test_rounds_that_differ_list_their_amounts_and_many_rounds_are_drawn_together() -> None:
    couplet = text(guide(STATE, CREW)).workouts[3].parts[0].schemes[0].blocks[0]
    assert couplet.rounds == ("1", "2", "3")
    assert couplet.rows[0].amounts == ("21", "15", "9")
    assert couplet.rows[1].totals == ("42", "72", "90")
    task = Task(id="t", movement="push_up", amounts=(5,))
    part = Part(id="a", kind="time", cap_s=900, blocks=(Block(id="b", tasks=(task,), rounds=20),))
    workout = Workout(id="w1", name="Long", floor="hall", parts=(part,))
    state = example_state(example_event(workouts=(workout,)), plan=None)
    block = text(guide(state, CREW)).workouts[0].parts[0].schemes[0].blocks[0]
    assert block.rounds == ("1", "2", "3", "4", "5", "6", "…", "20")
    assert block.rows[0].totals[-2:] == ("…", "100")


def test_an_open_ended_block_says_what_a_further_round_adds() -> None:
    block = text(guide(STATE, CREW)).workouts[1].parts[0].schemes[0].blocks[0]
    assert block.rounds == ("1", "2", "3")
    assert block.rows[2].totals == ("33", "66", "99")
    assert block.further == "Every further round adds 33."


def test_a_variation_that_a_task_names_is_allowed_and_changes_what_is_in_force() -> None:
    state = only(Task(id="d", movement="deadlift", amounts=(10,), variation="sumo"))
    view = guide(state, CREW).standards[0]
    usual = standard(built_in().movements["deadlift"], built_in())
    assert {point.says for point in usual.points} - {point.says for point in view.points} == {
        "The hands grip outside the knees."
    }
    told = standard_text(view, SPEECH)
    assert told.variation == "Sumo stance"
    assert next(one for one in told.variations if one.name == "Sumo stance").allowed
    assert "Hands inside" not in [one.label for one in told.no_reps]


def test_divisions_that_do_it_otherwise_have_a_standard_of_their_own() -> None:
    rules = (VariationRule(variation="knees", allowed=True, division="pairs"),)
    push = Task(id="p", movement="push_up", amounts=(10,), variation_rules=rules)
    state = only(push, Task(id="d", movement="deadlift", amounts=(5,)))
    view = guide(state, CREW)
    told = text(view)
    assert [(one.id, one.variation) for one in told.standards] == [
        ("push_up", "Open fours"),
        ("push_up", "On the knees · Pairs"),
        ("deadlift", ""),
    ]
    fours, pairs, _ = told.standards
    assert [one.allowed for one in fours.variations if one.name == "On the knees"] == [False]
    assert [one.allowed for one in pairs.variations if one.name == "On the knees"] == [True]
    part = told.workouts[0].parts[0]
    assert len(part.schemes) == 1
    assert [row.cells for row in part.settings] == [((), ("allowed: on the knees",))]
    assert told.workouts[0].standards == (0, 1, 2)


def test_what_a_division_allows_in_every_workout_holds_for_its_teams() -> None:
    state = only(Task(id="p", movement="push_up", amounts=(10,), while_holding="plank_hold"))
    event = state.event
    assert event is not None
    rule = MovementRule(movement="plank_hold", variation="knees", allowed=True)
    divisions = (replace(event.divisions[0], movement_rules=(rule,)), *event.divisions[1:])
    view = guide(replace(state, event=replace(event, divisions=divisions)), CREW)
    assert [(one.movement.id, one.asked) for one in view.standards] == [
        ("push_up", ()),
        ("plank_hold", ("knees",)),
        ("plank_hold", ()),
    ]


def test_the_events_own_movement_stands_in_the_place_of_the_librarys() -> None:
    own = replace(built_in().movements["deadlift"], start="The bar lies on the blocks.")
    state = only(Task(id="d", movement="deadlift", amounts=(10,)))
    assert state.event is not None
    changed = replace(state, event=replace(state.event, movements=(own,)))
    (one,) = text(guide(changed, CREW)).standards
    assert one.points[0].says == "The bar lies on the blocks."


def test_a_hold_of_a_partner_brings_its_own_standard() -> None:
    state = only(Task(id="p", movement="push_up", amounts=(10,), while_holding="plank_hold"))
    view = text(guide(state, CREW))
    assert [one.id for one in view.standards] == ["push_up", "plank_hold"]
    assert view.standards[1].uses[0].asks == ("Held while a partner works.",)


def test_what_the_event_asks_beyond_a_standard_stands_with_it() -> None:
    state = only(Task(id="b", movement="burpee", amounts=(9,), tighten="Both hands on the mat."))
    (one,) = text(guide(state, CREW)).standards
    assert one.uses[0].asks == ("Both hands on the mat.",)


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        ({"cap_rule": "second_per_missing"}, "one second for every count missing"),
        ({"tiebreak": TieBreak(after="d")}, "“deadlifts” is better"),
        ({"tiebreak": TieBreak(after="d")}, "at the same time share"),
        ({"kind": "work"}, "finished at the buzzer"),
        ({"kind": "work", "tiebreak": TieBreak(after="round")}, "last full round"),
        ({"kind": "distance"}, "whole metres"),
        ({"share_percent": 50}, "worth 50 %"),
        ({"resolution_ms": 100}, "cut off to 0.1 s"),
        ({}, "Equal results share the place."),
    ],
)
def test_how_a_result_comes_about_is_said(part: dict[str, object], expected: str) -> None:
    told = text(guide(only(Task(id="d", movement="deadlift", amounts=(10,)), **part), CREW))
    assert expected in " ".join(told.workouts[0].parts[0].rules)


def test_a_lift_costs_a_try_and_its_buzzer_is_said_to_judges() -> None:
    told = text(guide(STATE, CREW))
    part = told.workouts[2].parts[0]
    assert "A lift counts if it was complete at the buzzer." in part.judging
    lifted = next(one for one in told.standards if one.id == "clean_and_jerk")
    assert {one.cost for one in lifted.no_reps} == {
        "That try does not count.",
        "The whole attempt is lost.",
    }


def test_judges_are_told_where_the_split_is_written() -> None:
    state = only(
        Task(id="d", movement="deadlift", amounts=(10,)),
        Task(id="p", movement="push_up", amounts=(10,)),
        tiebreak=TieBreak(after="d"),
    )
    part = text(guide(state, CREW)).workouts[0].parts[0]
    assert "Split: write the time at the end of “deadlifts”." in part.judging
    assert [row.split for row in part.schemes[0].blocks[0].rows] == [True, False]


@pytest.mark.parametrize("movement", all_movements(), ids=lambda one: one.id)
def test_every_movement_of_the_library_can_be_said_whole(movement: object) -> None:
    one = standard(movement, built_in())  # type: ignore[arg-type]
    told = standard_text(one, SPEECH)
    assert {point.says for point in told.points} >= {one.movement.start, one.movement.finish}
    assert len(told.points) == len(one.points) + 2
    assert [figure.caption for figure in told.figures] == [f.caption for f in one.movement.figures]
    assert all(figure.svg.startswith("<svg") for figure in told.figures)
    stages = [point.when for point in told.points]
    assert len(list(dict.fromkeys(stages))) == len(
        [when for index, when in enumerate(stages) if index == 0 or stages[index - 1] != when]
    )


def test_every_cost_and_every_stage_of_the_library_has_words() -> None:
    assert set(COSTS) == set(get_args(Cost))
    assert cost("repetition", wording.ENGLISH, lifted=True) == "That try does not count."
    stages = {figure.stage for one in all_movements() for figure in one.figures}
    plain = {name.replace("_", " ").capitalize() for name in stages}
    assert stage("of_my_own", wording.ENGLISH) == "Of my own"
    assert all(stage(name, wording.ENGLISH)[0].isupper() for name in stages)
    assert len(plain) == len(stages)


def test_loads_are_those_of_each_division() -> None:
    loads = (
        PublishedLoad(division="open", kg=Decimal(40)),
        PublishedLoad(division="pairs", kg=Decimal(30)),
    )
    state = only(Task(id="d", movement="deadlift", amounts=(10,), loads=loads))
    (row,) = text(guide(state, CREW)).workouts[0].parts[0].settings
    assert row.cells == (("40 kg",), ("30 kg",))


def test_without_an_event_there_is_no_guide() -> None:
    with pytest.raises(NotFound):
        guide(State(), CREW)
