"""The floor drawn to scale, as marks that pages and sheets draw alike. All sizes are in mm."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

import msgspec

from callroom.model import Event, Finding, Floor, Workout
from callroom.model.ground import (
    Box,
    Door,
    Ground,
    LaneField,
    Space,
    Spot,
    Wall,
    box_of,
    field_box,
    ground_box,
    lane_box,
)
from callroom.model.movement import Movement
from callroom.planner.ground import (
    CLEAR_MM,
    JUDGE_MM,
    PlacedStation,
    check_ground,
    free_zone,
    lane_work,
    placed,
)

Role = Literal[
    "space",
    "outdoor",
    "clear",
    "free",
    "door",
    "spot",
    "anchor",
    "spectators",
    "walkway",
    "lane",
    "number",
    "station",
    "judge",
    "course",
]

_MARGIN_MM = 2_500
_AROUND_MM = 3_500
_METRE_MM, _FOOT_MM10 = 1_000, 3_048
_BARS = (1, 2, 5, 10, 20, 50, 100, 200)
_JUDGE_DOT_MM = 500
_DOOR_THICK_MM = 250


class Mark(msgspec.Struct, frozen=True, kw_only=True):
    """Something drawn: a box, a dot or a line in a role, with what is written in it.

    A line runs from the upper left corner of `box` to the lower right, or, if `rising`, from
    the lower left to the upper right. `about` names the thing, ``spot:desk``, ``lanes:main``;
    empty: nothing that can be moved. A door has the `wall` it is in, past which its name is written.
    """

    role: Role
    box: Box
    lines: tuple[str, ...] = ()
    about: str = ""
    rising: bool = False
    wall: Wall | None = None


class Drawing(msgspec.Struct, frozen=True, kw_only=True):
    """One drawing: what part of the ground it shows, its grid and scale bar, the size of its text.

    `title` is the floor or workout, empty for the whole venue. The scale bar is `bar_mm` long
    and is `bar` of the event's units of length; so is the grid of one unit, or of several.
    """

    title: str
    floor: str
    box: Box
    grid_mm: int
    bar_mm: int
    text_mm: int
    marks: tuple[Mark, ...]


class JudgeNote(msgspec.Struct, frozen=True, kw_only=True):
    """Where a judge stands for a movement, and what they watch; in the library's words."""

    movement: str
    stands: str
    watches: str


class WorkoutPlan(msgspec.Struct, frozen=True, kw_only=True):
    """One workout on its floor: the drawing, the kit of a lane, where judges stand."""

    drawing: Drawing
    workout: str
    floor_name: str
    kit: tuple[tuple[str, int], ...]
    judges: tuple[JudgeNote, ...]


def venue_drawing(ground: Ground, event: Event) -> Drawing:
    """Return the whole venue drawn."""
    box = ground_box(ground).grown(_MARGIN_MM)
    marks = (
        *_spaces(ground.spaces),
        *_zones(ground),
        *_spots(ground.spots, _text_mm(box)),
        *(
            mark
            for floor in event.floors
            if (field := ground.field(floor.id)) is not None
            for mark in (
                _clear(field, floor),
                *_lanes(field, floor),
                *_numbers(field, floor),
            )
        ),
        *_courses(ground),
        *_doors(ground),
    )
    return _drawing("", "", box, marks, event)


def workout_plan(
    ground: Ground, event: Event, workout: Workout, movements: Mapping[str, Movement]
) -> WorkoutPlan | None:
    """Return one workout's floor drawn, with kit and judges; None: its lanes are not laid out."""
    floor = event.floor(workout.floor)
    field = ground.field(floor.id)
    if field is None:
        return None
    work = lane_work(workout, event, movements)
    lanes = range(floor.lanes)
    stations = [placed(work, field, floor.lanes, place) for place in lanes]
    box = field_box(field, floor.lanes).grown(_AROUND_MM)
    text_mm = _text_mm(box)
    marks = (
        *_spaces(ground.spaces),
        *_zones(ground),
        *_spots(ground.spots, text_mm),
        _clear(field, floor),
        *_lanes(field, floor),
        *(mark for here in stations for mark in _stations(here, movements, text_mm)),
        *_numbers(field, floor),
        *_judges(field, floor, workout, stations),
        *(mark for mark in _courses(ground) if mark.about in _of_workout(ground, workout.id)),
        *_doors(ground),
    )
    seen = tuple(cut for mark in marks if (cut := _cut(mark, box)) is not None)
    used = [id_ for station in work.stations for id_ in station.movements]
    used += [way.movement for way in work.ways]
    kit: dict[str, int] = {}
    for station in work.stations:
        for item, count in station.items:
            kit[item] = max(kit.get(item, 0), count)
    return WorkoutPlan(
        drawing=_drawing(workout.name, floor.id, box, seen, event),
        workout=workout.name,
        floor_name=floor.name,
        kit=tuple((item.replace("_", " "), count) for item, count in kit.items()),
        judges=tuple(
            JudgeNote(
                movement=movements[id_].name,
                stands=movements[id_].judge.stands,
                watches=movements[id_].judge.watches,
            )
            for id_ in dict.fromkeys(used)
        ),
    )


