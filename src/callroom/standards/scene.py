"""A scene: one posed body and the things around it, each at its place."""

from collections.abc import Mapping

import msgspec

from callroom.model.movement import Drawn, Figure
from callroom.standards.pose import Joints, Pose, joints_of
from callroom.standards.vector import Vector, middle


class Thing(msgspec.Struct, frozen=True):
    """A drawn thing and where its centre is [m]."""

    drawn: Drawn
    at: Vector


class Scene(msgspec.Struct, frozen=True):
    """Where every joint and every thing of a figure is [m]."""

    joints: Joints
    things: tuple[Thing, ...]

    def things_called(self, *kinds: str) -> tuple[Thing, ...]:
        """Return the things of the given kinds, in the order they were drawn."""
        return tuple(thing for thing in self.things if thing.drawn.draw in kinds)


def scene_of(figure: Figure, poses: Mapping[str, Pose]) -> Scene:
    """Return the scene of a figure.

    Raises
    ------
    KeyError
        If the figure names a pose that is not in `poses`.
    """
    joints = joints_of(poses[figure.pose])
    return Scene(joints, tuple(Thing(drawn, _centre(drawn, joints)) for drawn in figure.kit))


def _centre(drawn: Drawn, joints: Joints) -> Vector:
    at = {
        "floor": lambda: Vector(0.0, 0.0),
        "hands": lambda: middle(joints["near_hand"], joints["far_hand"]),
        "near_hand": lambda: joints["near_hand"],
        "far_hand": lambda: joints["far_hand"],
        "shoulders": lambda: joints["shoulders"],
        "feet": lambda: middle(joints["near_ankle"], joints["far_ankle"]),
        "waist": lambda: joints["waist"],
    }[drawn.at]()
    return at + Vector(drawn.x_m, drawn.y_m)
