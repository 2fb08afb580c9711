"""When everything is to be expected, as pages tell it: to the minute, and only what is late."""

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from callroom.model import Event, Heat, Plan, State, milliseconds
from callroom.model.course import all_present, competing, left_floor_ms, walked_on_ms
from callroom.planner.expected import DaySoFar, Expected, expected_starts

# Less than this is no news to anybody.
LATE_FROM_S = 60
# A board nobody has touched for so long after the planned end says nothing any more.
_OVER_AFTER_S = 6 * 3600
_MINUTE_S = 60

FloorLengths = Mapping[tuple[str, str], int]
"""How long a heat is forecast to hold its floor [s], by workout and division."""

NO_LENGTHS: FloorLengths = MappingProxyType({})


class HeatTime(msgspec.Struct, frozen=True, kw_only=True):
    """One heat, in whole minutes [s from the day's start].

    `start_s` is when its teams walked on (then it has `begun`) or are expected to, `may_s` the
    earliest they may; `late_s` how far `start_s` is behind what was published.
    """

    start_s: int
    may_s: int
    late_s: int
    begun: bool = False


class DayTimes(msgspec.Struct, frozen=True, kw_only=True):
    """The heats of the day by id, and how late each floor runs now [s]; nothing before a plan."""

    heats: Mapping[str, HeatTime] = {}
    late_s: Mapping[str, int] = {}

    def late_start_s(self, heat_id: str) -> int | None:
        """Return when a heat is expected [s], if it is to come and later than published."""
        time = self.heats.get(heat_id)
        return time.start_s if time is not None and time.late_s and not time.begun else None


NO_TIMES = DayTimes()


def day_times(state: State, now_s: int | None, lengths: FloorLengths = NO_LENGTHS) -> DayTimes:
    """Return when each heat is to be expected at `now_s` [s from the day's start].

    Parameters
    ----------
    now_s
        The time; None: it is not known, and everything is as published.
    lengths
        From the forecast; a heat it does not know takes as long as planned.
    """
    event, plan = state.event, state.plan
    if event is None or plan is None or now_s is None:
        return NO_TIMES
    run = _still_run(state, plan)
    day = day_so_far(state, event, run, now_s, lengths)
    found = expected_starts(event, state.teams.values(), run, day)
    heats = {heat.id: _told(heat, found[heat.id], begun=day.touched(heat.id)) for heat in run.heats}
    return DayTimes(
        heats=heats,
        late_s={floor.id: _late_s(run, floor.id, heats, day) for floor in event.floors},
    )


def _still_run(state: State, plan: Plan) -> Plan:
    """Return the plan without the teams that have left, and the heats that leaves empty."""
    if not state.team_status:
        return plan
    heats = (
        msgspec.structs.replace(
            heat, lanes=tuple(lane for lane in heat.lanes if lane.team not in state.team_status)
        )
        for heat in plan.heats
        if competing(state, heat)
    )
    return msgspec.structs.replace(plan, heats=tuple(heats))


def day_so_far(
    state: State, event: Event, plan: Plan, now_s: int, lengths: FloorLengths = NO_LENGTHS
) -> DaySoFar:
    """Return what the book says has happened by `now_s` [s from the day's start].

    A heat has begun when it walked on; one whose start alone is known, its walk-on and
    countdown before that. It leaves its floor once cards are signed and kit is cleared.
    """
    begun: dict[str, int] = {}
    over: dict[str, int] = {}
    for heat in plan.heats:
        run, workout = state.heat_run(heat.id), event.workout(heat.workout)
        on_ms, off_ms = walked_on_ms(workout, run), left_floor_ms(workout, run)
        if on_ms is not None:
            begun[heat.id] = _since_start_s(event, on_ms)
        if run.stage in {"finished", "confirmed"}:
            # Confirmed from paper alone: nobody said when, so it was as published.
            over[heat.id] = heat.end_s if off_ms is None else _since_start_s(event, off_ms)
    watched = {heat.floor for heat in plan.heats if state.heat_run(heat.id).stage != "waiting"}
    given_up = now_s > max((heat.end_s for heat in plan.heats), default=0) + _OVER_AFTER_S
    return DaySoFar(
        now_s=now_s,
        watched=frozenset() if given_up else frozenset(watched),
        begun_s=begun,
        over_s=over,
        present=frozenset(heat.id for heat in plan.heats if all_present(state, heat)),
        length_s=_lengths_s(state, plan, lengths),
        ready_s={
            loss.floor: loss.ready_s
            for loss in state.losses.values()
            if loss.kind == "floor" and not loss.over and loss.ready_s is not None
        },
    )


def _since_start_s(event: Event, at_ms: int) -> int:
    return (at_ms - milliseconds(event.starts_at)) // 1000


def _lengths_s(state: State, plan: Plan, lengths: FloorLengths) -> dict[str, int]:
    """Return how long each heat is forecast to take: as long as its slowest division."""
    found: dict[str, int] = {}
    for heat in plan.heats if lengths else ():
        divisions = {
            state.teams[team].division for team in competing(state, heat) if team in state.teams
        }
        told = [lengths.get((heat.workout, division)) for division in divisions]
        if told and None not in told:
            found[heat.id] = max(one for one in told if one is not None)
    return found


def _told(heat: Heat, expected: Expected, *, begun: bool) -> HeatTime:
    late = expected.start_s - heat.start_s >= LATE_FROM_S
    start_s = _minute(expected.start_s) if late else heat.start_s
    return HeatTime(
        start_s=start_s,
        may_s=_minute(expected.may_s),
        late_s=_minute(start_s - heat.start_s),
        begun=begun,
    )


def _minute(time_s: int) -> int:
    """Return the next whole minute: nobody is told to come too soon for nothing."""
    return -(-time_s // _MINUTE_S) * _MINUTE_S


def _late_s(plan: Plan, floor_id: str, heats: Mapping[str, HeatTime], day: DaySoFar) -> int:
    """Return how late the next heat of a floor is expected; after the last one nobody waits."""
    coming = [heat for heat in plan.heats if heat.floor == floor_id and not day.touched(heat.id)]
    following = min(coming, key=lambda heat: (heat.start_s, heat.id), default=None)
    return heats[following.id].late_s if following is not None else 0
