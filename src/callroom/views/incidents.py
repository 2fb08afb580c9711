"""The incidents of a day: what everyone in charge may see, and the notes only some may read."""

from collections.abc import Mapping

import msgspec

from callroom.model import State
from callroom.model.person import Note
from callroom.model.safety import Incident, IncidentStep


class StepTold(msgspec.Struct, frozen=True, kw_only=True):
    """A step and its text; None: there is none, it was erased, or this reader may not see it."""

    step: IncidentStep
    text: str | None


class IncidentTold(msgspec.Struct, frozen=True, kw_only=True):
    """An incident with what may be read of it; the newest step comes last."""

    incident: Incident
    steps: tuple[StepTold, ...]


def incidents(state: State, notes: Mapping[str, Note] | None = None) -> tuple[IncidentTold, ...]:
    """Return all incidents, open ones first and the newest first among them.

    `notes` are the book's, for readers who may see them; None shows no text.
    """
    known = notes or {}
    told = [
        IncidentTold(
            incident=incident,
            steps=tuple(
                StepTold(step=step, text=known[step.record].text if step.record in known else None)
                for step in incident.steps
            ),
        )
        for incident in state.incidents.values()
    ]
    return tuple(sorted(told, key=lambda one: (not one.incident.open, -one.incident.number)))

