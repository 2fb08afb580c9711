"""The digest of everything a plan is made from."""

import hashlib

import msgspec
from msgspec.structs import replace

from callroom.model import Event, State


def inputs_digest(state: State) -> str:
    """Return a short digest of the event, teams, crew, kit and the heats already started.

    A plan carries the digest it was made from; a plan made from older data is recognised. Of
    the director's own movements and of what divisions may do only the kit and what is loaded
    matter: a better sentence in a standard makes no plan old.
    """
    started = sorted(heat for heat, run in state.heats.items() if run.started_ms is not None)
    inputs = (
        _planned(state.event) if state.event is not None else None,
        # Who signs, and how a name is said, moves no heat.
        sorted((key, replace(one, captain="", say_it="")) for key, one in state.teams.items()),
        sorted(state.team_status.items()),
        sorted(state.crew.items()),
        state.kit,
        started,
    )
    return hashlib.sha256(msgspec.json.encode(inputs)).hexdigest()[:16]


def _planned(event: Event) -> tuple[Event, tuple[object, ...]]:
    divisions = tuple(
        replace(division, movement_rules=(), team_limit=0) for division in event.divisions
    )
    kit = tuple((one.id, one.kit, one.load) for one in event.movements)
    return replace(event, movements=(), divisions=divisions), kit
