"""Plain shapes and the SVG text they become.

Coordinates are drawing units, 100 to the metre, y downward as SVG has it.
"""

from collections.abc import Iterable
from math import atan2, cos, pi, radians, sin, sqrt

import msgspec

UNITS_PER_M = 100.0

Spot = tuple[float, float]
Extent = tuple[float, float, float, float]


def number(value: float) -> str:
    """Return a coordinate with one decimal and no needless zeros."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def spot(at: Spot) -> str:
    """Return a coordinate pair as path text."""
    return f"{number(at[0])} {number(at[1])}"


class Capsule(msgspec.Struct, frozen=True):
    """The outline around two circles: a limb that tapers from one joint to the next."""

    start: Spot
    start_radius: float
    end: Spot
    end_radius: float

    def path(self) -> str:
        """Return the closed path; one circle alone where it swallows the other."""
        along = (self.end[0] - self.start[0], self.end[1] - self.start[1])
        length = sqrt(along[0] ** 2 + along[1] ** 2)
        if length <= abs(self.start_radius - self.end_radius) + 1e-6:
            start_wins = self.start_radius >= self.end_radius
            centre = self.start if start_wins else self.end
            return Disc(centre, max(self.start_radius, self.end_radius)).path()
        share = (self.start_radius - self.end_radius) / length
        # The common tangent touches both circles at this angle from the line of centres.
        lean = pi / 2 - atan2(share, sqrt(1.0 - share**2))
        heading = atan2(along[1], along[0])
        first = self._edge(self.start, self.start_radius, heading - lean)
        second = self._edge(self.end, self.end_radius, heading - lean)
        third = self._edge(self.end, self.end_radius, heading + lean)
        fourth = self._edge(self.start, self.start_radius, heading + lean)
        big_end, big_start = int(self.end_radius > self.start_radius), int(share > 0)
        end_r, start_r = number(self.end_radius), number(self.start_radius)
        return (
            f"M{spot(first)}L{spot(second)}A{end_r} {end_r} 0 {big_end} 1 {spot(third)}"
            f"L{spot(fourth)}A{start_r} {start_r} 0 {big_start} 1 {spot(first)}Z"
        )

    @staticmethod
    def _edge(centre: Spot, radius: float, angle: float) -> Spot:
        return centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)

    def extent(self) -> Extent:
        """Return the smallest upright rectangle around it: left, top, right, bottom."""
        return _around(
            [
                (self.start[0] - self.start_radius, self.start[1] - self.start_radius),
                (self.start[0] + self.start_radius, self.start[1] + self.start_radius),
                (self.end[0] - self.end_radius, self.end[1] - self.end_radius),
                (self.end[0] + self.end_radius, self.end[1] + self.end_radius),
            ]
        )


class Disc(msgspec.Struct, frozen=True):
    """A circle."""

    centre: Spot
    radius: float

    def path(self) -> str:
        """Return the closed path."""
        x, y, r = self.centre[0], self.centre[1], number(self.radius)
        left, right = spot((x - self.radius, y)), spot((x + self.radius, y))
        return f"M{left}A{r} {r} 0 1 1 {right}A{r} {r} 0 1 1 {left}Z"

    def extent(self) -> Extent:
        """Return left, top, right, bottom."""
        (x, y), r = self.centre, self.radius
        return x - r, y - r, x + r, y + r


class Line(msgspec.Struct, frozen=True):
    """Straight pieces through `spots`, closed to an area or left open."""

    spots: tuple[Spot, ...]
    closed: bool = False

    def path(self) -> str:
        """Return the path."""
        return "M" + "L".join(spot(at) for at in self.spots) + ("Z" if self.closed else "")

    def extent(self) -> Extent:
        """Return left, top, right, bottom."""
        return _around(self.spots)


Shape = Capsule | Disc | Line


def _around(spots: Iterable[Spot]) -> Extent:
    across, down = zip(*spots, strict=True)
    return min(across), min(down), max(across), max(down)


def rectangle(centre: Spot, wide: float, tall: float, turn_deg: float = 0.0) -> Line:
    """Return a rectangle around `centre`, turned anticlockwise."""
    corners = (
        (-wide / 2, -tall / 2),
        (wide / 2, -tall / 2),
        (wide / 2, tall / 2),
        (-wide / 2, tall / 2),
    )
    return Line(tuple(placed(centre, corner, turn_deg) for corner in corners), closed=True)


def placed(centre: Spot, offset: Spot, turn_deg: float) -> Spot:
    """Return `centre` plus `offset` turned anticlockwise as seen on the sheet."""
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    return centre[0] + offset[0] * c + offset[1] * s, centre[1] - offset[0] * s + offset[1] * c


def arc(centre: Spot, wide: float, tall: float, span_deg: tuple[float, float]) -> Line:
    """Return part of an ellipse as short straight pieces, angles anticlockwise from 3 o'clock."""
    first, last = span_deg
    steps = 36
    angles = [radians(first + (last - first) * step / steps) for step in range(steps + 1)]
    return Line(tuple((centre[0] + wide * cos(a), centre[1] - tall * sin(a)) for a in angles))