def workout_plans(
    ground: Ground, event: Event, movements: Mapping[str, Movement]
) -> tuple[WorkoutPlan, ...]:
    """Return every workout whose floor's lanes are laid out."""
    plans = (workout_plan(ground, event, workout, movements) for workout in event.workouts)
    return tuple(plan for plan in plans if plan is not None)


def floor_findings(
    ground: Ground, event: Event, movements: Mapping[str, Movement]
) -> tuple[Finding, ...]:
    """Return what is wrong with a layout, what cannot be first."""
    return check_ground(ground, event, movements)


def _of_workout(ground: Ground, workout: str) -> frozenset[str]:
    return frozenset(f"course:{one.id}" for one in ground.courses if one.workout == workout)


def _drawing(title: str, floor: str, box: Box, marks: tuple[Mark, ...], event: Event) -> Drawing:
    feet = event.mass_unit == "lb"
    longest_mm = max(box.length_mm, box.width_mm)
    bar = max((one for one in _BARS if _units_mm(one, feet=feet) * 4 <= longest_mm), default=1)
    grid = 1 if longest_mm <= 60 * _units_mm(1, feet=feet) else bar // 2 or 1
    return Drawing(
        title=title,
        floor=floor,
        box=box,
        grid_mm=_units_mm(grid, feet=feet),
        bar_mm=_units_mm(bar, feet=feet),
        text_mm=_text_mm(box),
        marks=marks,
    )


def _units_mm(count: int, *, feet: bool) -> int:
    return (count * _FOOT_MM10 + 5) // 10 if feet else count * _METRE_MM


