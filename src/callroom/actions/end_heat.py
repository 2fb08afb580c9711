"""The end of a heat, with what is known by then of the teams that never came."""

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import Heat, Result, ScoreReport, State, sheet_key


def end_heat(state: State, heat_id: str) -> Request:
    """End the clock of a heat, and report that whoever was missing did not start.

    A team that was not there at the check, has not been seen since and has no score did not
    start. Should a score of it come in after all, the head judge has two reports to choose from.
    """
    heats = state.plan.heats if state.plan is not None else ()
    heat = next((heat for heat in heats if heat.id == heat_id), None)
    not_started = absent(state, heat) if heat is not None else ()
    return propose(bodies.HeatFinished(heat=heat_id), *not_started)


def absent(state: State, heat: Heat) -> tuple[ScoreReport, ...]:
    """Report every part of whoever was missing at the check and has no score as not started."""
    if state.event is None:
        return ()
    missing = set(state.heat_run(heat.id).no_shows) - set(state.team_status)
    return tuple(
        ScoreReport(
            heat=heat.id,
            workout=heat.workout,
            part=part.id,
            team=place.team,
            lane=place.lane,
            source="pad",
            result=Result(outcome="did_not_start"),
            amendment=state.amendment_number(heat.workout),
        )
        for place in heat.lanes
        if place.team in missing
        for part in state.event.workout(heat.workout).parts
        if sheet_key(heat.workout, part.id, place.team) not in state.sheets
    )
