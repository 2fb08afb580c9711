"""The director's own movements, as the requests they make."""

from collections.abc import Mapping

from callroom.actions.request import Request, propose
from callroom.journal.entries import movement_bodies
from callroom.model import MovementRule, State
from callroom.model.movement import Movement
from callroom.standards import built_in


def set_movement(state: State, movement: Movement, basis: int) -> Request:
    """Put a movement of the director's own into the event.

    One that is as the library has it gives up what was the director's own instead. `basis` is
    the `seq` at which the director saw this movement: if it has changed since, the request is
    refused as stale.
    """
    own = {one.id for one in state.event.movements} if state.event is not None else set()
    if movement == built_in().movements.get(movement.id) and movement.id in own:
        return drop_movement(movement.id, basis)
    return propose(
        movement_bodies.MovementSet(movement=movement), basis={f"movement:{movement.id}": basis}
    )


def drop_movement(movement_id: str, basis: int) -> Request:
    """Give up a movement of the director's own."""
    return propose(
        movement_bodies.MovementDropped(movement=movement_id),
        basis={f"movement:{movement_id}": basis},
    )


def permit_movement(
    movement_id: str, rules: Mapping[str, tuple[MovementRule, ...]], basis: int
) -> Request:
    """Say what each division allows and bars of a movement in every workout."""
    return propose(
        movement_bodies.MovementPermitted(movement=movement_id, rules=dict(rules)),
        basis={f"movement:{movement_id}": basis},
    )