def _text_mm(box: Box) -> int:
    """Return how large text is drawn: readable, and in proportion to what is shown."""
    return max(max(box.length_mm, box.width_mm) // 72, 150)


def _lines(text: str, box: Box, text_mm: int) -> tuple[str, ...]:
    """Part a label into lines that fit a box; what does not fit its height is left out."""
    most = max(box.length_mm * 100 // (text_mm * 46), 1)
    lines: list[str] = []
    for word in text.split():
        if lines and len(lines[-1]) + 1 + len(word) <= most:
            lines[-1] += f" {word}"
        else:
            lines.append(word if len(word) <= most else f"{word[: max(most - 1, 1)]}…")
    return tuple(lines[: max(box.width_mm * 10 // (text_mm * 12), 1)])


def _spaces(spaces: Iterable[Space]) -> Iterator[Mark]:
    for space in spaces:
        role: Role = "outdoor" if space.outdoor else "space"
        yield Mark(role=role, box=box_of(space), lines=(space.name,), about=f"space:{space.id}")


def _zones(ground: Ground) -> Iterator[Mark]:
    for door in ground.doors:
        if ground.space(door.space) is not None:
            yield Mark(role="free", box=free_zone(ground, door))


def _doors(ground: Ground) -> Iterator[Mark]:
    for door in ground.doors:
        space = ground.space(door.space)
        if space is not None:
            yield Mark(
                role="door",
                box=_door_box(door, space),
                lines=(door.name,),
                about=f"door:{door.id}",
                wall=door.wall,
            )


def _door_box(door: Door, space: Space) -> Box:
    """Return the opening, as thick as it is drawn, half inside and half outside the wall."""
    box, half = box_of(space), _DOOR_THICK_MM // 2
    if door.wall in {"top", "bottom"}:
        y_mm = box.y_mm if door.wall == "top" else box.bottom_mm
        return Box(
            x_mm=box.x_mm + door.along_mm,
            y_mm=y_mm - half,
            length_mm=door.width_mm,
            width_mm=_DOOR_THICK_MM,
        )
    x_mm = box.x_mm if door.wall == "left" else box.right_mm
    return Box(
        x_mm=x_mm - half,
        y_mm=box.y_mm + door.along_mm,
        length_mm=_DOOR_THICK_MM,
        width_mm=door.width_mm,
    )


def _spots(spots: Iterable[Spot], text_mm: int) -> Iterator[Mark]:
    roles: dict[str, Role] = {
        "rig": "anchor",
        "wall_target": "anchor",
        "spectators": "spectators",
        "walkway": "walkway",
    }
    for spot in spots:
        box = box_of(spot)
        yield Mark(
            role=roles.get(spot.kind, "spot"),
            box=box,
            lines=_lines(spot.name, box, text_mm),
            about=f"spot:{spot.id}",
        )


def _clear(field: LaneField, floor: Floor) -> Mark:
    return Mark(role="clear", box=field_box(field, floor.lanes).grown(CLEAR_MM))


def _lanes(field: LaneField, floor: Floor) -> Iterator[Mark]:
    for place in range(floor.lanes):
        yield Mark(
            role="lane",
            box=lane_box(field, floor.lanes, place),
            about=f"lanes:{floor.id}",
        )


def _numbers(field: LaneField, floor: Floor) -> Iterator[Mark]:
    """Write each lane's number past its foot, where nobody works."""
    for place, number in enumerate(floor.lane_numbers):
        box = lane_box(field, floor.lanes, place)
        down = field.heading == "down"
        yield Mark(
            role="number",
            box=Box(
                x_mm=box.x_mm if down else box.right_mm,
                y_mm=box.bottom_mm if down else box.y_mm,
                length_mm=box.length_mm if down else CLEAR_MM,
                width_mm=CLEAR_MM if down else box.width_mm,
            ),
            lines=(str(number),),
            about=f"lanes:{floor.id}",
        )


def _stations(
    here: Iterable[PlacedStation], movements: Mapping[str, Movement], text_mm: int
) -> Iterator[Mark]:
    for one in here:
        if one.station.items:
            said = ", ".join(
                f"{item.replace('_', ' ')}{f' ×{count}' if count > 1 else ''}"
                for item, count in one.station.items
            )
        else:
            said = ", ".join(movements[id_].name for id_ in one.station.movements)
        yield Mark(role="station", box=one.box, lines=_lines(said, one.box, text_mm))


def _judges(
    field: LaneField, floor: Floor, workout: Workout, stations: list[tuple[PlacedStation, ...]]
) -> Iterator[Mark]:
    """Draw each judge beside the lane: in the gap, level with the first stations or the middle."""
    down = field.heading == "down"
    for place in range(floor.lanes):
        lane = lane_box(field, floor.lanes, place)
        spread = [one.box for one in stations[place]] or [lane]
        for seat in range(workout.judges_per_lane):
            at = spread[min(seat, len(spread) - 1)]
            beside = (max(field.gap_mm, JUDGE_MM) - _JUDGE_DOT_MM) // 2
            along = at.y_mm + at.width_mm // 2 if down else at.x_mm + at.length_mm // 2
            shift = seat * _JUDGE_DOT_MM if len(spread) <= seat else 0
            along += shift - _JUDGE_DOT_MM // 2
            yield Mark(
                role="judge",
                box=Box(
                    x_mm=lane.right_mm + beside if down else along,
                    y_mm=along if down else lane.bottom_mm + beside,
                    length_mm=_JUDGE_DOT_MM,
                    width_mm=_JUDGE_DOT_MM,
                ),
            )


def _courses(ground: Ground) -> Iterator[Mark]:
    for course in ground.courses:
        yield Mark(
            role="course",
            box=Box(
                x_mm=min(course.x_mm, course.to_x_mm),
                y_mm=min(course.y_mm, course.to_y_mm),
                length_mm=abs(course.to_x_mm - course.x_mm),
                width_mm=abs(course.to_y_mm - course.y_mm),
            ),
            lines=(course.name,),
            about=f"course:{course.id}",
            rising=(course.x_mm <= course.to_x_mm) != (course.y_mm <= course.to_y_mm),
        )


def _cut(mark: Mark, frame: Box) -> Mark | None:
    """Return the part of a mark that a drawing shows, or None; dots and lines stay whole."""
    if mark.role in {"judge", "course"}:
        return mark
    if not mark.box.meets(frame):
        return None
    left, top = max(mark.box.x_mm, frame.x_mm), max(mark.box.y_mm, frame.y_mm)
    cut = Box(
        x_mm=left,
        y_mm=top,
        length_mm=min(mark.box.right_mm, frame.right_mm) - left,
        width_mm=min(mark.box.bottom_mm, frame.bottom_mm) - top,
    )
    if cut == mark.box or mark.role not in {"spot", "spectators", "walkway", "anchor"}:
        return msgspec.structs.replace(mark, box=cut)
    text = " ".join(mark.lines)
    return msgspec.structs.replace(mark, box=cut, lines=_lines(text, cut, _text_mm(frame)))
