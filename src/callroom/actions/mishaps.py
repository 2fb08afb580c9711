"""What goes wrong in a rehearsal: chosen by its seed, so that everybody practises the mending.

Invented for practice. A day with few heats has fewer mishaps: each befalls another heat.
"""

import random
from collections.abc import Mapping, Sequence

import msgspec

from callroom.model import Event, Heat, LaneTeam, Plan, Result, State

LATE_MS = 4 * 60_000
"""How late the last heat of each floor begins: nothing is behind it that could be pushed."""

OUTAGE_MS = 15 * 60_000
"""How long the lane pads of one heat have no network."""

_LEAST_HEATS = 8


class LostLane(msgspec.Struct, frozen=True, kw_only=True):
    """A lane that cannot be used from `before` on [s from the day's start], and what takes over."""

    floor: str
    lane: int
    instead: int
    at_s: int


class Mishaps(msgspec.Struct, frozen=True, kw_only=True):
    """What befalls which heat; an empty text: none of them.

    Attributes
    ----------
    plan
        The plan as it is once the lost lane was mended.
    no_show
        A heat, and the team that does not come to it.
    late
        Heats that begin late.
    outage
        A heat whose pads are without network until well after its end.
    two_reports
        A heat with a lane whose card says something else than its pad.
    corrected
        A heat with a score that is corrected before it is confirmed.
    lost
        The lane that is lost.
    """

    plan: Plan
    no_show: tuple[str, str] = ("", "")
    late: frozenset[str] = frozenset()
    outage: str = ""
    two_reports: str = ""
    corrected: str = ""
    lost: LostLane | None = None


def choose_mishaps(state: State, event: Event, plan: Plan, seed: int) -> Mishaps:
    """Return what goes wrong on the rest of the planned day; nothing on a very short one."""
    to_come = [heat for heat in plan.heats if state.heat_run(heat.id).started_ms is None]
    if len(to_come) < _LEAST_HEATS:
        return Mishaps(plan=plan)
    chance = random.Random(f"{seed}/mishaps")  # noqa: S311 - invented, no secret
    last = {heat.floor: heat.id for heat in sorted(to_come, key=lambda heat: heat.start_s)}
    # The first half of the day: whatever is to be settled is settled before it is over.
    early = sorted(to_come, key=lambda heat: (heat.start_s, heat.id))[: len(to_come) // 2]
    free = [heat for heat in early if heat.id not in last.values() and _teams(state, heat)]
    chance.shuffle(free)
    # A lift is told by plates that everybody sees; other counts are misread.
    free.sort(key=lambda heat: _lifts(event, heat), reverse=True)
    names = [heat.id for heat in free[:2]] + [""] * 2
    misread = [heat.id for heat in free[2:] if not _lifts(event, heat)] + [""] * 2
    absent = _teams(state, free[0])[0] if free and len(_teams(state, free[0])) > 1 else ""
    lost = _lost_lane(event, to_come, early)
    return Mishaps(
        plan=mended(plan, lost) if lost is not None else plan,
        no_show=(names[0], absent) if absent else ("", ""),
        late=frozenset(last.values()),
        outage=names[1],
        two_reports=misread[0],
        corrected=misread[1],
        lost=lost,
    )


def mended(plan: Plan, lost: LostLane) -> Plan:
    """Return the plan with every later team of the lost lane in the one that takes over."""
    heats = tuple(
        _moved(heat, lost) if heat.floor == lost.floor and heat.start_s >= lost.at_s else heat
        for heat in plan.heats
    )
    return msgspec.structs.replace(plan, revision=plan.revision + 1, heats=heats)


def other_result(result: Result) -> Result | None:
    """Return what a badly read card says instead; None where a digit is not misread."""
    changed: Mapping[str, int] = {}
    if result.outcome == "finished" and result.time_ms is not None:
        changed = {"time_ms": result.time_ms + 10_000}
    elif result.outcome in {"worked", "capped"} and result.work:
        changed = {"work": result.work - 1}
    elif result.outcome == "covered" and result.distance_m:
        changed = {"distance_m": result.distance_m - 1}
    return msgspec.structs.replace(result, **changed) if changed else None


def _lifts(event: Event, heat: Heat) -> bool:
    return event.workout(heat.workout).parts[0].kind == "load"


def _teams(state: State, heat: Heat) -> list[str]:
    return [team for team in heat.teams if team not in state.team_status]


def _lost_lane(event: Event, to_come: Sequence[Heat], early: Sequence[Heat]) -> LostLane | None:
    """Return a lane that breaks in the middle of the day on a floor with one to spare."""
    at_s = max((heat.end_s for heat in early), default=0)
    for floor in event.floors:
        later = [heat for heat in to_come if heat.floor == floor.id and heat.start_s >= at_s]
        used = {place.lane for heat in later for place in heat.lanes}
        spare = [lane for lane in floor.lane_numbers if lane not in used]
        if used and spare:
            return LostLane(floor=floor.id, lane=min(used), instead=spare[0], at_s=at_s)
    return None


def _moved(heat: Heat, lost: LostLane) -> Heat:
    lanes = tuple(
        LaneTeam(lane=lost.instead, team=place.team) if place.lane == lost.lane else place
        for place in heat.lanes
    )
    return msgspec.structs.replace(heat, lanes=lanes)
