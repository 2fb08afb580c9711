"""Heat sheets: what the floor crew needs to have one heat ready and to run it."""

from typing import Literal

import msgspec

from callroom.model import Division, Event, Heat, PublishedHeight, PublishedLoad, State, Workout
from callroom.views.masthead import Masthead, masthead, published
from callroom.views.timetable import HeatSlot, LanePlace, heat_slot
from callroom.views.work import part_work


class Setting(msgspec.Struct, frozen=True, kw_only=True):
    """What a lane must have set up for one movement: the loads and heights of its team."""

    movement: str
    loads: tuple[PublishedLoad, ...]
    heights: tuple[PublishedHeight, ...]


class SheetLane(msgspec.Struct, frozen=True, kw_only=True):
    """A painted lane: with a team, empty, or held for re-runs."""

    lane: int
    use: Literal["team", "empty", "held"]
    place: LanePlace | None
    settings: tuple[Setting, ...]


class KitLine(msgspec.Struct, frozen=True, kw_only=True):
    """One setting and the lanes that need it."""

    setting: Setting
    lanes: tuple[int, ...]


class HeatSheet(msgspec.Struct, frozen=True, kw_only=True):
    """One heat; `of` is how many heats its workout has, `judges` how many this one needs."""

    heat: HeatSlot
    of: int
    floor: str
    workout: Workout
    lanes: tuple[SheetLane, ...]
    judges: int
    kit: tuple[KitLine, ...]


class HeatSheets(msgspec.Struct, frozen=True, kw_only=True):
    """Heat sheets in the order of time."""

    masthead: Masthead
    sheets: tuple[HeatSheet, ...]


def heat_sheets(state: State) -> HeatSheets:
    """Return a sheet for every heat; NotFound without an event or a published plan."""
    _, plan = published(state)
    in_order = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.floor, heat.id))
    return HeatSheets(
        masthead=masthead(state), sheets=tuple(heat_sheet(state, heat) for heat in in_order)
    )


def heat_sheet(state: State, heat: Heat) -> HeatSheet:
    """Return the sheet of one heat of the published plan."""
    event, plan = published(state)
    workout = event.workout(heat.workout)
    slot = heat_slot(state, heat)
    lanes = _lanes(state, event, workout, slot)
    running = sum(lane.use == "team" for lane in lanes)
    return HeatSheet(
        heat=slot,
        of=sum(other.workout == heat.workout for other in plan.heats),
        floor=event.floor(heat.floor).name,
        workout=workout,
        lanes=lanes,
        judges=running * workout.judges_per_lane,
        kit=_kit(lanes),
    )


def _lanes(state: State, event: Event, workout: Workout, slot: HeatSlot) -> tuple[SheetLane, ...]:
    floor = event.floor(slot.floor)
    places = {place.lane: place for place in slot.places}
    painted = sorted({*floor.lane_numbers, *places})
    listed = []
    for number in painted:
        place = places.get(number)
        running = place is not None and not place.withdrawn
        held = place is None and number in floor.held_lanes
        team = state.teams[place.team] if place is not None and running else None
        division = event.division(team.division) if team is not None else None
        listed.append(
            SheetLane(
                lane=number,
                use="team" if running else "held" if held else "empty",
                place=place,
                settings=_settings(workout, division) if division is not None else (),
            )
        )
    return tuple(listed)


def _settings(workout: Workout, division: Division) -> tuple[Setting, ...]:
    """Return what the workout may need set up for a division, each setting once."""
    rows = (
        row
        for part in workout.parts
        for block in part_work(part, division).blocks
        for row in block.rows
    )
    return tuple(
        dict.fromkeys(
            Setting(movement=row.task.movement, loads=row.loads, heights=row.heights)
            for row in rows
        )
    )


def _kit(lanes: tuple[SheetLane, ...]) -> tuple[KitLine, ...]:
    wanted: dict[Setting, list[int]] = {}
    for lane in lanes:
        for setting in lane.settings:
            wanted.setdefault(setting, []).append(lane.lane)
    return tuple(KitLine(setting=setting, lanes=tuple(on)) for setting, on in wanted.items())
