"""Faults: a movement's own figure, changed until it plainly misses one measured point.

They are drawn for judges to practise on. A changed figure is used only if every other
measured point of its stage still holds, so that what is wrong with it has one answer, and if
the miss is far beyond what an eye could dispute.
"""

from collections.abc import Iterable, Iterator, Mapping

import msgspec
from msgspec.structs import replace

from callroom.model.movement import THROUGHOUT, Angle, Drawn, Figure, Measure, Movement, Point
from callroom.standards.landmarks import Unmeasured
from callroom.standards.measuring import holds, misses_by
from callroom.standards.pose import Angles, Pose
from callroom.standards.scene import Scene, scene_of

PLAIN_DEG, PLAIN_M = 20.0, 0.09
"""A miss that nobody disputes: four times what a goniometer can tell [degrees], and about a
hand's breadth [m]. Chosen by eye, common practice, no source."""

_MOST_DEG, _MOST_M = 60.0, 0.35
"""More would no longer look like a try."""

_SOFT_DEG = (26.0, 34.0)
_TURNS = (
    "lean",
    "spine",
    "neck",
    "hip",
    "hip_out",
    "hip_turn",
    "knee",
    "ankle",
    "toes",
    "shoulder",
    "shoulder_out",
    "shoulder_turn",
    "elbow",
    "wrist",
)


class Fault(msgspec.Struct, frozen=True, kw_only=True):
    """A figure that misses `point` and no other, with the pose it is drawn from."""

    point: Point
    figure: Figure
    pose: Pose


def faults(movement: Movement, poses: Mapping[str, Pose]) -> tuple[Fault, ...]:
    """Return at most one fault for each measured point of each of the movement's figures."""
    found = []
    for figure in movement.figures:
        if figure.people > 1:
            continue
        asked = [point for point in movement.points if point.at in {figure.stage, THROUGHOUT}]
        changed = list(_changed(movement, figure, poses))
        for point in asked:
            fault = next(
                (
                    Fault(point=point, figure=drawn, pose=pose)
                    for drawn, pose in changed
                    if _misses_only(point, asked, drawn, pose)
                    and _believable(pose, drawn, poses[figure.pose], figure)
                ),
                None,
            )
            if fault is not None:
                found.append(fault)
    return tuple(found)


def _misses_only(point: Point, asked: Iterable[Point], figure: Figure, pose: Pose) -> bool:
    scene = scene_of(figure, {pose.id: pose})
    try:
        others = (one for one in asked if one is not point)
        kept = all(holds(measure, scene) for one in others for measure in one.measures)
        return kept and any(_plainly(measure, figure, scene) for measure in point.measures)
    except Unmeasured:
        return False


def _plainly(measure: Measure, figure: Figure, scene: Scene) -> bool:
    missed = misses_by(measure, scene)
    if isinstance(measure, Angle):
        # From the front nobody sees a bend that goes forward.
        return figure.view == "side" and PLAIN_DEG <= missed <= _MOST_DEG
    return PLAIN_M <= missed <= _MOST_M


def _believable(pose: Pose, figure: Figure, before: Pose, was: Figure) -> bool:
    """Whether the body still stands where it stood, and holds no load far in front of it."""
    scene, old = scene_of(figure, {pose.id: pose}), scene_of(was, {before.id: before})
    sunk = abs(_lowest_m(scene) - _lowest_m(old))
    reach_m = _reach_m(scene) if pose.anchor == "sole" else 0.0
    return pose.anchor == "hand" or (sunk < _SUNK_M and reach_m < _REACH_M)


_SUNK_M, _REACH_M = 0.03, 0.42


def _lowest_m(scene: Scene) -> float:
    return min(at.y for at in scene.joints.values())


def _reach_m(scene: Scene) -> float:
    """Return how far a held load is from above the feet [m]; nought without one."""
    feet = (scene.joints["near_heel"].x + scene.joints["near_toes"].x) / 2
    held = [thing.at.x for thing in scene.things if thing.drawn.at in _HELD]
    return max((abs(x - feet) for x in held), default=0.0)


_HELD = frozenset({"hands", "near_hand", "far_hand"})


def _changed(
    movement: Movement, figure: Figure, poses: Mapping[str, Pose]
) -> Iterator[tuple[Figure, Pose]]:
    """Give changed figures, the likeliest faults first."""
    pose = poses[figure.pose]
    for other in movement.figures:
        toward = poses[other.pose]
        if other is not figure and _same_place(pose, toward):
            for tenth in range(2, 7):
                yield _with(figure, _between(pose, toward, tenth / 10))
    for changed in _one_joint(pose):
        yield _with(figure, changed)
    for number, thing in enumerate(figure.kit):
        if thing.at == "floor" and thing.draw == "ball":
            lower = replace(thing, y_m=thing.y_m - 0.3)
            kit: tuple[Drawn, ...] = (*figure.kit[:number], lower, *figure.kit[number + 1 :])
            yield replace(figure, kit=kit), pose


def _with(figure: Figure, pose: Pose) -> tuple[Figure, Pose]:
    named = replace(pose, id=f"{figure.pose}_fault")
    return replace(figure, pose=named.id), named


def _same_place(one: Pose, other: Pose) -> bool:
    apart = max(abs(one.x_m - other.x_m), abs(one.y_m - other.y_m))
    return one.anchor == other.anchor and apart < 0.05


def _between(one: Pose, other: Pose, share: float) -> Pose:
    """Return the position on the way from `one` to `other`."""
    turns = {name: _blend(getattr(one, name), getattr(other, name), share) for name in _TURNS}
    x_m = one.x_m + (other.x_m - one.x_m) * share
    return replace(one, **turns, x_m=x_m)


def _blend(one: Angles, other: Angles, share: float) -> Angles:
    near, far = _sides(one)
    near_to, far_to = _sides(other)
    blended = near + (near_to - near) * share, far + (far_to - far) * share
    return blended[0] if blended[0] == blended[1] else blended


def _sides(angles: Angles) -> tuple[float, float]:
    return angles if isinstance(angles, tuple) else (angles, angles)


def _one_joint(pose: Pose) -> Iterator[Pose]:
    """Give the position with soft knees, closed hips or bent elbows, all else kept upright."""
    for bend in _SOFT_DEG:
        if pose.anchor == "sole":
            give = bend / 2 - 8
            yield replace(
                pose,
                lean=pose.lean - give,
                hip=_more(pose.hip, 8),
                knee=_more(pose.knee, bend),
                ankle=_more(pose.ankle, bend / 2),
                shoulder=_more(pose.shoulder, -give),
            )
            arms = 0.0 if max(_sides(pose.shoulder)) > 120 else bend
            yield replace(
                pose,
                lean=pose.lean + bend,
                hip=_more(pose.hip, bend),
                neck=pose.neck - bend / 2,
                shoulder=_more(pose.shoulder, arms),
            )
        yield replace(
            pose, elbow=_more(pose.elbow, bend * 1.5), shoulder=_more(pose.shoulder, -bend * 0.75)
        )


def _more(angles: Angles, by: float) -> Angles:
    near, far = _sides(angles)
    return near + by if near == far else (near + by, far + by)
