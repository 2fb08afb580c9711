"""The drawings: well-formed, self-contained, of one height, and true to their shapes."""

import re
from math import hypot, isclose
from typing import get_args
from xml.etree import ElementTree as ET

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model.movement import Drawn, DrawnKind, Figure, Movement, View
from callroom.standards import Pose, all_movements, built_in, figure_svg, movement, movement_svgs
from callroom.standards.shapes import (
    STYLES,
    Capsule,
    Disc,
    Layer,
    Line,
    Spot,
    arc,
    number,
    rectangle,
)

POSES = built_in().poses
SVG = "{http://www.w3.org/2000/svg}"
FORBIDDEN = ("style", "href", "onload", "onclick", "src")


def parsed(document: str) -> ET.Element:
    return ET.fromstring(document)  # noqa: S314 - our own drawing


def view_box(document: str) -> tuple[float, float, float, float]:
    left, top, wide, tall = map(float, parsed(document).attrib["viewBox"].split())
    return left, top, wide, tall


@pytest.mark.parametrize("one", all_movements(), ids=lambda one: one.id)
@pytest.mark.parametrize("marked", [False, True])
def test_a_drawing_obeys_a_strict_content_policy(one: Movement, marked: bool) -> None:
    for document in movement_svgs(one, POSES, marked=marked):
        root = parsed(document)
        assert root.attrib["role"] == "img"
        assert root.find(f"{SVG}title") is not None
        for element in root.iter():
            assert element.tag in {f"{SVG}svg", f"{SVG}title", f"{SVG}path"}
            assert not set(element.attrib) & set(FORBIDDEN)
            assert not any("url(" in value for value in element.attrib.values())
        for path in root.iter(f"{SVG}path"):
            assert path.attrib["class"] in STYLES
            assert "nan" not in path.attrib["d"]
        assert len(document) < 30_000


@pytest.mark.parametrize("one", all_movements(), ids=lambda one: one.id)
def test_the_figures_of_a_movement_stand_on_one_line(one: Movement) -> None:
    boxes = [view_box(document) for document in movement_svgs(one, POSES)]
    assert len({(top, tall) for _, top, _, tall in boxes}) == 1
    assert all(wide > 30 and tall > 30 for _, _, wide, tall in boxes)


def test_the_title_names_the_movement_and_is_escaped() -> None:
    figure = Figure(stage="start", pose="stand_open", caption='Feet < "hip" width & more.')
    root = parsed(figure_svg(figure, POSES))
    assert root.findtext(f"{SVG}title") == 'Feet < "hip" width & more.'
    named = movement_svgs(movement("air_squat"), POSES)[0]
    assert parsed(named).findtext(f"{SVG}title") == "Air squat: Standing tall."


def test_a_drawing_is_the_same_every_time() -> None:
    assert movement_svgs(movement("row"), POSES) == movement_svgs(movement("row"), POSES)


def test_marks_are_drawn_only_when_asked_for() -> None:
    plain = movement_svgs(movement("air_squat"), POSES)[1]
    marked = movement_svgs(movement("air_squat"), POSES, marked=True)[1]
    assert "fig-guide" not in plain
    assert "fig-guide-dot" in marked


def test_a_movement_without_figures_has_no_drawings() -> None:
    bare = msgspec.structs.replace(movement("run"), figures=())
    assert movement_svgs(bare, POSES) == ()


@pytest.mark.parametrize("kind", get_args(DrawnKind))
@pytest.mark.parametrize("view", ["side", "front"])
def test_every_kind_of_kit_can_be_drawn_from_both_sides(kind: DrawnKind, view: View) -> None:
    figure = Figure(
        stage="start",
        pose="hang_stand",
        caption="x",
        view=view,
        kit=(Drawn(draw=kind, at="hands", turn_deg=20.0, size_m=0.4, tall_m=0.5),),
    )
    bare = figure_svg(Figure(stage="start", pose="hang_stand", caption="x", view=view), POSES)
    drawn = figure_svg(figure, POSES)
    parsed(drawn)
    assert len(drawn) > len(bare)


def test_several_people_are_drawn_beside_each_other() -> None:
    one = Figure(stage="start", pose="stand_open", caption="x")
    three = Figure(stage="start", pose="stand_open", caption="x", people=3, spaced_m=1.0)
    assert view_box(figure_svg(three, POSES))[2] == pytest.approx(
        view_box(figure_svg(one, POSES))[2] + 200, abs=1
    )


# ---- Shapes ------------------------------------------------------------------------------------

