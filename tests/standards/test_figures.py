"""Every figure is a believable body that meets its own standard."""

import tomllib
from pathlib import Path
from typing import Any

import msgspec
import pytest

from callroom.model.movement import Angle, Figure, Height, Movement, Over, Point, Touch
from callroom.standards import (
    Pose,
    Scene,
    all_movements,
    built_in,
    holds,
    movement,
    scene_of,
    unmet,
)
from callroom.standards.landmarks import Unmeasured
from callroom.standards.pose import SIDES, joints_of
from callroom.standards.vector import Vector, middle

PUBLISHED = Path(__file__).parents[1] / "published" / "data"


def published(name: str) -> dict[str, Any]:
    return tomllib.loads((PUBLISHED / name).read_text(encoding="utf-8"))


RANGES = published("standards_of_form.toml")["neutral_zero"]
MASSES: dict[str, tuple[float, float]] = {
    name: (mass, at) for name, mass, at in published("body_segments.toml")["mass"]["rows"]
}
POSES = built_in().poses
MOVEMENTS = all_movements()
FIGURES = [(one, figure) for one in MOVEMENTS for figure in one.figures]

# Kilograms a thing weighs in a figure, beside a body of 75 kg: what must be balanced too.
BODY_KG = 75.0
HELD_KG = {"barbell": 60.0, "log": 60.0, "keg": 30.0, "sandbag": 40.0, "kettlebell": 20.0}
HELD_KG |= {"dumbbell": 15.0, "ball": 9.0, "farmer_handle": 40.0}


def label(pair: tuple[Movement, Figure]) -> str:
    return f"{pair[0].id}-{pair[1].stage}"


@pytest.mark.parametrize("one", MOVEMENTS, ids=lambda one: one.id)
def test_a_figure_meets_every_measured_point_of_its_own_standard(one: Movement) -> None:
    assert unmet(one, POSES) == ()


def test_many_points_are_measured() -> None:
    measured = sum(
        bool(point.measures)
        for one, figure in FIGURES
        for point in one.points
        if point.at in {figure.stage, "throughout"}
    )
    assert measured > 250


@pytest.mark.parametrize("pose", POSES.values(), ids=lambda pose: pose.id)
def test_joints_stay_within_a_body_s_range(pose: Pose) -> None:
    """The published range, and where sport goes beyond it by how much (from memory).

    Standing on it, an ankle bends further than hanging free; overhead the shoulder blade and
    the upper back add to the shoulder; a fist turned behind the neck needs outward rotation.
    """
    ranges = {
        "hip": (-RANGES["hip_extension"][1], RANGES["hip_flexion"][1]),
        "knee": (0, RANGES["knee_flexion"][1]),
        "elbow": (0, RANGES["elbow_flexion"][1]),
        "shoulder": (-55, RANGES["shoulder_flexion"][1] + 16),
        "ankle": (-RANGES["ankle_plantar_flexion"][1] - 5, RANGES["ankle_dorsiflexion"][1] + 18),
        "toes": (0, 88),
    }
    for joint, (least, most) in ranges.items():
        for side in (0, 1):
            assert least <= pose.angle(joint, side) <= most, (joint, pose.angle(joint, side))


@pytest.mark.parametrize("pair", FIGURES, ids=label)
def test_nobody_is_below_the_ground(pair: tuple[Movement, Figure]) -> None:
    if any(drawn.draw == "water" for drawn in pair[1].kit):
        return
    joints = scene_of(pair[1], POSES).joints
    assert min(point.y for point in joints.values()) > -0.02


def grounded(scene: Scene) -> list[Vector]:
    """The ends of the parts of both feet that are on the ground, or on a box."""
    floors = [0.0, *(thing.drawn.tall_m or 0.6 for thing in scene.things_called("box"))]
    return [
        point
        for side in SIDES
        for point in (scene.joints[f"{side}_{part}"] for part in ("heel", "ball", "toes"))
        if min(abs(point.y - floor) for floor in floors) < 0.015
    ]


