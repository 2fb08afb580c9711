"""The digest of everything a plan is made from."""

import hashlib

import msgspec

from callroom.model import State


def inputs_digest(state: State) -> str:
    """Return a short digest of the event, teams, crew, kit and the heats already started.

    A plan carries the digest it was made from; a plan made from older data is recognised.
    """
    started = sorted(heat for heat, run in state.heats.items() if run.started_ms is not None)
    inputs = (
        state.event,
        sorted(state.teams.items()),
        sorted(state.team_status.items()),
        sorted(state.crew.items()),
        state.kit,
        started,
    )
    return hashlib.sha256(msgspec.json.encode(inputs)).hexdigest()[:16]
