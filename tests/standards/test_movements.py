"""The library as data: what is there, and that it can be read and pressed by a judge."""

from typing import get_args

import pytest

from callroom.model import NotFound
from callroom.model.movement import LONGEST_LABEL, Capacity, Cost, Family, Movement
from callroom.standards import all_movements, built_in, movement

MOVEMENTS = all_movements()
NO_SOURCE = "common practice, no source"

# What the trade expects to find, by family.
EXPECTED = {
    "barbell": """deadlift sumo_deadlift power_clean hang_clean squat_clean clean_and_jerk
        push_press push_jerk strict_press power_snatch hang_snatch squat_snatch overhead_squat
        front_squat back_squat thruster hang_clean_thruster barbell_lunge""",
    "dumbbell": """dumbbell_snatch dumbbell_clean_and_press dumbbell_bench_press
        dumbbell_box_step_over dumbbell_bear_crawl dumbbell_lunge burpee_dumbbell_swing""",
    "kettlebell": "kettlebell_swing goblet_squat kettlebell_snatch",
    "ball": "wall_ball_shot medicine_ball_clean slam_ball",
    "hanging": """pull_up chin_up chest_to_bar_pull_up bar_muscle_up ring_muscle_up toes_to_bar
        toes_to_rings knees_to_elbows ring_dip rope_climb ring_row""",
    "floor": """push_up handstand_push_up wall_walk handstand_walk handstand_walk_obstacle
        pistol_squat sit_up v_up plank_hold air_squat burpee burpee_over_bar""",
    "jump": """burpee_box_jump_over box_jump box_jump_over broad_jump double_under
        single_under""",
    "object": """sandbag_clean sandbag_over_shoulder sandbag_carry team_sandbag_run yoke_carry
        farmer_carry sled_push sled_drag tyre_flip log_to_overhead keg_to_overhead
        team_log_lift""",
    "engine": "run shuttle_run row ski bike swim",
}


def named(one: Movement) -> str:
    return one.id


def test_there_are_enough_movements() -> None:
    assert len(MOVEMENTS) >= 60
    assert len({one.id for one in MOVEMENTS}) == len(MOVEMENTS)
    assert len({one.name for one in MOVEMENTS}) == len(MOVEMENTS)


@pytest.mark.parametrize("family", EXPECTED)
def test_every_expected_movement_is_there(family: str) -> None:
    found = {one.id for one in MOVEMENTS if one.family == family}
    assert set(EXPECTED[family].split()) <= found


def test_movements_come_family_by_family() -> None:
    families = [one.family for one in MOVEMENTS]
    assert list(dict.fromkeys(families)) == list(get_args(Family))
    assert families == sorted(families, key=get_args(Family).index)


def test_a_movement_that_is_not_there_is_refused_with_the_nearest() -> None:
    with pytest.raises(NotFound) as refused:
        movement("dead_lift")
    assert refused.value.facts == {"given": "dead_lift", "near": "deadlift"}


@pytest.mark.parametrize("one", MOVEMENTS, ids=named)
def test_no_rep_labels_fit_a_button_and_differ(one: Movement) -> None:
    labels = [reason.label for reason in one.no_reps]
    assert all(0 < len(label) <= LONGEST_LABEL for label in labels)
    assert len(set(labels)) == len(labels)
    assert len(labels) >= 3


@pytest.mark.parametrize("one", MOVEMENTS, ids=named)
def test_every_no_rep_says_what_it_costs(one: Movement) -> None:
    costs = {reason.cost for reason in one.no_reps}
    assert costs <= set(get_args(Cost))
    if one.counting[0].unit == "seconds":
        assert costs == {"stand_still"}
    if one.counting[0].unit == "metres":
        assert "stretch" in costs


def test_every_cost_is_used() -> None:
    used = {reason.cost for one in MOVEMENTS for reason in one.no_reps}
    assert used == set(get_args(Cost))


@pytest.mark.parametrize("one", MOVEMENTS, ids=named)
def test_texts_are_whole_sentences(one: Movement) -> None:
    texts = [one.start, one.finish, one.judge.stands, one.judge.watches, *one.together]
    texts += [point.says for point in one.points] + [reason.says for reason in one.no_reps]
    texts += [variation.says for variation in one.variations] + list(one.cautions)
    texts += [counting.counts for counting in one.counting]
    texts += [figure.caption for figure in one.figures]
    for text in texts:
        assert text[0].isupper() or text[0].isdigit(), text
        assert text.endswith("."), text
        assert "  " not in text, text


@pytest.mark.parametrize("one", MOVEMENTS, ids=named)
def test_a_movement_is_drawn_from_start_to_finish(one: Movement) -> None:
    stages = [figure.stage for figure in one.figures]
    assert stages[0] == "start"
    assert stages[-1] == "finish"
    assert len(set(stages)) == len(stages)


@pytest.mark.parametrize("one", MOVEMENTS, ids=named)
def test_a_movement_has_points_cautions_and_sourced_cadence(one: Movement) -> None:
    assert len(one.points) >= 2
    assert one.cautions
    assert one.variations
    for rate in one.cadence:
        published = NO_SOURCE not in rate.source
        assert published == (rate.level == "measured")


def test_most_movements_are_decided_by_something_measurable() -> None:
    measurable = [one for one in MOVEMENTS if any(point.measures for point in one.points)]
    assert {one.id for one in MOVEMENTS} - {one.id for one in measurable} == {
        "bike",
        "sled_drag",
        "swim",
    }


def test_a_standard_never_runs_empty_whatever_is_allowed() -> None:
    for one in MOVEMENTS:
        usual = one.allowed()
        assert len(one.no_reps_for(usual)) >= 2, one.id
        everything = frozenset(variation.id for variation in one.variations)
        assert one.no_reps_for(everything), one.id
        assert one.points_for(everything), one.id


def test_switches_of_a_division_change_what_is_in_force() -> None:
    swing = movement("kettlebell_swing")
    labels = {reason.label for reason in swing.no_reps_for(swing.allowed())}
    assert "Too low" in labels
    assert "Below eye height" not in labels
    lower = swing.allowed({"eye_height": True})
    labels = {reason.label for reason in swing.no_reps_for(lower)}
    assert "Too low" not in labels
    assert "Below eye height" in labels
    said = {point.says for point in swing.points_for(lower)}
    assert "The kettlebell reaches eye height." in said


def test_every_capacity_is_tested_by_some_movement() -> None:
    assert {tag for one in MOVEMENTS for tag in one.capacities} == set(get_args(Capacity))


def test_no_pose_is_left_over() -> None:
    used = {figure.pose for one in MOVEMENTS for figure in one.figures}
    assert set(built_in().poses) == used


def test_work_in_step_has_points_of_its_own_where_it_can_be_done() -> None:
    alone = {one.id for one in MOVEMENTS if not one.together}
    assert "thruster" not in alone
    assert "ring_muscle_up" in alone
    assert len(alone) < 20
