"""The course of a heat: how far it has come, from what people decided and what came in."""

from typing import Literal

from callroom.model.lanes import lane_states
from callroom.model.plan import Heat
from callroom.model.state import HeatRun, State
from callroom.model.workout import Workout

HeatStep = Literal[
    "waiting", "called", "checked", "on_floor", "running", "finished", "scored", "confirmed"
]
STEPS: tuple[HeatStep, ...] = (
    "waiting",
    "called",
    "checked",
    "on_floor",
    "running",
    "finished",
    "scored",
    "confirmed",
)
"""In the order in which a heat goes through them."""


def heat_step(state: State, heat: Heat) -> HeatStep:
    """Return how far a heat has come.

    Called, on the floor, running, finished and confirmed are what somebody decided. A called
    heat is ``checked`` once each of its teams was seen or found missing, and a finished one
    ``scored`` once no lane is without a score.
    """
    run = state.heat_run(heat.id)
    if run.stage in {"waiting", "confirmed"}:
        return "waiting" if run.stage == "waiting" else "confirmed"
    if run.stage == "started":
        return "running"
    if run.stage == "finished":
        lanes = lane_states(state, heat)
        return "finished" if any(lane.state == "missing" for lane in lanes) else "scored"
    if run.on_floor_ms is not None:
        return "on_floor"
    return "called" if unchecked(state, heat) else "checked"


def unchecked(state: State, heat: Heat) -> tuple[str, ...]:
    """Return the teams of a heat that were neither seen nor found missing, by lane."""
    run = state.heat_run(heat.id)
    told = {*run.arrived, *run.no_shows}
    return tuple(team for team in competing(state, heat) if team not in told)


def competing(state: State, heat: Heat) -> tuple[str, ...]:
    """Return the teams of a heat that are still in the event, by lane."""
    return tuple(team for team in heat.teams if team not in state.team_status)


def walked_on_ms(workout: Workout, run: HeatRun) -> int | None:
    """Return when the teams of a heat walked on [ms, UTC]; None: they have not, or nobody said.

    The clock is the surer witness: its zero comes a walk-on and a countdown later.
    """
    if run.started_ms is None:
        return run.on_floor_ms
    return run.started_ms - (workout.walk_on_s + workout.countdown_s) * 1000


def left_floor_ms(workout: Workout, run: HeatRun) -> int | None:
    """Return when a heat that has ended has signed its cards and cleared its kit [ms, UTC]."""
    if run.finished_ms is None:
        return None
    return run.finished_ms + (workout.sign_s + workout.strip_s) * 1000


def all_present(state: State, heat: Heat) -> bool:
    """Whether every team of a heat that is still in the event was seen, so that it may run early.

    An empty heat has nobody who could be there.
    """
    teams = competing(state, heat)
    return bool(teams) and set(teams) <= set(state.heat_run(heat.id).arrived)
