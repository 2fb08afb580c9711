"""What a change by hand did, as a finding for words."""

from callroom.model.finding import Finding
from callroom.model.plan import Plan
from callroom.planner.touch.rules import RULES
from callroom.planner.touch.touches import (
    DropPause,
    Move,
    PlaceTeam,
    SetLock,
    SetPause,
    SwapHeats,
    TakeChange,
    Touch,
)

_REACHES = {"block": "touch.moved_block", "floor": "touch.moved_rest", "all": "touch.moved_rest"}


def said(before: Plan, after: Plan, touch: Touch) -> Finding:
    """Return what a change did to the plan before it."""
    match touch:
        case Move():
            return _moved(before, after, touch)
        case SwapHeats():
            return RULES.found("touch.swapped", "plan", heat=touch.heat, other_heat=touch.other)
        case PlaceTeam():
            taken = {one.lane: one.team for one in before.heat(touch.heat).lanes}
            other = taken.get(touch.lane)
            if other is not None:
                return RULES.found("touch.exchanged", "plan", team=touch.team, other_team=other)
            return RULES.found(
                "touch.placed", "plan", team=touch.team, heat=touch.heat, lane=touch.lane
            )
        case SetLock():
            if touch.team:
                rule = "touch.team_locked_now" if touch.on else "touch.team_unlocked"
                return RULES.found(rule, "plan", team=touch.team, heat=touch.heat)
            rule = "touch.locked_now" if touch.on else "touch.unlocked"
            return RULES.found(rule, "plan", heat=touch.heat)
        case SetPause():
            pause = touch.pause
            return RULES.found(
                "touch.pinned",
                "plan",
                name=pause.name,
                from_at_s=pause.start_s,
                until_at_s=pause.start_s + pause.length_s,
            )
        case DropPause():
            name = next((one.name for one in before.pauses if one.id == touch.pause), touch.pause)
            return RULES.found("touch.unpinned", "plan", name=name)
        case TakeChange():
            return RULES.found("touch.taken", "plan")


def _moved(before: Plan, after: Plan, touch: Move) -> Finding:
    was = before.heat(touch.heat)
    start_s = was.start_s + touch.by_s
    now = next((heat for heat in after.heats if heat.id == touch.heat), was)
    if touch.reach in _REACHES:
        return RULES.found(_REACHES[touch.reach], "plan", heat=touch.heat, start_at_s=start_s)
    if now.floor != was.floor:
        return RULES.found(
            "touch.moved_floor", "plan", heat=touch.heat, floor=now.floor, start_at_s=start_s
        )
    return RULES.found("touch.moved", "plan", heat=touch.heat, start_at_s=start_s)
