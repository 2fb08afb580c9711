"""The incidents of a day: what everyone in charge may see, and the notes only some may read."""

from collections.abc import Mapping

import msgspec

from callroom.model import State
from callroom.model.person import Note
from callroom.model.safety import Incident, IncidentStep
from callroom.views.timetable import CREW, WorkoutTitle, workout_title


class StepTold(msgspec.Struct, frozen=True, kw_only=True):
    """A step and its text; None: there is none, it was erased, or this reader may not see it."""

    step: IncidentStep
    text: str | None


class HeatNamed(msgspec.Struct, frozen=True, kw_only=True):
    """A heat as the crew call it."""

    id: str
    workout: WorkoutTitle
    number: int


class IncidentTold(msgspec.Struct, frozen=True, kw_only=True):
    """An incident with what may be read of it; the newest step comes last.

    `heat` is the heat it happened in; None: in none, or in one that is no longer planned.
    """

    incident: Incident
    heat: HeatNamed | None
    steps: tuple[StepTold, ...]


def incidents(state: State, notes: Mapping[str, Note] | None = None) -> tuple[IncidentTold, ...]:
    """Return all incidents, open ones first and the newest first among them.

    `notes` are the book's, for readers who may see them; None shows no text.
    """
    known = notes or {}
    heats = {heat.id: heat for heat in heats_named(state)}
    told = [
        IncidentTold(
            incident=incident,
            heat=heats.get(incident.heat),
            steps=tuple(
                StepTold(step=step, text=known[step.record].text if step.record in known else None)
                for step in incident.steps
            ),
        )
        for incident in state.incidents.values()
    ]
    return tuple(sorted(told, key=lambda one: (not one.incident.open, -one.incident.number)))


def heats_named(state: State) -> tuple[HeatNamed, ...]:
    """Return the heats of the plan in force, in order of time."""
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return ()
    return tuple(
        HeatNamed(
            id=heat.id,
            workout=workout_title(event, event.workout(heat.workout), CREW),
            number=heat.number,
        )
        for heat in sorted(plan.heats, key=lambda one: (one.start_s, one.id))
    )
