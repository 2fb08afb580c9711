"""Measured points: what a posed figure shows, against what a standard asks.

A judge measures nothing: they look. These functions exist so that a drawn figure, and a
director's own movement, can be held against the standard's numbers. Figures must meet them
exactly; on the floor, differences of about five degrees lie within what even a goniometer
can tell (common clinical figure, from memory), so a judge calls only what is plainly short.
"""

from collections.abc import Mapping

from callroom.model.movement import (
    THROUGHOUT,
    Angle,
    Height,
    Landmark,
    Measure,
    Movement,
    Point,
    Side,
    Touch,
)
from callroom.standards.landmarks import Unmeasured, positions, radius_m
from callroom.standards.pose import SIDES, Pose
from callroom.standards.scene import Scene, scene_of
from callroom.standards.vector import UP, Vector, between_deg, flat_distance, middle

LEVEL_M = 0.03
"""Two landmarks this near in height are level [m]."""

TOUCH_M = 0.03
"""Two surfaces this near touch [m]: skin gives and a drawing has line width."""


def holds(measure: Measure, scene: Scene) -> bool:
    """Return whether a scene meets a measure.

    Raises
    ------
    Unmeasured
        If the measure names a landmark that the scene does not show.
    """
    if isinstance(measure, Angle):
        return _angle_holds(measure, scene)
    if isinstance(measure, Height):
        return all(
            _height_holds(measure, low, high)
            for low, high in _pairs(measure.landmark, measure.than, measure.side, scene)
        )
    if isinstance(measure, Touch):
        return _touch_holds(measure, scene)
    return all(
        abs(one.x - other.x) <= measure.within_m
        for one, other in _pairs(measure.landmark, measure.over, measure.side, scene)
    )


def misses_by(measure: Measure, scene: Scene) -> float:
    """Return by how much a scene misses a measure, nought or less if it meets it.

    Angles in degrees, all else in metres; of two sides the worse counts, unless either may
    meet it.

    Raises
    ------
    Unmeasured
        If the measure names a landmark that the scene does not show.
    """
    if isinstance(measure, Angle):
        missed = [_angle_misses(measure, side, scene) for side in _sides(measure.side)]
    elif isinstance(measure, Height):
        missed = [
            _height_misses(measure, low.y - high.y)
            for low, high in _pairs(measure.landmark, measure.than, measure.side, scene)
        ]
    elif isinstance(measure, Touch):
        gaps = [
            _gap_m(measure.landmark, spot, measure.on, other, scene)
            for spot, other in _pairs(measure.landmark, measure.on, measure.side, scene)
        ]
        missed = [gap - TOUCH_M if measure.touches else TOUCH_M - gap for gap in gaps]
    else:
        missed = [
            abs(one.x - other.x) - measure.within_m
            for one, other in _pairs(measure.landmark, measure.over, measure.side, scene)
        ]
    worst = min if measure.side == "either" else max
    return worst(missed, default=0.0)


def unmet(movement: Movement, poses: Mapping[str, Pose]) -> tuple[tuple[str, Point], ...]:
    """Return the measured points that the movement's own figures do not show, with the stage.

    A point is looked at in the figure of its stage, one that holds throughout in every
    figure; a point without such a figure is not looked at.

    Raises
    ------
    Unmeasured
        If a measure names a landmark that its figure does not show.
    """
    missed: list[tuple[str, Point]] = []
    for figure in movement.figures:
        scene = scene_of(figure, poses)
        asked = [point for point in movement.points if point.at in {figure.stage, THROUGHOUT}]
        missed += [
            (figure.stage, point) for point in asked if not _all_hold(point, scene, figure.stage)
        ]
    return tuple(missed)


def _all_hold(point: Point, scene: Scene, stage: str) -> bool:
    try:
        return all(holds(measure, scene) for measure in point.measures)
    except Unmeasured as fault:
        raise Unmeasured(fault.landmark, stage) from fault


