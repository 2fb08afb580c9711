"""Figures: a pose and the things around it, drawn as SVG text.

The drawing uses presentation attributes and class names only: no script, no style sheet, no
outside reference. So it obeys ``default-src 'self'``, prints the same as on a screen, and a
style sheet may still recolour it by class.
"""

from collections.abc import Mapping
from html import escape

from callroom.model.movement import THROUGHOUT, Figure, Measure, Movement
from callroom.standards.anatomy import body_layers
from callroom.standards.marks import mark_layers
from callroom.standards.pose import Pose
from callroom.standards.props import draw_thing
from callroom.standards.scene import Scene, scene_of
from callroom.standards.shapes import Extent, Layer, Line, joined, number
from callroom.standards.sight import BEFORE, BEHIND, HELD
from callroom.standards.vector import Vector

MARGIN = 10.0


def figure_svg(figure: Figure, poses: Mapping[str, Pose], *, title: str = "") -> str:
    """Return one figure as an SVG document.

    Parameters
    ----------
    figure, poses
        The figure and the poses by id.
    title
        What a screen reader says; the caption where it is empty.

    Raises
    ------
    KeyError
        If the figure's pose is not among `poses`.
    """
    layers = figure_layers(figure, poses)
    return _document(layers, joined(layer.extent() for layer in layers), title or figure.caption)


def movement_svgs(
    movement: Movement, poses: Mapping[str, Pose], *, marked: bool = False
) -> tuple[str, ...]:
    """Return the figures of a movement, all of one height so that they stand on one line.

    `marked` draws, in each figure, where its measured points are decided.
    """
    drawn = [
        figure_layers(figure, poses, _measures(movement, figure.stage) if marked else ())
        for figure in movement.figures
    ]
    boxes = [joined(layer.extent() for layer in layers) for layers in drawn]
    if not boxes:
        return ()
    top, bottom = min(box[1] for box in boxes), max(box[3] for box in boxes)
    return tuple(
        _document(layers, (box[0], top, box[2], bottom), f"{movement.name}: {figure.caption}")
        for figure, layers, box in zip(movement.figures, drawn, boxes, strict=True)
    )


def _measures(movement: Movement, stage: str) -> tuple[Measure, ...]:
    return tuple(
        measure
        for point in movement.points
        if point.at in {stage, THROUGHOUT}
        for measure in point.measures
    )


def figure_layers(
    figure: Figure, poses: Mapping[str, Pose], measures: tuple[Measure, ...] = ()
) -> tuple[Layer, ...]:
    """Return what is drawn, from back to front: the ground first, the marks last."""
    people = [
        layer
        for number_ in range(figure.people)
        for layer in _person(figure, poses, number_ * figure.spaced_m)
    ]
    marks = mark_layers(measures, scene_of(figure, poses), figure.view)
    if any(drawn.draw == "water" for drawn in figure.kit):
        return (*people, *marks)
    left, _, right, _ = joined(layer.extent() for layer in people)
    ground = Layer("fig-ground", (Line(((left - 6, 1.3), (right + 6, 1.3))),))
    return (ground, *people, *marks)


def _person(figure: Figure, poses: Mapping[str, Pose], along_m: float) -> list[Layer]:
    scene = scene_of(figure, poses)
    if along_m:
        step = Vector(along_m, 0.0)
        scene = Scene({name: at + step for name, at in scene.joints.items()}, ())
    behind, near_arm = body_layers(scene.joints, figure.view)
    props = [
        prop for thing in scene.things for prop in draw_thing(thing, scene.joints, figure.view)
    ]
    depth = {
        place: [layer for prop in props if prop.depth == place for layer in prop.layers]
        for place in (BEHIND, HELD, BEFORE)
    }
    return [*depth[BEHIND], *behind, *depth[HELD], *near_arm, *depth[BEFORE]]


def _document(layers: tuple[Layer, ...], extent: Extent, title: str) -> str:
    left, top, right, bottom = extent
    box = (left - MARGIN, top - MARGIN, right - left + 2 * MARGIN, bottom - top + 2 * MARGIN)
    view_box = " ".join(number(value) for value in box)
    body = "".join(layer.svg() for layer in layers)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="fig" viewBox="{view_box}" role="img">'
        f"<title>{escape(title)}</title>{body}</svg>"
    )