def centre_x(scene: Scene) -> float:
    """Where the common centre of mass of body and held things is along the floor [m]."""
    joints = scene.joints
    parts: list[tuple[float, float]] = []
    for side in SIDES:
        for name, start, end in (
            ("hand", "wrist", "fingers"),
            ("forearm", "elbow", "wrist"),
            ("upper_arm", "shoulder", "elbow"),
            ("foot", "heel", "toes"),
            ("shank", "knee", "ankle"),
            ("thigh", "hip", "knee"),
        ):
            mass, at = MASSES[name]
            first, last = joints[f"{side}_{start}"], joints[f"{side}_{end}"]
            parts.append((mass * BODY_KG, first.x + (last.x - first.x) * at))
    trunk, _ = MASSES["trunk"]
    for first_name, last_name in (("hips", "waist"), ("waist", "shoulders")):
        mid = middle(joints[first_name], joints[last_name])
        parts.append((trunk * BODY_KG / 2, mid.x))
    parts.append((MASSES["head_and_neck"][0] * BODY_KG, joints["skull"].x))
    parts += [
        (HELD_KG[thing.drawn.draw], thing.at.x)
        for thing in scene.things
        if thing.drawn.draw in HELD_KG and thing.drawn.at != "floor"
    ]
    return sum(mass * x for mass, x in parts) / sum(mass for mass, _ in parts)


# Movements in which somebody leans on, hangs from or is carried by something, or is moving.
NOT_STANDING = {"sled_push", "sled_drag", "tyre_flip", "run", "shuttle_run", "team_sandbag_run"}
NOT_STANDING |= {"dumbbell_bench_press", "ring_row", "rope_climb", "wall_sit", "row", "bike"}


@pytest.mark.parametrize("pair", FIGURES, ids=label)
def test_whoever_stands_is_balanced_over_the_feet(pair: tuple[Movement, Figure]) -> None:
    one, figure = pair
    scene = scene_of(figure, POSES)
    support = grounded(scene)
    joints = scene.joints
    upright = joints["shoulders"].y > joints["hips"].y > joints["near_ankle"].y + 0.1
    hands_down = min(joints["near_hand"].y, joints["far_hand"].y) < 0.12
    if not support or not upright or hands_down or one.id in NOT_STANDING:
        return
    left, right = min(point.x for point in support), max(point.x for point in support)
    assert left - 0.01 <= centre_x(scene) <= right + 0.01


def test_balance_is_asked_of_most_standing_figures() -> None:
    """The conditions above must not let everything through."""
    asked = 0
    for one, figure in FIGURES:
        joints = scene_of(figure, POSES).joints
        upright = joints["shoulders"].y > joints["hips"].y > joints["near_ankle"].y + 0.1
        hands_down = min(joints["near_hand"].y, joints["far_hand"].y) < 0.12
        supported = bool(grounded(scene_of(figure, POSES)))
        asked += supported and upright and not hands_down and one.id not in NOT_STANDING
    assert asked > 120


@pytest.mark.parametrize("pair", FIGURES, ids=label)
def test_hands_are_on_the_bar_or_the_rings(pair: tuple[Movement, Figure]) -> None:
    scene = scene_of(pair[1], POSES)
    for thing in scene.things_called("barbell", "rig", "rings", "log"):
        if thing.drawn.at != "hands":
            continue
        for side in SIDES:
            hand = scene.joints[f"{side}_hand"]
            assert abs(hand.x - thing.at.x) < 0.06
            assert abs(hand.y - thing.at.y) < 0.06


HANG = ("pull_up", "chin_up", "chest_to_bar_pull_up", "bar_muscle_up", "dead_hang", "toes_to_bar")


@pytest.mark.parametrize("name", HANG)
def test_whoever_hangs_hangs_below_the_hands(name: str) -> None:
    scene = scene_of(movement(name).figure("start"), POSES)
    assert scene.joints["shoulders"].y < scene.joints["near_hand"].y - 0.4
    assert abs(centre_x(scene) - scene.joints["near_hand"].x) < 0.08


def test_a_handstand_is_upside_down_over_the_hands() -> None:
    joints = joints_of(POSES["handstand"])
    assert joints["near_ankle"].y > joints["hips"].y > joints["shoulders"].y
    assert abs(joints["hips"].x - joints["near_hand"].x) < 0.25


# ---- The measures themselves can fail ---------------------------------------------------------


