"""How the day stands, read from the State: what a repair and the live slack start from."""

from callroom.model import Event, Heat, HeatRun, Refusal, State, milliseconds, parse_clock
from callroom.model.clock import local_instant
from callroom.planner.day_now import DayNow, LostLane


def day_now(state: State, now_ms: int) -> DayNow:
    """Return how the day stands at `now_ms` [ms, UTC].

    A heat's real start is when its teams walked on, and its real end when its kit was off the
    floor: both are counted from its clock, with the times its workout plans around that. Of
    several losses of one kind the worst counts.

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
        if run.started_ms is not None:
            begun[heat.id] = _walked_on_s(event, heat, run.started_ms)
        elif run.stage == "called":
            called.append(heat.id)
            present |= dict.fromkeys(run.arrived)
        if run.started_ms is not None and run.stage in {"finished", "confirmed"}:
            over[heat.id] = _cleared_s(event, heat, run, begun[heat.id])
    losses = [loss for loss in state.losses.values() if not loss.over]
    lost = [loss for loss in losses if loss.kind == "floor"]
    kit: dict[str, int] = {}
    for loss in losses:
        if loss.kind == "kit" and loss.left is not None:
            kit[loss.workout] = min(loss.left, kit.get(loss.workout, loss.left))
    judges = [loss.left for loss in losses if loss.kind == "judges" and loss.left is not None]
    return DayNow(
        now_s=_offset_s(event, now_ms),
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


def _walked_on_s(event: Event, heat: Heat, started_ms: int) -> int:
    workout = event.workout(heat.workout)
    return _offset_s(event, started_ms) - workout.walk_on_s - workout.countdown_s


def _cleared_s(event: Event, heat: Heat, run: HeatRun, begun_s: int) -> int:
    workout = event.workout(heat.workout)
    if run.finished_ms is None:
        return begun_s + heat.end_s - heat.start_s
    return _offset_s(event, run.finished_ms) + workout.sign_s + workout.strip_s


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