class Layer(msgspec.Struct, frozen=True):
    """Shapes drawn together in one style; with `gap`, parted from what lies beneath."""

    style: str
    shapes: tuple[Shape, ...]
    gap: bool = False

    def extent(self) -> Extent:
        """Return left, top, right, bottom of all shapes."""
        boxes = [shape.extent() for shape in self.shapes]
        return joined(boxes)

    def svg(self) -> str:
        """Return the layer as SVG elements."""
        path = "".join(shape.path() for shape in self.shapes)
        under = f'<path class="fig-gap" {STYLES["fig-gap"]} d="{path}"/>' if self.gap else ""
        return f'{under}<path class="{self.style}" {STYLES[self.style]} d="{path}"/>'


def joined(boxes: Iterable[Extent]) -> Extent:
    """Return the rectangle around several rectangles."""
    left, top, right, bottom = zip(*boxes, strict=True)
    return min(left), min(top), max(right), max(bottom)


INK, FAR, PAPER = "#1c2733", "#93a0ae", "#ffffff"
KIT, KIT_FAR = "#c2500f", "#e3a37e"
FLOOR, GUIDE = "#66727f", "#0b6e8a"

_ROUND = 'stroke-linecap="round" stroke-linejoin="round"'

# Presentation attributes, so that no style sheet is needed; one may still override by class.
STYLES = {
    "fig-body": f'fill="{INK}"',
    "fig-far": f'fill="{FAR}"',
    "fig-gap": f'fill="{PAPER}" stroke="{PAPER}" stroke-width="4" {_ROUND}',
    "fig-kit": f'fill="none" stroke="{KIT}" stroke-width="3.4" {_ROUND}',
    "fig-kit-solid": f'fill="{KIT}" stroke="{KIT}" stroke-width="1.5" {_ROUND}',
    "fig-kit-wash": f'fill="{KIT}" fill-opacity="0.14"',
    "fig-kit-tint": f'fill="{KIT}" fill-opacity="0.16" stroke="{KIT}" stroke-width="3" {_ROUND}',
    "fig-kit-far": f'fill="none" stroke="{KIT_FAR}" stroke-width="3.4" {_ROUND}',
    "fig-kit-solid-far": f'fill="{KIT_FAR}" stroke="{KIT_FAR}" stroke-width="1.5" {_ROUND}',
    "fig-kit-thin": f'fill="none" stroke="{KIT}" stroke-width="1.6" {_ROUND}',
    "fig-kit-rope": f'fill="none" stroke="{KIT}" stroke-width="4.5"',
    "fig-thin": f'fill="none" stroke="{FLOOR}" stroke-width="1.5" {_ROUND}',
    "fig-tape": f'fill="none" stroke="{GUIDE}" stroke-width="5"',
    "fig-water": f'fill="none" stroke="{GUIDE}" stroke-width="2.6" {_ROUND}',
    "fig-frame": f'fill="none" stroke="{FLOOR}" stroke-width="3" {_ROUND}',
    "fig-frame-tint": f'fill="{FLOOR}" fill-opacity="0.14" stroke="{FLOOR}" stroke-width="2.6" {_ROUND}',
    "fig-ground": f'fill="none" stroke="{FLOOR}" stroke-width="2.6" {_ROUND}',
    "fig-guide": f'fill="none" stroke="{GUIDE}" stroke-width="2.4" stroke-dasharray="7 5" {_ROUND}',
    "fig-guide-dot": f'fill="{PAPER}" stroke="{GUIDE}" stroke-width="2.4"',
}
