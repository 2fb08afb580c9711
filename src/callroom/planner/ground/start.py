"""A sensible start: the lanes and everything around them, laid out from a few sizes."""

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from callroom.model.event import Event
from callroom.model.floor import Floor
from callroom.model.ground import (
    Box,
    Door,
    Ground,
    Heading,
    LaneField,
    Space,
    Spot,
    SpotKind,
    box_of,
    field_box,
)
from callroom.model.movement import Movement
from callroom.model.safety import Exit
from callroom.planner.ground.exits import free_zone
from callroom.planner.ground.limits import (
    CLEAR_MM,
    DOOR_LEAST_MM,
    JUDGE_MM,
    SPECTATORS_MM,
    WALKWAY_MM,
)
from callroom.planner.ground.work import LaneWork, lane_work

_HALF_M = 500
_LEAST_LANE_MM = (2_000, 5_000)
_RIG_MM = 1_200
_LONGEST_STRETCH_MM = 15_000
_SEARCH_MM = 500
_BETWEEN_SPACES_MM = 3_000


class Measured(msgspec.Struct, frozen=True, kw_only=True):
    """What was measured of a hall or a yard: its size and the room under its roof (0: open)."""

    length_mm: int
    width_mm: int
    height_mm: int = 0


def start_ground(
    event: Event,
    movements: Mapping[str, Movement],
    inside: Measured | None,
    outside: Measured | None,
    *,
    exits: Iterable[Exit] = (),
    names: Mapping[str, str],
) -> Ground:
    """Return a layout to begin from: nothing in it is right until somebody has looked.

    Each lane gets what the workouts of its floor need, rounded up to half a metre, and a gap
    for the judge; the lanes stand below their rig or wall, centred. A yard is drawn below the
    hall. Things are put where they are clear of lanes and ways out, along the walls first.

    Parameters
    ----------
    exits
        The ways out as the safety plan has them; none: one is drawn, to be measured.
    names
        What the things are called, by ``hall``, ``yard``, ``exit`` and the kinds of spots.
    """
    spaces: list[Space] = []
    fields: list[LaneField] = []
    spots: list[Spot] = []
    doors: list[Door] = []
    for id_, measured, outdoor in (("hall", inside, False), ("yard", outside, True)):
        floors = [floor for floor in event.floors if floor.outdoor == outdoor]
        if measured is None:
            continue
        top_mm = max((box_of(one).bottom_mm + _BETWEEN_SPACES_MM for one in spaces), default=0)
        space = Space(
            id=id_,
            name=names[id_],
            x_mm=0,
            y_mm=top_mm,
            length_mm=measured.length_mm,
            width_mm=measured.width_mm,
            height_mm=measured.height_mm,
            outdoor=outdoor,
        )
        spaces.append(space)
        if not outdoor:
            doors.extend(_doors(space, tuple(exits), names["exit"]))
        for floor, part in zip(floors, _parts(space, len(floors)), strict=True):
            works = _works(event, floor, movements)
            field = _field(floor, works, part)
            fields.append(field)
            spots.extend(_anchors(floor, works, field, names))
    ground = Ground(
        spaces=tuple(spaces), fields=tuple(fields), spots=tuple(spots), doors=tuple(doors)
    )
    return _with_places(event, ground, names)


def _works(event: Event, floor: Floor, movements: Mapping[str, Movement]) -> list[LaneWork]:
    here = (
        workout
        for workout in event.workouts
        if floor.id in event.wishes.floors_for(workout.id, workout.floor)
    )
    return [lane_work(workout, event, movements) for workout in here]


def _parts(space: Space, floors: int) -> list[Box]:
    """Part a space into strips from left to right, one for each floor."""
    each_mm = space.length_mm // max(floors, 1)
    return [
        Box(
            x_mm=space.x_mm + place * each_mm,
            y_mm=space.y_mm,
            length_mm=each_mm,
            width_mm=space.width_mm,
        )
        for place in range(floors)
    ]


def _field(floor: Floor, works: Sequence[LaneWork], part: Box) -> LaneField:
    """Return the lanes in their part of a space, narrower ones where the full ones do not fit.

    What a bar needs beside it may then be the gap where the judge stands.
    """
    stations = [station for work in works for station in work.stations]
    widest_mm = max((one.athlete_width_mm for one in stations), default=_LEAST_LANE_MM[0])
    full_mm = max(_up(widest_mm), _LEAST_LANE_MM[0])
    at_head = _RIG_MM if any(one.anchor for one in stations) else CLEAR_MM
    full = _placed(floor, works, part, full_mm, at_head)
    if part.holds(field_box(full, floor.lanes)):
        return full
    return _placed(floor, works, part, max(full_mm - JUDGE_MM, _LEAST_LANE_MM[0]), at_head)


