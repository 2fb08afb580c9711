"""What drawing a thing needs: the thing, the body it belongs to, and layers with a depth."""

import msgspec

from callroom.model.movement import View
from callroom.standards.anatomy import seen
from callroom.standards.pose import Joints
from callroom.standards.scene import Thing
from callroom.standards.shapes import (
    UNITS_PER_M,
    Capsule,
    Disc,
    Layer,
    Line,
    Spot,
    placed,
)

BEHIND, HELD, BEFORE = 0, 1, 2


class Prop(msgspec.Struct, frozen=True):
    """Layers of one thing, and their place in depth."""

    depth: int
    layers: tuple[Layer, ...]


class Sight(msgspec.Struct, frozen=True):
    """What a drawing needs to know: the thing, the body it belongs to, the view."""

    thing: Thing
    joints: Joints
    view: View

    @property
    def centre(self) -> Spot:
        """The thing's centre on the sheet."""
        return seen(self.thing.at, self.view)

    @property
    def turn(self) -> float:
        """The thing's turn, anticlockwise [degrees]."""
        return self.thing.drawn.turn_deg

    def size(self, usual_m: float) -> float:
        """Return its size, or the usual one [drawing units]."""
        size_m = self.thing.drawn.size_m
        return (usual_m if size_m is None else size_m) * UNITS_PER_M

    def tall(self, usual_m: float) -> float:
        """Return its height, or the usual one [drawing units]."""
        tall_m = self.thing.drawn.tall_m
        return (usual_m if tall_m is None else tall_m) * UNITS_PER_M

    def part(self, x: float, y: float) -> Spot:
        """Return a spot of the thing given from its centre, x forward and y up, before its turn."""
        return placed(self.centre, (x, -y), self.turn)

    def spot(self, joint: str) -> Spot:
        """Return where a joint is on the sheet."""
        return seen(self.joints[joint], self.view)


def solid(*shapes: Capsule | Disc | Line) -> Layer:
    """Return a filled layer of kit."""
    return Layer("fig-kit-solid", shapes, gap=True)


def tint(*shapes: Capsule | Disc | Line) -> Layer:
    """Return a lightly tinted layer of kit that shows what is behind it."""
    return Layer("fig-kit-tint", shapes)


def lines(*shapes: Capsule | Disc | Line) -> Layer:
    """Return a layer of kit drawn in line."""
    return Layer("fig-kit", shapes)


def frame(*shapes: Capsule | Disc | Line) -> Layer:
    """Return a layer of furniture drawn in line."""
    return Layer("fig-frame", shapes)


def opaque(*shapes: Capsule | Disc | Line) -> Layer:
    """Return a tinted layer of kit that hides what is behind it."""
    return Layer("fig-kit-tint", shapes, gap=True)
