"""The ground: the venue as it was measured, and what stands where in it.

All lengths are whole millimetres. `x_mm` runs to the right and `y_mm` down the drawing, both
from the upper left corner of the whole ground; `length_mm` is along x, `width_mm` along y.
"""

from typing import Annotated, Literal, TypeVar, get_args

import msgspec

MOST_MM = 1_000_000
"""The largest ground that can be drawn is a kilometre each way."""

Millimetres = Annotated[int, msgspec.Meta(ge=0, le=MOST_MM)]
Size = Annotated[int, msgspec.Meta(ge=1, le=MOST_MM)]
Id = Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
Name = Annotated[str, msgspec.Meta(max_length=80)]

Heading = Literal["down", "across"]
"""Which way the lanes run in the drawing: down it, side by side from left to right, or across
it, one below the other."""

SpotKind = Literal[
    "rig",
    "wall_target",
    "spectators",
    "desk",
    "first_aid",
    "defibrillator",
    "kit_store",
    "warm_up",
    "walkway",
    "stall",
    "stage",
    "other",
]
SPOT_KINDS: tuple[SpotKind, ...] = get_args(SpotKind)

Wall = Literal["top", "right", "bottom", "left"]
WALLS: tuple[Wall, ...] = get_args(Wall)


class Space(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A hall, a room or a yard; `height_mm` is what is free below the roof (0: not said)."""

    id: Id
    name: Name
    x_mm: Millimetres
    y_mm: Millimetres
    length_mm: Size
    width_mm: Size
    height_mm: Millimetres = 0
    outdoor: bool = False


class LaneField(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The lanes of a floor: all alike, side by side, from its upper left corner.

    Attributes
    ----------
    lane_length_mm, lane_width_mm, gap_mm
        One lane along and across the way it runs, and what lies between two of them, where
        judges stand.
    from_far
        The first lane is the last one drawn: on the right, or at the bottom.
    """

    floor: str
    x_mm: Millimetres
    y_mm: Millimetres
    lane_length_mm: Size
    lane_width_mm: Size
    gap_mm: Millimetres = 0
    heading: Heading = "down"
    from_far: bool = False


class Spot(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A thing or a place that takes room; where a side attraction may be."""

    id: Id
    kind: SpotKind
    name: Name
    x_mm: Millimetres
    y_mm: Millimetres
    length_mm: Size
    width_mm: Size


class Door(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A way out: in which wall of a space, how far along it, and its clear width."""

    id: Id
    name: Name
    space: str
    wall: Wall
    along_mm: Millimetres
    width_mm: Size


class Course(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A measured way for runs and carries of a workout: one lap, as walked with a wheel.

    It is drawn from `x_mm`, `y_mm` to `to_x_mm`, `to_y_mm`; its true length is `lap_mm`,
    however it winds.
    """

    id: Id
    name: Name
    workout: str
    lap_mm: Size
    x_mm: Millimetres
    y_mm: Millimetres
    to_x_mm: Millimetres
    to_y_mm: Millimetres


class Ground(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The whole of it; nothing at all: nobody measured yet."""

    spaces: tuple[Space, ...] = ()
    fields: tuple[LaneField, ...] = ()
    spots: tuple[Spot, ...] = ()
    doors: tuple[Door, ...] = ()
    courses: tuple[Course, ...] = ()

    @property
    def drawn(self) -> bool:
        """Whether anything was measured."""
        return bool(self.spaces)

    def space(self, space_id: str) -> Space | None:
        """Return a space, or None."""
        return _with_id(self.spaces, space_id)

    def spot(self, spot_id: str) -> Spot | None:
        """Return a spot, or None."""
        return _with_id(self.spots, spot_id)

    def field(self, floor_id: str) -> LaneField | None:
        """Return the lanes of a floor, or None if they were not laid out."""
        return next((one for one in self.fields if one.floor == floor_id), None)


Thing = TypeVar("Thing", Space, Spot, Door, Course)


def _with_id(things: tuple[Thing, ...], wanted: str) -> Thing | None:
    return next((thing for thing in things if thing.id == wanted), None)


class Box(msgspec.Struct, frozen=True, kw_only=True):
    """A rectangle of the ground [mm], its edges along the drawing's."""

    x_mm: int
    y_mm: int
    length_mm: int
    width_mm: int

    @property
    def right_mm(self) -> int:
        """Its right edge."""
        return self.x_mm + self.length_mm

    @property
    def bottom_mm(self) -> int:
        """Its lower edge."""
        return self.y_mm + self.width_mm

    def grown(self, by_mm: int) -> "Box":
        """Return the rectangle with `by_mm` more on every side."""
        return Box(
            x_mm=self.x_mm - by_mm,
            y_mm=self.y_mm - by_mm,
            length_mm=self.length_mm + 2 * by_mm,
            width_mm=self.width_mm + 2 * by_mm,
        )

    def meets(self, other: "Box") -> bool:
        """Whether the two share more than an edge."""
        return (
            self.x_mm < other.right_mm
            and other.x_mm < self.right_mm
            and self.y_mm < other.bottom_mm
            and other.y_mm < self.bottom_mm
        )

    def holds(self, other: "Box") -> bool:
        """Whether the other lies within, edges included."""
        return (
            self.x_mm <= other.x_mm
            and self.y_mm <= other.y_mm
            and other.right_mm <= self.right_mm
            and other.bottom_mm <= self.bottom_mm
        )

    def apart_mm(self, other: "Box") -> int:
        """Return the room between the two along one axis; 0 if they meet, the larger of both."""
        across = max(other.x_mm - self.right_mm, self.x_mm - other.right_mm)
        down = max(other.y_mm - self.bottom_mm, self.y_mm - other.bottom_mm)
        return max(across, down, 0)


def box_of(thing: Space | Spot) -> Box:
    """Return the room that a space or a spot takes."""
    return Box(x_mm=thing.x_mm, y_mm=thing.y_mm, length_mm=thing.length_mm, width_mm=thing.width_mm)


def field_box(field: LaneField, lanes: int) -> Box:
    """Return the room that all lanes of a floor take, with the gaps between them."""
    side_by_side = lanes * field.lane_width_mm + (lanes - 1) * field.gap_mm
    down = field.heading == "down"
    return Box(
        x_mm=field.x_mm,
        y_mm=field.y_mm,
        length_mm=side_by_side if down else field.lane_length_mm,
        width_mm=field.lane_length_mm if down else side_by_side,
    )


def lane_box(field: LaneField, lanes: int, place: int) -> Box:
    """Return the room of one lane; `place` counts the floor's lane numbers from 0."""
    drawn = lanes - 1 - place if field.from_far else place
    offset_mm = drawn * (field.lane_width_mm + field.gap_mm)
    down = field.heading == "down"
    return Box(
        x_mm=field.x_mm + (offset_mm if down else 0),
        y_mm=field.y_mm + (0 if down else offset_mm),
        length_mm=field.lane_width_mm if down else field.lane_length_mm,
        width_mm=field.lane_length_mm if down else field.lane_width_mm,
    )


def ground_box(ground: Ground) -> Box:
    """Return the least room that holds every space; none: a point."""
    boxes = [box_of(space) for space in ground.spaces]
    left = min((box.x_mm for box in boxes), default=0)
    top = min((box.y_mm for box in boxes), default=0)
    return Box(
        x_mm=left,
        y_mm=top,
        length_mm=max((box.right_mm for box in boxes), default=left) - left,
        width_mm=max((box.bottom_mm for box in boxes), default=top) - top,
    )
