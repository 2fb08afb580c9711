"""How the day stands, read from the State: what a repair and the live slack start from."""

from callroom.model import Event, Refusal, State, milliseconds, parse_clock
from callroom.model.clock import local_instant
from callroom.model.course import left_floor_ms, walked_on_ms
from callroom.planner.day_now import DayNow, LostLane

NIGHT_BEFORE_S = 2 * 3600
"""Until so long before the day's start everybody can still be told of an earlier start [s].

Common practice, no source: teams set out about then.
"""


def day_now(state: State, now_ms: int) -> DayNow:
    """Return how the day stands at `now_ms` [ms, UTC].

    A heat's real start is when its teams walked on, and its real end when its kit was off the
    floor: what nobody said is counted from its clock, with the times planned around that. Of
    several losses of one kind the worst counts. The night before everybody can still be told,
    so all count as present.

    Raises
    ------
    Refusal
        Without an event.
    """
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    begun: dict[str, int] = {}
    over: dict[str, int] = {}
    called: list[str] = []
    present: dict[str, None] = {}
    for heat in state.plan.heats if state.plan is not None else ():
        run = state.heat_run(heat.id)
        workout = event.workout(heat.workout)
        on_ms, off_ms = walked_on_ms(workout, run), left_floor_ms(workout, run)
        if on_ms is not None:
            begun[heat.id] = _offset_s(event, on_ms)
        else:
            present |= dict.fromkeys(run.arrived)
            if run.stage != "waiting":
                called.append(heat.id)
        if run.started_ms is not None and run.stage in {"finished", "confirmed"}:
            planned_s = begun[heat.id] + heat.end_s - heat.start_s
            over[heat.id] = planned_s if off_ms is None else _offset_s(event, off_ms)
    losses = [loss for loss in state.losses.values() if not loss.over]
    lost = [loss for loss in losses if loss.kind == "floor"]
    kit: dict[str, int] = {}
    for loss in losses:
        if loss.kind == "kit" and loss.left is not None:
            kit[loss.workout] = min(loss.left, kit.get(loss.workout, loss.left))
    judges = [loss.left for loss in losses if loss.kind == "judges" and loss.left is not None]
    now_s = _offset_s(event, now_ms)
    if now_s < -NIGHT_BEFORE_S:
        present = dict.fromkeys(state.teams)
    return DayNow(
        now_s=now_s,
        begun_s=begun,
        over_s=over,
        called=tuple(called),
        present=tuple(present),
        withdrawn=tuple(state.team_status),
        lost_lanes=tuple(
            LostLane(floor=loss.floor, lane=loss.lane)
            for loss in losses
            if loss.kind == "lane" and loss.lane is not None
        ),
        lost_floors=tuple(loss.floor for loss in lost if loss.ready_s is None),
        ready_s={loss.floor: loss.ready_s for loss in lost if loss.ready_s is not None},
        kit_lanes=kit,
        judges_at_once=min(judges, default=None),
    )


def _offset_s(event: Event, at_ms: int) -> int:
    return (at_ms - milliseconds(event.starts_at)) // 1000


def typed_s(state: State, text: str) -> int:
    """Return a wall-clock time of the event's day, as typed (``"13:40"``), from its start [s].

    Raises
    ------
    BadTime
        If it is no time of day, or clocks change over it.
    Refusal
        Without an event.
    """
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    instant = local_instant(event.day, parse_clock(text.strip()), event.zone)
    return _offset_s(event, milliseconds(instant))
