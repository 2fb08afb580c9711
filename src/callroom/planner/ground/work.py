"""What a lane must hold for a workout: stations with their kit, and ways to travel."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Literal

import msgspec

from callroom.model.event import Event
from callroom.model.ground import Box, Heading, LaneField, lane_box
from callroom.model.movement import Movement
from callroom.model.team import Team
from callroom.model.workout import Task, Workout

TRAVEL_FROM_M = 5
"""A movement counted in metres that needs so much room travels; a rower stays where it is."""
ON_THE_RIG = frozenset({"pull_up_bar", "rings", "climbing_rope"})
ON_THE_WALL = frozenset({"wall_target", "wall_space"})
_BESIDE = frozenset({"plates", "collars", "cones", "floor_tape"})
"""Things that belong to others, or lie on the floor anyway."""

Anchor = Literal["", "rig", "wall"]


class Station(msgspec.Struct, frozen=True, kw_only=True):
    """A place in the lane where work is done on the spot.

    `items` are the kit that stands there with how many pieces (none: open floor), `working`
    how many athletes are at it at once, `athlete_length_mm` and `athlete_width_mm` the room of
    each, `height_mm` the room upward. `anchor` says that it hangs from the rig or needs the
    wall; `movements` are ids, in the order they come.
    """

    items: tuple[tuple[str, int], ...]
    movements: tuple[str, ...]
    working: int
    athlete_length_mm: int
    athlete_width_mm: int
    height_mm: int
    anchor: Anchor = ""

    def length_mm(self, lane_width_mm: int) -> int:
        """Return how much of a lane it takes, athletes side by side as far as there is room."""
        abreast = max(lane_width_mm // self.athlete_width_mm, 1)
        return -(-self.working // abreast) * self.athlete_length_mm


class Way(msgspec.Struct, frozen=True, kw_only=True):
    """Work that travels: how far each round in metres, and the stretch between marks [m]."""

    movement: str
    metres: tuple[int, ...]
    mark_m: int


class LaneWork(msgspec.Struct, frozen=True, kw_only=True):
    """What a lane holds for one workout."""

    workout: str
    stations: tuple[Station, ...]
    ways: tuple[Way, ...]

    def length_mm(self, lane_width_mm: int) -> int:
        """Return the lane that the stations need in a row; open floor is shared with a way."""
        kept = [one for one in self.stations if one.items or not self.ways]
        return sum(one.length_mm(lane_width_mm) for one in kept)


class PlacedStation(msgspec.Struct, frozen=True, kw_only=True):
    """A station where it stands in a lane."""

    station: Station
    box: Box


class _Draft:
    """A station while its tasks are collected."""

    def __init__(self, items: tuple[str, ...]) -> None:
        self.items = items
        self.movements: dict[str, Movement] = {}
        self.working = 1


def lane_work(workout: Workout, event: Event, movements: Mapping[str, Movement]) -> LaneWork:
    """Return what a lane needs, the most that any division needs of each thing.

    Tasks with the same kit share a station; strands that use it side by side are at it at
    once. What hangs from the rig or needs the wall comes first, at the head of the lane.
    """
    drafts: dict[tuple[str, ...], _Draft] = {}
    ways: dict[str, Way] = {}
    for part in workout.parts:
        for block in part.blocks:
            at_once: dict[tuple[str, ...], dict[int, int]] = {}
            for task in block.tasks:
                for movement_id in filter(None, (task.movement, task.while_holding)):
                    movement = movements.get(movement_id)
                    if movement is None:
                        continue
                    if _travels(task, movement):
                        ways[movement_id] = _way(task, movement_id)
                        continue
                    kit = _kit_of(movement)
                    drafts.setdefault(kit, _Draft(kit)).movements[movement_id] = movement
                    strands = at_once.setdefault(kit, {})
                    held = movement_id == task.while_holding
                    busy = task.working if not held else task.working + 1
                    strands[task.strand] = max(strands.get(task.strand, 0), busy)
            for kit, strands in at_once.items():
                drafts[kit].working = max(drafts[kit].working, sum(strands.values()))
    counts = _counts(workout, event, movements)
    stations = [_station(draft, counts) for draft in drafts.values()]
    ordered = sorted(stations, key=lambda one: (not one.anchor, not one.items))
    return LaneWork(workout=workout.id, stations=tuple(ordered), ways=tuple(ways.values()))


def _travels(task: Task, movement: Movement) -> bool:
    return task.unit == "metres" and movement.space.length_m >= TRAVEL_FROM_M


def _way(task: Task, movement: str) -> Way:
    return Way(movement=movement, metres=task.amounts, mark_m=task.mark)


def _kit_of(movement: Movement) -> tuple[str, ...]:
    return tuple(sorted({need.item for need in movement.kit} - _BESIDE))


def _counts(workout: Workout, event: Event, movements: Mapping[str, Movement]) -> dict[str, int]:
    """Return how many of each thing a lane needs: the most of any division."""
    from callroom.planner.plates.kit import lane_needs  # noqa: PLC0415 - loads an array library

    most: dict[str, int] = {}
    for division in event.divisions:
        team = Team(id="any", name="", division=division.id)
        counted: dict[str, int] = {}
        for need, count in lane_needs(workout, team, event, movements).items():
            counted[need.item] = counted.get(need.item, 0) + count
        for item, count in counted.items():
            most[item] = max(most.get(item, 0), count)
    return most


def _station(draft: _Draft, counts: Mapping[str, int]) -> Station:
    rooms = [movement.space for movement in draft.movements.values()]
    anchor: Anchor = ""
    if ON_THE_RIG & set(draft.items):
        anchor = "rig"
    elif ON_THE_WALL & set(draft.items):
        anchor = "wall"
    return Station(
        items=tuple((item, max(counts.get(item, 1), 1)) for item in draft.items),
        movements=tuple(draft.movements),
        working=draft.working,
        athlete_length_mm=_most_mm(room.length_m for room in rooms),
        athlete_width_mm=_most_mm(room.width_m for room in rooms),
        height_mm=_most_mm(room.height_m for room in rooms),
        anchor=anchor,
    )


def _most_mm(metres: Iterable[Decimal]) -> int:
    return max(int(one * 1000) for one in metres)


def placed(work: LaneWork, field: LaneField, lanes: int, place: int) -> tuple[PlacedStation, ...]:
    """Return the stations of one lane from its head on, cut off where the lane ends.

    The head is the upper end of lanes that run down, the left end of those that run across.
    """
    box = lane_box(field, lanes, place)
    at_mm, found = 0, []
    for station in work.stations:
        room_mm = min(station.length_mm(field.lane_width_mm), field.lane_length_mm - at_mm)
        if room_mm <= 0:
            break
        found.append(PlacedStation(station=station, box=_part(box, field.heading, at_mm, room_mm)))
        at_mm += room_mm
    return tuple(found)


def _part(lane: Box, heading: Heading, at_mm: int, length_mm: int) -> Box:
    """Return a stretch of a lane."""
    if heading == "down":
        return Box(
            x_mm=lane.x_mm,
            y_mm=lane.y_mm + at_mm,
            length_mm=lane.length_mm,
            width_mm=length_mm,
        )
    return Box(x_mm=lane.x_mm + at_mm, y_mm=lane.y_mm, length_mm=length_mm, width_mm=lane.width_mm)
