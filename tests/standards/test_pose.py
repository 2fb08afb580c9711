"""Forward kinematics: segments keep their lengths, angles read back, anchors hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.standards import Pose
from callroom.standards.body import body_of
from callroom.standards.measuring import angle_deg
from callroom.standards.pose import SIDES, Joints, joints_of
from callroom.standards.scene import Scene
from callroom.standards.vector import Vector

angle = st.floats(-180, 180, allow_nan=False)
angles = st.one_of(angle, st.tuples(angle, angle))
POSES = st.builds(
    Pose,
    id=st.just("any"),
    lean=angle,
    spine=angle,
    neck=angle,
    hip=angles,
    hip_out=angles,
    hip_turn=angles,
    knee=angles,
    ankle=angles,
    toes=angles,
    shoulder=angles,
    shoulder_out=angles,
    shoulder_turn=angles,
    elbow=angles,
    wrist=angles,
    open_hands=st.booleans(),
    anchor=st.sampled_from(["sole", "hand", "toes", "kneecap", "heel", "hips", "back", "chest"]),
    x_m=st.floats(-5, 5),
    y_m=st.floats(-5, 5),
)


def apart(joints: Joints, one: str, other: str) -> float:
    return (joints[one] - joints[other]).length()


@given(POSES, st.floats(1.2, 2.2))
def test_segments_keep_their_lengths_in_every_pose(pose: Pose, stature_m: float) -> None:
    body = body_of(stature_m)
    joints = joints_of(pose, body)
    for side in SIDES:
        lengths = {
            ("hip", "knee"): body.thigh,
            ("knee", "ankle"): body.shank,
            ("shoulder", "elbow"): body.upper_arm,
            ("elbow", "wrist"): body.forearm,
        }
        for (start, end), length in lengths.items():
            found = apart(joints, f"{side}_{start}", f"{side}_{end}")
            assert found == pytest.approx(length, abs=1e-9)
        sole = apart(joints, f"{side}_heel", f"{side}_ball")
        toes = apart(joints, f"{side}_ball", f"{side}_toes")
        assert sole + toes == pytest.approx(body.foot, abs=1e-9)
    halves = apart(joints, "hips", "waist") + apart(joints, "waist", "shoulders")
    assert halves == pytest.approx(body.trunk, abs=1e-9)
    assert apart(joints, "near_hip", "far_hip") == pytest.approx(2 * body.hip_half, abs=1e-9)


@given(st.floats(0, 179), st.floats(0, 179))
def test_knee_and_elbow_read_back_as_they_were_bent(knee: float, elbow: float) -> None:
    pose = Pose(id="bent", knee=knee, elbow=elbow, lean=20, shoulder=40, hip=30, hip_out=15)
    scene = Scene(joints_of(pose), ())
    for side in SIDES:
        assert angle_deg("knee", "flexion", side, scene) == pytest.approx(knee, abs=1e-4)
        assert angle_deg("knee", "interior", side, scene) == pytest.approx(180 - knee, abs=1e-4)
        assert angle_deg("elbow", "flexion", side, scene) == pytest.approx(elbow, abs=1e-4)


@given(st.floats(0, 170), st.floats(0, 45))
def test_the_hip_reads_back_whether_or_not_the_legs_are_apart(hip: float, out: float) -> None:
    scene = Scene(joints_of(Pose(id="hip", hip=hip, hip_out=out, lean=10)), ())
    assert angle_deg("hip", "flexion", "near", scene) == pytest.approx(hip, abs=1e-4)


@given(POSES)
def test_the_anchor_is_where_the_pose_puts_it(pose: Pose) -> None:
    joints = joints_of(pose)
    if pose.anchor == "sole":
        low = min(joints[f"near_{part}"].y for part in ("heel", "ball", "toes"))
        assert low == pytest.approx(pose.y_m, abs=1e-9)
        return
    name = pose.anchor if pose.anchor in joints else f"near_{pose.anchor}"
    assert (joints[name].x, joints[name].y) == pytest.approx((pose.x_m, pose.y_m), abs=1e-9)


@given(POSES)
def test_swapping_the_sides_mirrors_the_body(pose: Pose) -> None:
    fixed = {"anchor": "hips", "id": "x"}
    paired = ("hip", "hip_out", "hip_turn", "knee", "ankle", "shoulder", "shoulder_out", "elbow")
    whole = {name: (pose.angle(name, 0), pose.angle(name, 1)) for name in paired}
    one = joints_of(Pose(**fixed, lean=pose.lean, spine=pose.spine, **whole))  # type: ignore[arg-type]
    swapped = {name: (far, near) for name, (near, far) in whole.items()}
    other = joints_of(Pose(**fixed, lean=pose.lean, spine=pose.spine, **swapped))  # type: ignore[arg-type]
    for part in ("knee", "ankle", "toes", "elbow", "hand"):
        near, far = one[f"near_{part}"], other[f"far_{part}"]
        assert (near.x, near.y, near.z) == pytest.approx((far.x, far.y, -far.z), abs=1e-9)


def test_flexion_goes_the_way_a_body_bends() -> None:
    standing = joints_of(Pose(id="s", anchor="hips"))
    lifted = joints_of(Pose(id="l", anchor="hips", hip=90))
    assert lifted["near_knee"].x > standing["near_knee"].x + 0.4
    kneeling = joints_of(Pose(id="k", anchor="hips", knee=90))
    assert kneeling["near_ankle"].x < standing["near_ankle"].x - 0.4
    curled = joints_of(Pose(id="c", anchor="hips", elbow=90))
    assert curled["near_wrist"].x > standing["near_wrist"].x + 0.2
    overhead = joints_of(Pose(id="o", anchor="hips", shoulder=180))
    assert overhead["near_hand"].y > overhead["top_of_head"].y + 0.2
    leaning = joints_of(Pose(id="f", anchor="hips", lean=45))
    assert leaning["shoulders"].x > 0.3
    tiptoe = joints_of(Pose(id="t", anchor="hips", ankle=-40))
    assert tiptoe["near_toes"].y < standing["near_toes"].y
    out = joints_of(Pose(id="w", anchor="hips", hip_out=30))
    assert out["near_knee"].z > standing["near_knee"].z + 0.2
    assert out["far_knee"].z < standing["far_knee"].z - 0.2


def test_a_direction_has_length_one() -> None:
    assert Vector(3.0, 4.0, 12.0).unit().length() == pytest.approx(1.0)