def _placed(
    floor: Floor, works: Sequence[LaneWork], part: Box, lane_mm: int, at_head: int
) -> LaneField:
    """Return lanes of a width, as long as the work asks for, centred below their head."""
    wanted = [work.length_mm(lane_mm) + _stretch_mm(work) for work in works]
    drawn = LaneField(
        floor=floor.id,
        x_mm=0,
        y_mm=0,
        lane_length_mm=max(_up(max(wanted, default=0)), _LEAST_LANE_MM[1]),
        lane_width_mm=lane_mm,
        gap_mm=JUDGE_MM,
    )
    heading = _heading(drawn, floor.lanes, part)
    box = field_box(msgspec.structs.replace(drawn, heading=heading), floor.lanes)
    down = heading == "down"
    spare_mm = part.length_mm - box.length_mm if down else part.width_mm - box.width_mm
    return msgspec.structs.replace(
        drawn,
        heading=heading,
        x_mm=part.x_mm + (max(spare_mm, 0) // 2 if down else at_head),
        y_mm=part.y_mm + (at_head if down else max(spare_mm, 0) // 2),
    )


def _stretch_mm(work: LaneWork) -> int:
    """Return the longest marked stretch a lane can hold; what is longer needs a course."""
    marks_mm = (way.mark_m * 1000 for way in work.ways)
    return max((mark_mm for mark_mm in marks_mm if mark_mm <= _LONGEST_STRETCH_MM), default=0)


def _heading(field: LaneField, lanes: int, part: Box) -> Heading:
    """Return the way that leaves more room, down if both do."""
    over: dict[Heading, int] = {}
    for heading in ("down", "across"):
        turned: Heading = "down" if heading == "down" else "across"
        box = field_box(msgspec.structs.replace(field, heading=turned), lanes)
        over[turned] = max(box.length_mm - part.length_mm, 0) + max(
            box.width_mm + 2 * CLEAR_MM - part.width_mm, 0
        )
    return "across" if over["across"] < over["down"] else "down"


def _anchors(
    floor: Floor, works: Sequence[LaneWork], field: LaneField, names: Mapping[str, str]
) -> list[Spot]:
    """Return the rig, or the wall with targets, at the head of the lanes, if one is needed."""
    needed = {station.anchor for work in works for station in work.stations}
    kind: SpotKind | None = "rig" if "rig" in needed else None
    kind = kind or ("wall_target" if "wall" in needed else None)
    if kind is None:
        return []
    box, down = field_box(field, floor.lanes), field.heading == "down"
    return [
        Spot(
            id=f"{kind}-{floor.id}"[:40],
            kind=kind,
            name=names[kind],
            x_mm=box.x_mm if down else max(box.x_mm - _RIG_MM, 0),
            y_mm=max(box.y_mm - _RIG_MM, 0) if down else box.y_mm,
            length_mm=box.length_mm if down else _RIG_MM,
            width_mm=_RIG_MM if down else box.width_mm,
        )
    ]


def _doors(space: Space, exits: Sequence[Exit], name: str) -> list[Door]:
    """Spread the ways out over the right, lower and left walls."""
    known = exits or (Exit(name=name, width_mm=max(DOOR_LEAST_MM, 900)),)
    doors = []
    for place, way in enumerate(known):
        wall = ("right", "bottom", "left")[place % 3]
        wall_mm = space.length_mm if wall == "bottom" else space.width_mm
        doors.append(
            Door(
                id=f"exit-{place + 1}",
                name=way.name or name,
                space=space.id,
                wall="right" if wall == "right" else "bottom" if wall == "bottom" else "left",
                along_mm=max(wall_mm - way.width_mm - _BETWEEN_SPACES_MM * (place // 3 + 1), 0),
                width_mm=way.width_mm,
            )
        )
    return doors


_PLACES: tuple[tuple[SpotKind, int, int], ...] = (
    ("spectators", 8_000, 2_000),
    ("warm_up", 4_000, 3_000),
    ("desk", 2_000, 1_000),
    ("first_aid", 2_000, 2_000),
    ("kit_store", 3_000, 2_000),
)


def _with_places(event: Event, ground: Ground, names: Mapping[str, str]) -> Ground:
    """Put what every day needs where there is room for it; what has none is left out."""
    lanes = {floor.id: floor.lanes for floor in event.floors}
    taken = [box_of(spot) for spot in ground.spots]
    taken += [field_box(field, lanes[field.floor]).grown(WALKWAY_MM) for field in ground.fields]
    taken += [free_zone(ground, door) for door in ground.doors]
    kept = list(ground.spots)
    for kind, length_mm, width_mm in _PLACES:
        gap_mm = SPECTATORS_MM - WALKWAY_MM if kind == "spectators" else 0
        box = _free(ground.spaces, length_mm, width_mm, taken, gap_mm)
        if box is None:
            continue
        taken.append(box)
        kept.append(
            Spot(
                id=kind.replace("_", "-"),
                kind=kind,
                name=names[kind],
                x_mm=box.x_mm,
                y_mm=box.y_mm,
                length_mm=box.length_mm,
                width_mm=box.width_mm,
            )
        )
    return msgspec.structs.replace(ground, spots=tuple(kept))


def _free(
    spaces: Iterable[Space], length_mm: int, width_mm: int, taken: Sequence[Box], gap_mm: int
) -> Box | None:
    """Return the free place nearest to the lower wall, then the left one; None: there is none."""
    for space in spaces:
        room = box_of(space)
        for turned in ((length_mm, width_mm), (width_mm, length_mm)):
            for y_mm in range(room.bottom_mm - turned[1], room.y_mm - 1, -_SEARCH_MM):
                for x_mm in range(room.x_mm, room.right_mm - turned[0] + 1, _SEARCH_MM):
                    box = Box(x_mm=x_mm, y_mm=y_mm, length_mm=turned[0], width_mm=turned[1])
                    if not any(box.grown(gap_mm).meets(other) for other in taken):
                        return box
    return None


def _up(length_mm: int) -> int:
    return -(-length_mm // _HALF_M) * _HALF_M
