"""Vectors and the few turns that forward kinematics needs."""

from math import acos, cos, degrees, hypot, radians, sin, sqrt

import msgspec


class Vector(msgspec.Struct, frozen=True):
    """A point or a direction [m]: x the way the athlete faces, y up, z to their right."""

    x: float
    y: float
    z: float = 0.0

    def __add__(self, other: "Vector") -> "Vector":
        return Vector(self.x + other.x, self.y + other.y, self.z + other.z)

    def __sub__(self, other: "Vector") -> "Vector":
        return Vector(self.x - other.x, self.y - other.y, self.z - other.z)

    def __mul__(self, factor: float) -> "Vector":
        return Vector(self.x * factor, self.y * factor, self.z * factor)

    def length(self) -> float:
        """Return the length [m]."""
        return sqrt(self.x**2 + self.y**2 + self.z**2)

    def unit(self) -> "Vector":
        """Return the direction alone, one long."""
        return self * (1.0 / self.length())

    def dot(self, other: "Vector") -> float:
        """Return the scalar product."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: "Vector") -> "Vector":
        """Return the vector product."""
        return Vector(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )


FORWARD = Vector(1.0, 0.0, 0.0)
UP = Vector(0.0, 1.0, 0.0)
RIGHT = Vector(0.0, 0.0, 1.0)


def turned(first: Vector, second: Vector, by_deg: float) -> Vector:
    """Return the unit vector `first` turned towards the unit vector `second` by `by_deg`.

    The two are at right angles, so the result is `first` cos + `second` sin.
    """
    angle = radians(by_deg)
    return first * cos(angle) + second * sin(angle)


def between_deg(first: Vector, second: Vector) -> float:
    """Return the angle between two directions, 0 to 180 [degrees]; 0 where one has no length."""
    lengths = first.length() * second.length()
    if lengths < 1e-12:
        return 0.0
    cosine = first.dot(second) / lengths
    return degrees(acos(max(-1.0, min(1.0, cosine))))


def middle(first: Vector, second: Vector) -> Vector:
    """Return the point half way between two points."""
    return (first + second) * 0.5


def flat_distance(first: Vector, second: Vector) -> float:
    """Return the distance of two points as seen from the side, ignoring depth [m]."""
    return hypot(first.x - second.x, first.y - second.y)
