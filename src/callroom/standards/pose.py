"""Poses: joint angles in, joint positions out (forward kinematics)."""

from collections.abc import Mapping
from typing import Literal

import msgspec

from callroom.standards.body import ANKLE_ON_FOOT, GRIP_ON_HAND, TOES_BEND_ON_FOOT, Body, body_of
from callroom.standards.vector import FORWARD, RIGHT, UP, Vector, turned

Angles = float | tuple[float, float]
Anchor = Literal["sole", "hand", "toes", "kneecap", "heel", "hips", "back", "chest"]

Joints = Mapping[str, Vector]


class Pose(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A position of the body as joint angles [degrees], neutral-zero: standing is all zeros.

    A pair gives the near side (the athlete's right, towards the viewer) and the far side.

    Attributes
    ----------
    lean
        How far the lower trunk leans forward from upright: 90 is face down, -90 is face up,
        180 is upside down.
    spine, neck
        Forward bend of the upper trunk on the lower, and of the head on the trunk.
    hip, hip_out, hip_turn
        Flexion (thigh forward), abduction (thigh outward), outward turn of the thigh.
    knee, ankle, toes
        Flexion of the knee, dorsiflexion of the ankle (foot towards the shin), upward bend
        of the toes.
    shoulder, shoulder_out, shoulder_turn
        Flexion (arm forward and up), abduction, outward turn of the upper arm.
    elbow, wrist
        Flexion of the elbow; bend of the hand towards the front of the elbow.
    open_hands
        Fingers straight instead of closed around something.
    anchor, x_m, y_m
        The landmark that is put at that place [m]; ``sole`` is the lowest part of the near
        foot, with the middle of that foot at `x_m`.
    """

    id: str
    lean: float = 0.0
    spine: float = 0.0
    neck: float = 0.0
    hip: Angles = 0.0
    hip_out: Angles = 0.0
    hip_turn: Angles = 0.0
    knee: Angles = 0.0
    ankle: Angles = 0.0
    toes: Angles = 0.0
    shoulder: Angles = 0.0
    shoulder_out: Angles = 0.0
    shoulder_turn: Angles = 0.0
    elbow: Angles = 0.0
    wrist: Angles = 0.0
    open_hands: bool = False
    anchor: Anchor = "sole"
    x_m: float = 0.0
    y_m: float = 0.0

    def angle(self, joint: str, side: int) -> float:
        """Return the angle of `joint` on the near (0) or far (1) side [degrees]."""
        value: Angles = getattr(self, joint)
        return value[side] if isinstance(value, tuple) else value


SIDES = ("near", "far")


def joints_of(pose: Pose, body: Body | None = None) -> Joints:
    """Return where every joint is [m], by name (``"near_knee"``, ``"neck"``, …)."""
    body = body or body_of()
    found = _trunk(pose, body)
    for side in (0, 1):
        found |= _leg(pose, body, found, side)
        found |= _arm(pose, body, found, side)
    found |= _surface(pose, body, found)
    shift = _shift(pose, found)
    return {name: point + shift for name, point in found.items()}


def _axes(lean_deg: float) -> tuple[Vector, Vector]:
    """Return the up and forward directions of a trunk part that leans by `lean_deg`."""
    return turned(UP, FORWARD, lean_deg), turned(FORWARD, UP * -1.0, lean_deg)


def _trunk(pose: Pose, body: Body) -> dict[str, Vector]:
    low_up, _ = _axes(pose.lean)
    high_up, _ = _axes(pose.lean + pose.spine)
    head_up, head_forward = _axes(pose.lean + pose.spine + pose.neck)
    hips = Vector(0.0, 0.0, 0.0)
    waist = hips + low_up * (body.trunk / 2)
    shoulders = waist + high_up * (body.trunk / 2)
    skull = shoulders + head_up * (body.neck + body.head / 2)
    return {
        "hips": hips,
        "waist": waist,
        "shoulders": shoulders,
        "ribs": shoulders - high_up * (0.065 * body.stature),
        "skull": skull,
        "jaw": shoulders
        + head_up * (body.neck + 0.032 * body.stature)
        + head_forward * (0.016 * body.stature),
        "chin": shoulders + head_up * body.neck + head_forward * (0.045 * body.stature),
        "top_of_head": shoulders + head_up * (body.neck + body.head),
    }


def _leg(pose: Pose, body: Body, found: Mapping[str, Vector], side: int) -> dict[str, Vector]:
    name, out = SIDES[side], RIGHT * (1.0 if side == 0 else -1.0)
    up, forward = _axes(pose.lean)
    hip = found["hips"] + out * body.hip_half
    swing = pose.angle("hip", side)
    thigh = turned(up * -1.0, forward, swing)
    front = turned(forward, up, swing)
    thigh = turned(thigh, out, pose.angle("hip_out", side))
    outward = _across(thigh, front, out)
    front = turned(front, outward, pose.angle("hip_turn", side))
    knee = hip + thigh * body.thigh
    bend = pose.angle("knee", side)
    shank, shin = turned(thigh, front * -1.0, bend), turned(front, thigh, bend)
    ankle = knee + shank * body.shank
    pull = pose.angle("ankle", side)
    sole, instep = turned(shin, shank * -1.0, pull), turned(shank, shin, pull)
    heel = ankle + instep * body.ankle_height - sole * (body.foot * ANKLE_ON_FOOT)
    ball = heel + sole * (body.foot * TOES_BEND_ON_FOOT)
    toe_way = turned(sole, instep * -1.0, pose.angle("toes", side))
    toes = ball + toe_way * (body.foot * (1 - TOES_BEND_ON_FOOT))
    return {
        f"{name}_hip": hip,
        f"{name}_hip_crease": hip + front * (0.050 * body.stature),
        f"{name}_knee": knee,
        f"{name}_calf": knee + shank * (0.3 * body.shank) - shin * (0.006 * body.stature),
        f"{name}_kneecap": knee + turned(front, thigh, bend / 2) * (0.035 * body.stature),
        f"{name}_ankle": ankle,
        f"{name}_heel": heel,
        f"{name}_ball": ball,
        f"{name}_toes": toes,
    }


def _arm(pose: Pose, body: Body, found: Mapping[str, Vector], side: int) -> dict[str, Vector]:
    name, out = SIDES[side], RIGHT * (1.0 if side == 0 else -1.0)
    up, forward = _axes(pose.lean + pose.spine)
    shoulder = found["shoulders"] + out * body.shoulder_half
    swing = pose.angle("shoulder", side)
    upper = turned(up * -1.0, forward, swing)
    front = turned(forward, up, swing)
    upper = turned(upper, out, pose.angle("shoulder_out", side))
    outward = _across(upper, front, out)
    front = turned(front, outward, pose.angle("shoulder_turn", side))
    elbow = shoulder + upper * body.upper_arm
    bend = pose.angle("elbow", side)
    fore, palm = turned(upper, front, bend), turned(front, upper * -1.0, bend)
    wrist = elbow + fore * body.forearm
    hand = turned(fore, palm, pose.angle("wrist", side))
    reach = 1.0 if pose.open_hands else GRIP_ON_HAND
    return {
        f"{name}_shoulder": shoulder,
        f"{name}_elbow": elbow,
        f"{name}_wrist": wrist,
        f"{name}_hand": wrist + hand * (body.hand * GRIP_ON_HAND),
        f"{name}_fingers": wrist + hand * (body.hand * reach),
    }


def _across(along: Vector, front: Vector, out: Vector) -> Vector:
    """Return the direction at right angles to a limb and its front, on the outer side."""
    side = along.cross(front)
    return side if side.dot(out) >= 0 else side * -1.0


def _surface(pose: Pose, body: Body, found: Mapping[str, Vector]) -> dict[str, Vector]:
    """Return the landmarks that lie on the skin, not on a bone."""
    low_up, low_forward = _axes(pose.lean)
    high_up, high_forward = _axes(pose.lean + pose.spine)
    height = body.stature
    return {
        "chest": found["shoulders"] - high_up * (0.055 * height) + high_forward * (0.058 * height),
        "back": found["shoulders"] - high_up * (0.045 * height) - high_forward * (0.060 * height),
        "seat": found["hips"] - low_forward * (0.053 * height) - low_up * (0.012 * height),
        "tailbone": found["hips"] - low_up * (0.053 * height),
    }


def _shift(pose: Pose, found: Mapping[str, Vector]) -> Vector:
    """Return the translation that brings the anchor to its place."""
    if pose.anchor == "sole":
        foot = [found["near_heel"], found["near_ball"], found["near_toes"]]
        centre = (foot[0].x + foot[2].x) / 2
        return Vector(pose.x_m - centre, pose.y_m - min(point.y for point in foot))
    at = found[pose.anchor if pose.anchor in found else f"near_{pose.anchor}"]
    return Vector(pose.x_m - at.x, pose.y_m - at.y)
