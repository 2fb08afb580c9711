"""What is wrong with a layout: what does not fit, stands in the way, or differs from the work."""

from collections.abc import Iterator, Mapping
from itertools import combinations

import msgspec

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.ground import Box, Ground, LaneField, Space, box_of, field_box
from callroom.model.movement import Movement
from callroom.planner.ground.check_work import check_work
from callroom.planner.ground.exits import check_exits
from callroom.planner.ground.limits import CLEAR_MM, JUDGE_MM, RIG_REACH_MM, SPECTATORS_MM
from callroom.planner.ground.rules import RULES

_AT_THE_HEAD = frozenset({"rig", "wall_target"})
_FLAT = frozenset({"walkway"})


class _Laid(msgspec.Struct, frozen=True):
    """A floor's lanes where they lie."""

    name: str
    floor: str
    field: LaneField
    box: Box
    lanes: int


def check_ground(
    ground: Ground, event: Event, movements: Mapping[str, Movement]
) -> tuple[Finding, ...]:
    """Return every finding of a layout, what cannot be first. Nothing measured: nothing said.

    Sizes in the facts are millimetres, in names that end in ``_mm``. The clearances are those
    of :mod:`callroom.planner.ground.limits`.
    """
    if not ground.drawn:
        return ()
    laid = [
        _Laid(floor.name, floor.id, field, field_box(field, floor.lanes), floor.lanes)
        for floor in event.floors
        if (field := ground.field(floor.id)) is not None
    ]
    names = {spot.id: spot.name for spot in ground.spots}
    found = [
        *_not_laid(ground, event),
        *_within(ground, laid),
        *_around(ground, laid),
        *_between_spots(ground),
        *check_exits(ground, [(one.name, one.box) for one in laid], names),
        *check_work(ground, event, movements),
    ]
    rank = {"error": 0, "warning": 1}
    return tuple(sorted(found, key=lambda one: rank.get(one.severity, 2)))


def _not_laid(ground: Ground, event: Event) -> Iterator[Finding]:
    for floor in event.floors:
        if ground.field(floor.id) is None:
            yield RULES.found("ground.not_laid", f"lanes:{floor.id}", floor=floor.name)


def _within(ground: Ground, laid: list[_Laid]) -> Iterator[Finding]:
    for one in laid:
        subject = f"lanes:{one.floor}"
        spaces = [box_of(space) for space in ground.spaces]
        if not any(space.holds(one.box) for space in spaces):
            nearest = min(ground.spaces, key=lambda space: _outside_mm(space, one.box))
            yield RULES.found(
                "ground.lanes_outside",
                subject,
                floor=one.name,
                space=nearest.name,
                over_mm=_outside_mm(nearest, one.box),
                fit=_fitting(nearest, one),
            )
        if one.lanes > 1 and one.field.gap_mm < JUDGE_MM:
            yield RULES.found(
                "ground.judge_room",
                subject,
                floor=one.name,
                gap_mm=one.field.gap_mm,
                wanted_mm=JUDGE_MM,
            )
    for one, other in combinations(laid, 2):
        if one.box.meets(other.box):
            yield RULES.found(
                "ground.floors_meet", f"lanes:{one.floor}", floor=one.name, other=other.name
            )


def _fitting(space: Space, one: _Laid) -> int:
    """Return how many lanes of this size a space holds, whatever else is in it."""
    room = box_of(space)
    for lanes in range(one.lanes, 0, -1):
        box = field_box(one.field, lanes)
        if box.length_mm <= room.length_mm and box.width_mm <= room.width_mm:
            return lanes
    return 0


def _outside_mm(space: Space, box: Box) -> int:
    """Return how far a box sticks out of a space, at its worst edge."""
    room = box_of(space)
    return max(
        room.x_mm - box.x_mm,
        room.y_mm - box.y_mm,
        box.right_mm - room.right_mm,
        box.bottom_mm - room.bottom_mm,
        0,
    )


def _around(ground: Ground, laid: list[_Laid]) -> Iterator[Finding]:
    for one in laid:
        for spot in ground.spots:
            if spot.kind in _FLAT:
                continue
            box = box_of(spot)
            if box.meets(one.box):
                yield RULES.found(
                    "ground.in_lanes", f"spot:{spot.id}", floor=one.name, name=spot.name
                )
                continue
            room_mm = one.box.apart_mm(box)
            wanted_mm = SPECTATORS_MM if spot.kind == "spectators" else CLEAR_MM
            at_head = spot.kind in _AT_THE_HEAD and room_mm <= RIG_REACH_MM
            if room_mm < wanted_mm and not at_head:
                yield RULES.found(
                    "ground.clear_short",
                    f"spot:{spot.id}",
                    floor=one.name,
                    name=spot.name,
                    room_mm=room_mm,
                    wanted_mm=wanted_mm,
                )
        yield from _to_walls(ground, one)


def _to_walls(ground: Ground, one: _Laid) -> Iterator[Finding]:
    """Say where lanes come near a wall, but for their head, where a wall may be wanted."""
    for space in ground.spaces:
        room = box_of(space)
        if space.outdoor or not room.holds(one.box):
            continue
        sides = [room.right_mm - one.box.right_mm, room.bottom_mm - one.box.bottom_mm]
        sides.append(
            one.box.x_mm - room.x_mm if one.field.heading == "down" else one.box.y_mm - room.y_mm
        )
        if min(sides) < CLEAR_MM:
            yield RULES.found(
                "ground.walls_close",
                f"lanes:{one.floor}",
                floor=one.name,
                space=space.name,
                room_mm=min(sides),
                wanted_mm=CLEAR_MM,
            )


def _between_spots(ground: Ground) -> Iterator[Finding]:
    solid = [spot for spot in ground.spots if spot.kind not in _FLAT]
    for one, other in combinations(solid, 2):
        if box_of(one).meets(box_of(other)):
            yield RULES.found("ground.overlap", f"spot:{other.id}", name=one.name, other=other.name)
    for spot in ground.spots:
        if not any(box_of(space).holds(box_of(spot)) for space in ground.spaces):
            yield RULES.found("ground.spot_outside", f"spot:{spot.id}", name=spot.name)