def altered(name: str, stage: str, **angles: float) -> Scene:
    figure = movement(name).figure(stage)
    pose = msgspec.structs.replace(POSES[figure.pose], **angles)
    return scene_of(figure, {**POSES, figure.pose: pose})


def decisive(name: str, stage: str, landmark: str) -> Point:
    return next(
        point
        for point in movement(name).points
        if point.at in {stage, "throughout"} and point.landmark == landmark and point.measures
    )


@pytest.mark.parametrize(
    ("name", "stage", "landmark", "angles"),
    [
        ("air_squat", "bottom", "hip_crease", {"knee": 100.0, "hip": 90.0}),
        ("strict_press", "finish", "elbow", {"elbow": 15.0}),
        ("strict_press", "finish", "knee", {"knee": 12.0}),
        ("deadlift", "finish", "hip", {"lean": 30.0, "hip": 30.0}),
        ("pull_up", "finish", "chin", {"elbow": 0.0, "shoulder": 180.0}),
        ("pull_up", "start", "elbow", {"elbow": 20.0}),
        ("push_up", "bottom", "chest", {"elbow": 20.0, "shoulder": 40.0}),
        ("plank_hold", "start", "body", {"hip": 30.0}),
        ("walking_lunge", "bottom", "knee", {"hip": 60.0}),
        ("strict_press", "finish", "bar", {"lean": 25.0}),
        ("burpee", "finish", "foot", {"y_m": 0.0}),
        ("toes_to_bar", "finish", "toes", {"hip": 90.0}),
    ],
)
def test_a_short_movement_does_not_meet_its_standard(
    name: str, stage: str, landmark: str, angles: dict[str, float]
) -> None:
    point = decisive(name, stage, landmark)
    assert all(holds(measure, altered(name, stage)) for measure in point.measures)
    scene = altered(name, stage, **angles)
    assert not all(holds(measure, scene) for measure in point.measures)


def test_either_side_may_meet_a_measure_where_one_is_enough() -> None:
    scene = Scene(joints_of(Pose(id="half", elbow=(90.0, 0.0))), ())
    both = Angle(joint="elbow", reads="flexion", at_most_deg=5)
    assert not holds(both, scene)
    assert holds(msgspec.structs.replace(both, side="either"), scene)
    assert holds(msgspec.structs.replace(both, side="far"), scene)
    assert not holds(msgspec.structs.replace(both, side="near"), scene)


def test_heights_have_five_relations() -> None:
    scene = Scene(joints_of(Pose(id="standing")), ())
    met = {
        relation: holds(Height(landmark="hip", relation=relation, than="knee"), scene)
        for relation in ("above", "at_or_above", "level", "at_or_below", "below")
    }
    assert met == {
        "above": True,
        "at_or_above": True,
        "level": False,
        "at_or_below": False,
        "below": False,
    }
    assert holds(Height(landmark="shoulder", relation="level", than="shoulder"), scene)


def test_a_segment_leans_from_the_vertical_and_from_the_horizontal() -> None:
    scene = Scene(joints_of(Pose(id="leaning", lean=30.0, hip=30.0)), ())
    upright = Angle(joint="trunk", reads="from_vertical", at_least_deg=29.9, at_most_deg=30.1)
    level = Angle(joint="trunk", reads="from_horizontal", at_least_deg=59.9, at_most_deg=60.1)
    assert holds(upright, scene)
    assert holds(level, scene)


def test_what_is_not_drawn_cannot_be_measured() -> None:
    scene = Scene(joints_of(Pose(id="standing")), ())
    with pytest.raises(Unmeasured, match="rig"):
        holds(Height(landmark="chin", relation="above", than="rig"), scene)


def test_touching_and_standing_over() -> None:
    scene = Scene(joints_of(Pose(id="standing")), ())
    assert holds(Touch(landmark="heel", on="ground"), scene)
    assert not holds(Touch(landmark="heel", on="ground", touches=False), scene)
    assert not holds(Touch(landmark="knee", on="ground"), scene)
    assert holds(Over(landmark="shoulder", over="ankle", within_m=0.01), scene)
    assert not holds(Over(landmark="toes", over="heel", within_m=0.1), scene)
