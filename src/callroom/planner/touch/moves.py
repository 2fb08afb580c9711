"""Which heats move together, and how the lanes of a heat lie on another floor."""

from collections.abc import Mapping

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.plan import Heat, LaneTeam, Plan
from callroom.model.team import Team
from callroom.planner.touch.refused import Impossible
from callroom.planner.touch.touches import Reach


def moved_along(
    event: Event, teams: Mapping[str, Team], plan: Plan, heat: Heat, reach: Reach
) -> tuple[Heat, ...]:
    """Return the heats that move with one, itself among them; never those of another day."""
    opens_s = [day.opens_s for day in event.wishes.days]

    def day(one: Heat) -> int:
        return sum(open_s <= one.start_s for open_s in opens_s)

    def along(one: Heat) -> bool:
        if reach == "heat":
            return one.id == heat.id
        if reach == "block":
            return (one.workout, _divisions(teams, one)) == (heat.workout, _divisions(teams, heat))
        return one.start_s >= heat.start_s and (reach == "all" or one.floor == heat.floor)

    return tuple(one for one in plan.heats if day(one) == day(heat) and along(one))


def _divisions(teams: Mapping[str, Team], heat: Heat) -> frozenset[str]:
    return frozenset(teams[team].division for team in heat.teams if team in teams)


def on_floor(event: Event, heat: Heat, floor_id: str) -> Heat:
    """Return a heat on another floor, in the same lanes if they are open there.

    Otherwise its teams keep their order, in the first lanes that are open.
    """
    if floor_id == heat.floor:
        return heat
    floor = next((one for one in event.floors if one.id == floor_id), None)
    if floor is None:
        raise Impossible("touch.no_floor", given=floor_id)
    open_lanes = sorted(floor.open_lanes)
    if len(heat.lanes) > len(open_lanes):
        raise Impossible(
            "touch.too_few_lanes",
            heat=heat.id,
            floor=floor_id,
            teams=len(heat.lanes),
            lanes=len(open_lanes),
        )
    if {one.lane for one in heat.lanes} <= set(open_lanes):
        return replace(heat, floor=floor_id)
    row = sorted(heat.lanes, key=lambda one: one.lane)
    lanes = tuple(
        LaneTeam(lane=lane, team=one.team) for lane, one in zip(open_lanes, row, strict=False)
    )
    return replace(heat, floor=floor_id, lanes=lanes)
