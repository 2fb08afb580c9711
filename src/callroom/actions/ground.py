"""The ground, the side programme and the checklists, each as the request it makes."""

from collections.abc import Mapping

import msgspec

from callroom.actions.day import Basis
from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies as setup
from callroom.journal.entries import ground_bodies as bodies
from callroom.model import NotFound, Pause, Refusal, State
from callroom.model.checks import OwnCheck
from callroom.model.ground import Ground
from callroom.model.side_programme import SideItem
from callroom.planner.ground import Measured, start_ground
from callroom.standards import library_with

__all__ = [
    "Measured",
    "add_check",
    "drop_check",
    "drop_side",
    "is_pause_of",
    "keep_floor_free",
    "lay_out",
    "pause_id",
    "set_ground",
    "set_side",
    "tick_check",
]


def set_ground(ground: Ground, basis: Basis | None = None) -> Request:
    """Say how the venue is measured and what stands where."""
    return propose(bodies.GroundSet(ground=ground), basis=basis)


def lay_out(
    state: State, inside: Measured | None, outside: Measured | None, names: Mapping[str, str]
) -> Ground:
    """Return a sensible start for the ground from the sizes of hall and yard.

    The ways out are those of the safety plan; `names` as in
    :func:`callroom.planner.ground.start_ground`.

    Raises
    ------
    Refusal
        If there is no event.
    """
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    movements = library_with(event.movements).movements
    return start_ground(event, movements, inside, outside, exits=state.safety.exits, names=names)


def set_side(item: SideItem, basis: Basis | None = None) -> Request:
    """Put one thing into the side programme, new or in the place of the one with its id."""
    return propose(bodies.SideSet(item=item), basis=basis)


def drop_side(item: str) -> Request:
    """Take one thing out of the side programme."""
    return propose(bodies.SideDropped(item=item))


def keep_floor_free(state: State, item_id: str) -> Request:
    """Wish the floors that a thing needs free while it is on: as pauses of the event.

    Pauses this made before for the thing are put in place anew. The plan keeps as it is until
    it is looked for again.

    Raises
    ------
    Refusal
        Without an event, or if the thing needs no floor.
    """
    event, item = state.event, state.side.get(item_id)
    if event is None:
        raise Refusal("book.no_event")
    if item is None:
        raise NotFound("side.unknown", item=item_id)
    if not item.floors:
        raise Refusal("side.no_floor", name=item.name)
    mine = [
        Pause(
            id=pause_id(item.id, number),
            name=item.name,
            start_s=span.start_s,
            length_s=span.length_s,
            floors=item.floors,
        )
        for number, span in enumerate(item.spans, start=1)
    ]
    others = tuple(one for one in event.wishes.pauses if not is_pause_of(one.id, item.id))
    wishes = msgspec.structs.replace(event.wishes, pauses=(*others, *mine))
    changed = msgspec.structs.replace(event, wishes=wishes)
    return propose(setup.EventSet(event=changed), basis={"event": state.subjects.get("event", 0)})


def pause_id(item_id: str, number: int) -> str:
    """Return the id of the pause that keeps a floor free for a thing's span `number`."""
    return f"side-{item_id}-{number}"


def is_pause_of(pause: str, item_id: str) -> bool:
    """Whether a pause keeps a floor free for that thing."""
    head, _, number = pause.rpartition("-")
    return head == f"side-{item_id}" and number.isdigit()


def tick_check(check: str, *, done: bool = True) -> Request:
    """Tick a point of the checklists, or untick it."""
    return propose(bodies.CheckTicked(check=check, done=done))


def add_check(check: OwnCheck) -> Request:
    """Add a point of the director's own."""
    return propose(bodies.CheckAdded(check=check))


def drop_check(check: str) -> Request:
    """Take a point of the director's own out."""
    return propose(bodies.CheckDropped(check=check))
