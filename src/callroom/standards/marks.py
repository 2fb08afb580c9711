"""Marks on a figure: a dashed line or a small ring where a measured point is decided."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from callroom.model.movement import Angle, Height, Joint, Landmark, Measure, Over, Touch, View
from callroom.standards.anatomy import seen
from callroom.standards.landmarks import Unmeasured, positions
from callroom.standards.scene import Scene
from callroom.standards.shapes import Disc, Layer, Line, Shape, Spot

# Where an angle is marked: at its joint, or at the far end of its segment.
_CORNER: Mapping[Joint, Landmark] = MappingProxyType(
    {
        "knee": "knee",
        "hip": "hip",
        "elbow": "elbow",
        "shoulder": "shoulder",
        "trunk": "shoulder",
        "thigh": "knee",
        "upper_arm": "elbow",
        "shank": "knee",
        "body": "hip",
    }
)
_REACH = 20.0


def mark_layers(measures: Iterable[Measure], scene: Scene, view: View) -> tuple[Layer, ...]:
    """Return the marks of the `measures` that the scene shows, to be drawn over the body."""
    lines: list[Shape] = []
    dots: list[Shape] = []
    for measure in measures:
        try:
            more_lines, more_dots = _mark(measure, scene, view)
        except Unmeasured:
            continue
        lines += more_lines
        dots += more_dots
    layers = []
    if lines:
        layers.append(Layer("fig-guide", tuple(dict.fromkeys(lines)), gap=True))
    if dots:
        layers.append(Layer("fig-guide-dot", tuple(dict.fromkeys(dots))))
    return tuple(layers)


def _mark(measure: Measure, scene: Scene, view: View) -> tuple[list[Shape], list[Shape]]:
    side = "far" if measure.side == "far" else "near"
    if isinstance(measure, Angle):
        return [], [_dot(_spot(_CORNER[measure.joint], side, scene, view))]
    if isinstance(measure, Height):
        low = _spot(measure.than, side, scene, view)
        at = _spot(measure.landmark, side, scene, view)
        left, right = sorted((low[0], at[0]))
        line = Line(((left - _REACH, low[1]), (right + _REACH, low[1])))
        return ([] if measure.than == "ground" else [line]), [_dot(at)]
    if isinstance(measure, Over):
        at = _spot(measure.landmark, side, scene, view)
        below = _spot(measure.over, side, scene, view)
        return [Line((at, (at[0], below[1])))], []
    return [], [_dot(_spot(measure.landmark, side, scene, view))] if _is_body(measure) else []


def _is_body(measure: Touch) -> bool:
    return measure.landmark not in {"bar", "load"}


def _dot(at: Spot) -> Disc:
    return Disc(at, 4.2)


def _spot(name: Landmark, side: str, scene: Scene, view: View) -> Spot:
    found = positions(name, scene)
    return seen(found.get(side, found.get("", next(iter(found.values())))), view)
