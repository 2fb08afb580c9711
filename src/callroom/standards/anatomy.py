"""The body drawn around its joints: one layer a limb, farthest first."""

from itertools import pairwise

from callroom.model.movement import View
from callroom.standards.body import FLESH
from callroom.standards.pose import Joints
from callroom.standards.shapes import UNITS_PER_M, Capsule, Disc, Layer, Line, Shape, Spot
from callroom.standards.vector import Vector

STATURE_M = 1.75
_PER_STATURE = STATURE_M * UNITS_PER_M

Link = tuple[str, str]


def seen(point: Vector, view: View) -> Spot:
    """Return where `point` falls on the sheet [drawing units].

    From the side the athlete faces right; from the front they face the viewer, so their
    right hand is on the viewer's left.
    """
    across = point.x if view == "side" else -point.z
    return across * UNITS_PER_M, -point.y * UNITS_PER_M


def chain(joints: Joints, links: tuple[Link, ...], view: View) -> tuple[Shape, ...]:
    """Return capsules along (joint, flesh) pairs."""
    return tuple(
        Capsule(
            seen(joints[start], view),
            FLESH[start_flesh] * _PER_STATURE,
            seen(joints[end], view),
            FLESH[end_flesh] * _PER_STATURE,
        )
        for (start, start_flesh), (end, end_flesh) in pairwise(links)
    )


def _sole(joints: Joints, side: str) -> tuple[Vector, Vector, Vector]:
    """Return heel, ball and toes moved inward, so that the drawn skin meets the ground."""
    ankle, heel, ball, toes = (
        joints[f"{side}_{part}"] for part in ("ankle", "heel", "ball", "toes")
    )
    along = (ball - heel).unit()
    forward = (toes - ball).unit()
    up = ankle - heel
    up = (up - along * up.dot(along)).unit()
    toes_up = (up - forward * up.dot(forward)).unit()
    thick, thin = FLESH["heel"] * STATURE_M, FLESH["toes"] * STATURE_M
    return (
        heel + (up + along) * thick,
        ball + up * thick,
        toes + (toes_up - forward) * thin,
    )


def _foot(joints: Joints, side: str, view: View) -> tuple[Shape, ...]:
    heel, ball, toes = _sole(joints, side)
    found = {"ankle": joints[f"{side}_ankle"], "heel": heel, "ball": ball, "toes": toes}
    if view == "front":
        return chain(found, (("ankle", "ankle"), ("toes", "front_foot")), view)
    return (
        *chain(found, (("ankle", "ankle"), ("heel", "heel")), view),
        *chain(found, (("ankle", "ankle"), ("ball", "heel"), ("toes", "toes")), view),
        *chain(found, (("heel", "heel"), ("ball", "heel")), view),
    )


def _leg(joints: Joints, side: str, view: View) -> tuple[Shape, ...]:
    thigh = ((f"{side}_hip", "groin"), (f"{side}_knee", "knee"))
    shank = ((f"{side}_knee", "knee"), (f"{side}_calf", "calf"), (f"{side}_ankle", "ankle"))
    limb = (*chain(joints, thigh, view), *chain(joints, shank, view))
    return (*limb, *_foot(joints, side, view))


def _arm(joints: Joints, side: str, view: View) -> tuple[Shape, ...]:
    upper = ((f"{side}_shoulder", "shoulder"), (f"{side}_elbow", "elbow"))
    fore = ((f"{side}_elbow", "elbow"), (f"{side}_wrist", "wrist"))
    open_hand = joints[f"{side}_fingers"] != joints[f"{side}_hand"]
    palm = ((f"{side}_wrist", "wrist"), (f"{side}_hand", "palm" if open_hand else "hand"))
    fingers = ((f"{side}_hand", "palm"), (f"{side}_fingers", "fingers"))
    limb = (*chain(joints, upper, view), *chain(joints, fore, view), *chain(joints, palm, view))
    return (*limb, *chain(joints, fingers, view)) if open_hand else limb


def _trunk(joints: Joints, view: View) -> tuple[Shape, ...]:
    spine = (("hips", "hip"), ("waist", "waist"), ("ribs", "chest"), ("shoulders", "shoulder"))
    if view == "side":
        return chain(joints, spine, view)
    girdle = chain(joints, (("near_shoulder", "shoulder"), ("far_shoulder", "shoulder")), view)
    pelvis = chain(joints, (("near_hip", "groin"), ("far_hip", "groin")), view)
    broad = joints["near_shoulder"] - joints["shoulders"]
    flank = [
        joints[part] + broad * share
        for part, share in (("shoulders", 0.95), ("ribs", 0.92), ("waist", 0.66), ("hips", 0.8))
    ]
    other = [
        joints[part] - broad * share
        for part, share in (("hips", 0.8), ("waist", 0.66), ("ribs", 0.92), ("shoulders", 0.95))
    ]
    outline = Line(tuple(seen(point, view) for point in (*other[::-1], *flank[::-1])), closed=True)
    return (*girdle, *pelvis, outline)


def _head(joints: Joints, view: View) -> tuple[Shape, ...]:
    skull = seen(joints["skull"], view)
    neck = chain(joints, (("shoulders", "neck"), ("skull", "neck")), view)
    jaw = chain(joints, (("skull", "cheek"), ("jaw", "jaw")), view)
    return (*neck, Disc(skull, FLESH["skull"] * _PER_STATURE), *jaw)


def _patch(joints: Joints, view: View) -> tuple[Shape, ...]:
    """Return what joins a near limb to the trunk, over the line that parts them."""
    share = 0.45
    loin = seen(joints["hips"] + (joints["waist"] - joints["hips"]) * share, view)
    thick = FLESH["hip"] + (FLESH["waist"] - FLESH["hip"]) * share
    hips = seen(joints["hips"], view)
    return (Capsule(hips, FLESH["hip"] * _PER_STATURE, loin, thick * _PER_STATURE),)


def body_layers(joints: Joints, view: View) -> tuple[tuple[Layer, ...], tuple[Layer, ...]]:
    """Return the layers behind what the athlete holds, and those in front of it.

    From the side the far limbs come first, in a paler tone; the near arm comes last, so
    that the near hand closes around what it holds.
    """
    trunk = (*_trunk(joints, view), *_head(joints, view))
    if view == "front":
        legs = (*_leg(joints, "near", view), *_leg(joints, "far", view))
        arms = (*_arm(joints, "near", view), *_arm(joints, "far", view))
        return (Layer("fig-body", (*trunk, *legs), gap=True),), (Layer("fig-body", arms, gap=True),)
    behind = (
        Layer("fig-far", _arm(joints, "far", view), gap=True),
        Layer("fig-far", _leg(joints, "far", view), gap=True),
        Layer("fig-body", trunk, gap=True),
        Layer("fig-body", _leg(joints, "near", view), gap=True),
        Layer("fig-body", _patch(joints, view)),
    )
    return behind, (Layer("fig-body", _arm(joints, "near", view), gap=True),)
