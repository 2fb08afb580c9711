"""The library against published form and rates; see ``data`` for each source."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from callroom.model.movement import Angle, Height, Measure, Movement
from callroom.standards import all_movements, built_in, movement, scene_of
from callroom.standards.measuring import angle_deg

FOLDER = Path(__file__).parent / "data"


def read(name: str) -> dict[str, Any]:
    return tomllib.loads((FOLDER / name).read_text(encoding="utf-8"))


FORM, RATES = read("standards_of_form.toml"), read("repetition_rates.toml")
SQUATS = (
    "air_squat",
    "back_squat",
    "front_squat",
    "overhead_squat",
    "goblet_squat",
    "squat_clean",
    "squat_snatch",
    "thruster",
    "dumbbell_thruster",
    "hang_clean_thruster",
    "wall_ball_shot",
    "pistol_squat",
)
LOCKED_OVERHEAD = (
    "strict_press",
    "push_press",
    "push_jerk",
    "clean_and_jerk",
    "power_snatch",
    "squat_snatch",
    "hang_snatch",
    "overhead_squat",
    "thruster",
    "log_to_overhead",
    "keg_to_overhead",
)


def measures(one: Movement, stage: str) -> list[Measure]:
    return [measure for point in one.points if point.at == stage for measure in point.measures]


def straight(joint: str, flexion_deg: float) -> Angle:
    return Angle(joint=joint, reads="flexion", at_most_deg=flexion_deg)  # type: ignore[arg-type]


@pytest.mark.parametrize("name", SQUATS)
def test_a_squat_is_deep_when_the_hip_crease_is_below_the_top_of_the_knee(name: str) -> None:
    assert FORM["squat"]["depth"]["strict"]
    found = [one for one in measures(movement(name), "bottom") if isinstance(one, Height)]
    depth = next(one for one in found if one.landmark == "hip_crease")
    assert (depth.relation, depth.than) == ("below", "top_of_knee")


@pytest.mark.parametrize("name", ["air_squat", "back_squat", "front_squat", "overhead_squat"])
def test_a_squat_ends_on_straight_knees(name: str) -> None:
    limit = FORM["squat"]["finish"]["knee_flexion_at_finish_deg"]
    assert straight("knee", limit) in measures(movement(name), "finish")


@pytest.mark.parametrize("name", LOCKED_OVERHEAD)
def test_overhead_means_arms_to_full_extension(name: str) -> None:
    limit = FORM["overhead"]["lockout"]["elbow_flexion_deg"]
    assert straight("elbow", limit) in measures(movement(name), "finish")


@pytest.mark.parametrize("name", ["pull_up", "chin_up", "chest_to_bar_pull_up", "dead_hang"])
def test_a_pull_up_starts_from_straight_arms_whichever_way_they_are_read(name: str) -> None:
    strict, interior = FORM["pull_up"]["strict"], FORM["pull_up"]["interior"]
    assert 180 - interior["elbow_interior_angle_deg"] == interior["elbow_flexion_deg"]
    one = movement(name)
    stages = {"start", "throughout"}
    asked = [measure for stage in stages for measure in measures(one, stage)]
    assert straight("elbow", strict["elbow_flexion_at_bottom_deg"]) in asked
    scene = scene_of(one.figure("start"), built_in().poses)
    for side in ("near", "far"):
        assert angle_deg("elbow", "flexion", side, scene) == pytest.approx(
            interior["elbow_flexion_deg"], abs=1e-5
        )
        assert angle_deg("elbow", "interior", side, scene) == pytest.approx(
            interior["elbow_interior_angle_deg"], abs=1e-5
        )


def test_a_pull_up_counts_with_the_chin_above_the_bar() -> None:
    assert FORM["pull_up"]["strict"]["count"] == "chin above the bar"
    for name in ("pull_up", "chin_up"):
        assert Height(landmark="chin", relation="above", than="rig") in measures(
            movement(name), "finish"
        )


def test_swinging_and_a_resting_chin_are_faults_of_a_strict_pull_up() -> None:
    assert len(FORM["pull_up"]["strict"]["faults"]) == 2
    labels = {reason.label for reason in movement("pull_up").no_reps_for(frozenset())}
    assert {"Swinging", "Chin rested"} <= labels
    allowed = movement("pull_up").no_reps_for(frozenset({"kip"}))
    assert "Swinging" not in {reason.label for reason in allowed}


def test_a_push_up_brings_the_upper_arm_level_and_the_elbow_straight() -> None:
    published = FORM["push_up"]["marines"]
    one = movement("push_up")
    assert published["upper_arm"] == "parallel to the ground or lower"
    assert Height(landmark="shoulder", relation="at_or_below", than="elbow") in measures(
        one, "bottom"
    )
    top = straight("elbow", published["elbow_flexion_top_deg"])
    assert top in measures(one, "start")
    assert top in measures(one, "finish")


def test_every_straight_limb_in_the_library_is_nought_degrees_of_flexion() -> None:
    full = FORM["neutral_zero"]["full_extension_deg"]
    named = [
        measure
        for one in all_movements()
        for point in one.points
        for measure in point.measures
        if isinstance(measure, Angle) and point.says.endswith(("is straight.", "are straight."))
    ]
    assert len(named) > 60
    limbs = [measure for measure in named if measure.joint in {"knee", "elbow"}]
    assert {measure.at_most_deg for measure in limbs} == {full}


def test_burpee_pace_is_the_published_mean() -> None:
    published = RATES["burpee"]
    found = {
        rate.who: float(rate.low) for rate in movement("burpee").cadence if rate.level == "measured"
    }
    for who in ("men", "women"):
        seconds = published["test_s"] / published[f"mean_{who}"]
        assert found[who] == pytest.approx(seconds, abs=0.006)


def test_swing_and_rope_pace_are_the_published_rates() -> None:
    swing = next(rate for rate in movement("kettlebell_swing").cadence if rate.level == "measured")
    per_minute = RATES["kettlebell_swing"]["reps_per_min"]
    assert float(swing.low) == pytest.approx(60 / per_minute, abs=0.006)
    rope = next(rate for rate in movement("single_under").cadence if rate.level == "measured")
    rates = RATES["single_under"]["skips_per_min"]
    assert float(rope.low) == pytest.approx(60 / max(rates), abs=0.006)
    assert float(rope.high) == pytest.approx(60 / min(rates), abs=0.006)
