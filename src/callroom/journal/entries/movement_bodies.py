"""What entries about the director's own movements carry."""

from callroom.journal.entries.bodies import Body
from callroom.model import MovementRule
from callroom.model.movement import Movement


class MovementSet(Body, frozen=True):
    """A movement of the director's own, new or instead of the one with its id."""

    movement: Movement


class MovementDropped(Body, frozen=True):
    """A movement of the director's own is given up; the library's, if it has one, holds again."""

    movement: str


class MovementPermitted(Body, frozen=True):
    """What each division allows and bars of a movement, by the division's id.

    A division that is not in it says nothing about the movement.
    """

    movement: str
    rules: dict[str, tuple[MovementRule, ...]]
