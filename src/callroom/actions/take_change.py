"""Taking a change of the day that was offered: a line of a menu, or a price."""

from collections.abc import Iterable

import msgspec

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import Event, Refusal, State
from callroom.planner.prices.price_list import what_ifs
from callroom.planner.what_if import knobs


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """One wish of the day, changed to a level: as in ``planner.what_if``."""

    kind: str
    subject: str
    level: int


def take_changes(state: State, changes: Iterable[Change], basis: int) -> Request:
    """Return the request that makes these changes to the event.

    Parameters
    ----------
    basis
        The `seq` of the event that the changes were worked out for: if it has changed since,
        the request is refused as stale.

    Raises
    ------
    Refusal
        If there is no event, or a change is not one that can be made to it.
    """
    if state.event is None:
        raise Refusal("book.no_event")
    event = state.event
    for change in changes:
        event = _with(event, change)
    return propose(bodies.EventSet(event=event), basis={"event": basis})


def take_event(event: Event, basis: int) -> Request:
    """Return the request that makes the day the one an offered plan was found for."""
    return propose(bodies.EventSet(event=event), basis={"event": basis})


def _with(event: Event, change: Change) -> Event:
    for knob in (*knobs(event), *what_ifs(event)):
        if (knob.kind, knob.subject) == (change.kind, change.subject) and (
            change.level in knob.levels
        ):
            return knob.apply(event, change.level)
    raise Refusal("plan.nothing_to_take")