def angle_deg(joint: str, reads: str, side: str, scene: Scene) -> float:
    """Return an angle as a standard reads it [degrees], of one side (``"near"``, ``"far"``)."""
    joints = scene.joints
    hip, knee, ankle, shoulder, elbow, wrist = (
        joints[f"{side}_{part}"] for part in ("hip", "knee", "ankle", "shoulder", "elbow", "wrist")
    )
    trunk = joints["shoulders"] - joints["hips"]
    if reads in {"flexion", "interior"}:
        first, second = {
            "knee": (hip - knee, ankle - knee),
            "hip": (_sagittal(trunk), _sagittal(knee - hip)),
            "elbow": (shoulder - elbow, wrist - elbow),
            "shoulder": (_sagittal(trunk * -1.0), _sagittal(elbow - shoulder)),
        }[joint]
        interior = between_deg(first, second)
        # The neutral arm hangs beside the trunk, so its flexion is the angle itself.
        return interior if reads == "interior" or joint == "shoulder" else 180.0 - interior
    segment = {
        "trunk": trunk,
        "thigh": hip - knee,
        "shank": knee - ankle,
        "upper_arm": shoulder - elbow,
        "body": joints["shoulders"] - middle(joints["near_ankle"], joints["far_ankle"]),
    }[joint]
    lean = between_deg(segment, UP)
    upright = min(lean, 180.0 - lean)
    return upright if reads == "from_vertical" else 90.0 - upright


def _sagittal(way: Vector) -> Vector:
    """Return a direction as seen from the side: legs apart are not hips bent."""
    return Vector(way.x, way.y)


def _angle_holds(measure: Angle, scene: Scene) -> bool:
    found = [angle_deg(measure.joint, measure.reads, side, scene) for side in _sides(measure.side)]
    least = -1.0 if measure.at_least_deg is None else measure.at_least_deg
    most = 361.0 if measure.at_most_deg is None else measure.at_most_deg
    # A rounding of a millionth of a degree is no bend.
    met = [least - ROUNDING_DEG <= angle <= most + ROUNDING_DEG for angle in found]
    return any(met) if measure.side == "either" else all(met)


def _angle_misses(measure: Angle, side: str, scene: Scene) -> float:
    angle = angle_deg(measure.joint, measure.reads, side, scene)
    least = angle if measure.at_least_deg is None else measure.at_least_deg
    most = angle if measure.at_most_deg is None else measure.at_most_deg
    return max(least - angle, angle - most)


def _height_misses(measure: Height, above_m: float) -> float:
    return {
        "above": -above_m,
        "at_or_above": -above_m,
        "level": abs(above_m) - LEVEL_M,
        "at_or_below": above_m,
        "below": above_m,
    }[measure.relation]


ROUNDING_DEG = 1e-5


def _sides(side: Side) -> tuple[str, ...]:
    return SIDES if side in {"both", "either"} else (side,)


def _height_holds(measure: Height, one: Vector, other: Vector) -> bool:
    above = one.y - other.y
    return {
        "above": above > 0,
        "at_or_above": above >= -LEVEL_M / 10,
        "level": abs(above) <= LEVEL_M,
        "at_or_below": above <= LEVEL_M / 10,
        "below": above < 0,
    }[measure.relation]


def _touch_holds(measure: Touch, scene: Scene) -> bool:
    gaps = [
        _gap_m(measure.landmark, spot, measure.on, other, scene)
        for spot, other in _pairs(measure.landmark, measure.on, measure.side, scene)
    ]
    touching = [gap <= TOUCH_M for gap in gaps]
    met = touching if measure.touches else [not one for one in touching]
    return any(met) if measure.side == "either" else all(met)


def _gap_m(name: str, spot: Vector, other_name: str, other: Vector, scene: Scene) -> float:
    """Return how far two surfaces are apart, as seen from the side [m]."""
    radius = radius_m(name, scene)
    if other_name in {"ground", "box"}:
        return spot.y - radius - other.y
    if other_name == "wall":
        return abs(spot.x - other.x) - radius
    return flat_distance(spot, other) - radius - radius_m(other_name, scene)


def _pairs(one: Landmark, other: Landmark, side: Side, scene: Scene) -> list[tuple[Vector, Vector]]:
    """Return the positions to compare: each side with its own, or with what has no sides."""
    first, second = positions(one, scene), positions(other, scene)
    pairs = []
    for name in _sides(side):
        start = first.get(name, first.get(""))
        end = second.get(name, second.get(""))
        if start is not None and end is not None:
            pairs.append((start, end))
    return pairs