coordinate = st.floats(-300, 300)
spots = st.tuples(coordinate, coordinate)
radius = st.floats(0.5, 40)


def ends(path: str) -> list[tuple[float, float]]:
    """Where the pen is after each command of a path with absolute M, L and A."""
    found = []
    for command, text in re.findall(r"([MLA])([^MLAZ]*)", path):
        values = [float(value) for value in text.split()]
        found.append((values[-2], values[-1]))
        assert command in "MLA"
    return found


@given(spots, radius, spots, radius)
def test_the_corners_of_a_capsule_lie_on_its_circles(
    start: Spot, r1: float, end: Spot, r2: float
) -> None:
    capsule = Capsule(start, r1, end, r2)
    path = capsule.path()
    assert path.endswith("Z")
    for x, y in ends(path):
        on_start = abs(hypot(x - start[0], y - start[1]) - r1)
        on_end = abs(hypot(x - end[0], y - end[1]) - r2)
        assert min(on_start, on_end) < 0.15
    left, top, right, bottom = capsule.extent()
    assert left <= start[0] - r1 + 1e-9
    assert right >= end[0] + r2 - 1e-9
    assert top <= min(start[1] - r1, end[1] - r2) + 1e-9
    assert bottom >= max(start[1] + r1, end[1] + r2) - 1e-9


def test_a_circle_that_swallows_the_other_is_drawn_alone() -> None:
    assert Capsule((0.0, 0.0), 10.0, (1.0, 0.0), 2.0).path() == Disc((0.0, 0.0), 10.0).path()
    assert Capsule((0.0, 0.0), 2.0, (1.0, 0.0), 10.0).path() == Disc((1.0, 0.0), 10.0).path()


@given(spots, st.floats(1, 100), st.floats(1, 100), st.floats(-360, 360))
def test_a_turned_rectangle_keeps_its_size(
    centre: Spot, wide: float, tall: float, turn: float
) -> None:
    a, b, c, d = rectangle(centre, wide, tall, turn).spots
    assert isclose(hypot(b[0] - a[0], b[1] - a[1]), wide, rel_tol=1e-9)
    assert isclose(hypot(c[0] - b[0], c[1] - b[1]), tall, rel_tol=1e-9)
    assert isclose((a[0] + c[0]) / 2, centre[0], abs_tol=1e-6)
    assert isclose((b[1] + d[1]) / 2, centre[1], abs_tol=1e-6)


def test_a_turn_goes_anticlockwise_on_the_sheet() -> None:
    right_end = rectangle((0.0, 0.0), 100.0, 0.001, 90.0).spots[1]
    assert right_end == pytest.approx((0.0, -50.0), abs=0.01)


def test_an_arc_runs_between_its_angles() -> None:
    line = arc((0.0, 0.0), 10.0, 10.0, (0.0, 90.0))
    assert line.spots[0] == pytest.approx((10.0, 0.0))
    assert line.spots[-1] == pytest.approx((0.0, -10.0))


def test_numbers_are_short() -> None:
    assert [number(value) for value in (1.0, -0.04, 0.25, -3.14159)] == ["1", "0", "0.2", "-3.1"]


def test_a_layer_reaches_around_its_shapes() -> None:
    layer = Layer("fig-kit", (Disc((0.0, 0.0), 5.0), Line(((20.0, 1.0), (30.0, -9.0)))))
    assert layer.extent() == (-5.0, -9.0, 30.0, 5.0)


def test_every_style_has_its_presentation_attributes() -> None:
    for style, attributes in STYLES.items():
        assert style.startswith("fig-")
        parsed(f"<path {attributes}/>")


def test_a_thing_behind_the_body_is_drawn_first() -> None:
    bag = Drawn(draw="sandbag", at="shoulders")
    before = Figure(stage="s", pose="stand_open", caption="x", kit=(bag,))
    hidden = msgspec.structs.replace(bag, behind=True)
    behind = Figure(stage="s", pose="stand_open", caption="x", kit=(hidden,))
    body = 'class="fig-body"'
    kit = 'class="fig-kit-tint"'
    first, second = figure_svg(before, POSES), figure_svg(behind, POSES)
    assert first.index(body) < first.index(kit)
    assert second.index(kit) < second.index(body)


def test_from_the_front_the_right_hand_is_on_the_viewer_s_left() -> None:
    poses = {"reach": Pose(id="reach", shoulder=(90.0, 0.0), shoulder_out=(80.0, 0.0))}
    left, _, wide, _ = view_box(
        figure_svg(Figure(stage="s", pose="reach", caption="x", view="front"), poses)
    )
    assert abs(left) > left + wide
