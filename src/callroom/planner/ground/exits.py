"""Ways out: kept free in front, wide enough, and reached from every floor along a walkway."""

from collections import deque
from collections.abc import Iterator, Sequence

import msgspec

from callroom.model.finding import Finding
from callroom.model.ground import Box, Door, Ground, Space, Spot, box_of
from callroom.planner.ground.limits import DOOR_FREE_MM, DOOR_LEAST_MM, WALKWAY_MM
from callroom.planner.ground.rules import EGRESS, RULES

_CELL_MM = 300
_WAYS_THROUGH = frozenset({"walkway", "defibrillator"})


def free_zone(ground: Ground, door: Door) -> Box:
    """Return what stays free in front of a way out, inside its space."""
    space = ground.space(door.space)
    if space is None:
        return Box(x_mm=0, y_mm=0, length_mm=0, width_mm=0)
    box, deep = box_of(space), DOOR_FREE_MM
    if door.wall in {"top", "bottom"}:
        y_mm = box.y_mm if door.wall == "top" else box.bottom_mm - deep
        return Box(x_mm=box.x_mm + door.along_mm, y_mm=y_mm, length_mm=door.width_mm, width_mm=deep)
    x_mm = box.x_mm if door.wall == "left" else box.right_mm - deep
    return Box(x_mm=x_mm, y_mm=box.y_mm + door.along_mm, length_mm=deep, width_mm=door.width_mm)


def check_exits(
    ground: Ground, fields: Sequence[tuple[str, Box]], names: dict[str, str]
) -> Iterator[Finding]:
    """Say which ways out are missing, narrow, blocked, or not reached from a floor.

    `fields` are the floors' names with the room of their lanes, `names` those of spots.
    """
    if not ground.doors and any(not space.outdoor for space in ground.spaces):
        yield RULES.found("ground.exits_none", "doors")
    solid = [spot for spot in ground.spots if spot.kind not in _WAYS_THROUGH]
    for door in ground.doors:
        yield from _in_its_wall(ground, door)
        yield from _check_door(ground, door, fields, solid, names)
    for space in ground.spaces:
        doors = [door for door in ground.doors if door.space == space.id]
        here = [(name, box) for name, box in fields if box_of(space).holds(box)]
        if doors and here:
            yield from _reached(ground, space, doors, here, solid)


def _in_its_wall(ground: Ground, door: Door) -> Iterator[Finding]:
    space = ground.space(door.space)
    if space is None:
        return
    wall_mm = space.length_mm if door.wall in {"top", "bottom"} else space.width_mm
    if door.along_mm + door.width_mm > wall_mm:
        yield RULES.found("ground.exit_outside", f"door:{door.id}", name=door.name, wall_mm=wall_mm)


def _check_door(
    ground: Ground,
    door: Door,
    fields: Sequence[tuple[str, Box]],
    solid: Sequence[Spot],
    names: dict[str, str],
) -> Iterator[Finding]:
    if door.width_mm < DOOR_LEAST_MM:
        found = RULES.found(
            "ground.exit_narrow",
            f"door:{door.id}",
            name=door.name,
            width_mm=door.width_mm,
            least_mm=DOOR_LEAST_MM,
        )
        yield msgspec.structs.replace(found, source=EGRESS)
    zone = free_zone(ground, door)
    blocking = [name for name, box in fields if box.meets(zone)]
    blocking += [names[spot.id] for spot in solid if box_of(spot).meets(zone)]
    if blocking:
        yield RULES.found(
            "ground.exit_blocked",
            f"door:{door.id}",
            name=door.name,
            blocked_by=", ".join(blocking),
            free_mm=DOOR_FREE_MM,
        )


def _reached(
    ground: Ground,
    space: Space,
    doors: Sequence[Door],
    here: Sequence[tuple[str, Box]],
    solid: Sequence[Spot],
) -> Iterator[Finding]:
    """Say from which floor no walkway leads to a way out, on a grid of cells."""
    taken = [box for _, box in here] + [box_of(spot) for spot in solid]
    grid = _Grid(box_of(space), taken)
    for door in doors:
        reach = grid.reached_from(free_zone(ground, door))
        for name, box in here:
            if not grid.beside(box, reach):
                yield RULES.found(
                    "ground.exit_unreached",
                    f"door:{door.id}",
                    name=door.name,
                    floor=name,
                    walkway_mm=WALKWAY_MM,
                )


class _Grid:
    """The places of a space where the middle of a walkway may be.

    A cell is free if a square of the walkway's width around its centre meets nothing and
    stays within the space.
    """

    def __init__(self, room: Box, taken: Sequence[Box]) -> None:
        self._room = room
        self._columns = max(room.length_mm // _CELL_MM, 1)
        self._rows = max(room.width_mm // _CELL_MM, 1)
        self._blocked = bytearray(self._columns * self._rows)
        half = WALKWAY_MM // 2
        margin = range(half // _CELL_MM)
        for box in taken:
            self._block(box.grown(half))
        for place in margin:
            for column in range(self._columns):
                self._mark(column, place)
                self._mark(column, self._rows - 1 - place)
            for row in range(self._rows):
                self._mark(place, row)
                self._mark(self._columns - 1 - place, row)

    def _mark(self, column: int, row: int) -> None:
        if 0 <= column < self._columns and 0 <= row < self._rows:
            self._blocked[row * self._columns + column] = 1

    def _cells(self, box: Box) -> tuple[range, range]:
        """Return the columns and rows whose centres lie strictly within a box."""
        half = _CELL_MM // 2
        first_x = -(-(box.x_mm - self._room.x_mm - half + 1) // _CELL_MM)
        first_y = -(-(box.y_mm - self._room.y_mm - half + 1) // _CELL_MM)
        last_x = (box.right_mm - self._room.x_mm - half - 1) // _CELL_MM
        last_y = (box.bottom_mm - self._room.y_mm - half - 1) // _CELL_MM
        return (
            range(max(first_x, 0), min(last_x + 1, self._columns)),
            range(max(first_y, 0), min(last_y + 1, self._rows)),
        )

    def _block(self, box: Box) -> None:
        columns, rows = self._cells(box)
        for row in rows:
            for column in columns:
                self._blocked[row * self._columns + column] = 1

    def reached_from(self, zone: Box) -> frozenset[int]:
        """Return the free cells that a walkway joins to a zone."""
        columns, rows = self._cells(zone.grown(_CELL_MM))
        start = [row * self._columns + column for row in rows for column in columns]
        todo = deque(cell for cell in start if not self._blocked[cell])
        seen = set(todo)
        while todo:
            for cell in self._next(todo.popleft()):
                if cell not in seen and not self._blocked[cell]:
                    seen.add(cell)
                    todo.append(cell)
        return frozenset(seen)

    def _next(self, cell: int) -> Iterator[int]:
        row, column = divmod(cell, self._columns)
        if column:
            yield cell - 1
        if column + 1 < self._columns:
            yield cell + 1
        if row:
            yield cell - self._columns
        if row + 1 < self._rows:
            yield cell + self._columns

    def beside(self, box: Box, cells: frozenset[int]) -> bool:
        """Whether one of the cells is where people step off the lanes."""
        columns, rows = self._cells(box.grown(WALKWAY_MM // 2 + 2 * _CELL_MM))
        return any(row * self._columns + column in cells for row in rows for column in columns)
