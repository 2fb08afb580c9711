"""The list of kit, changed by hand one line at a time."""

from callroom.actions.request import Request, propose
from callroom.journal.entries import bodies
from callroom.model import KitItem, NotFound, State


def set_kit_item(state: State, item: KitItem) -> Request:
    """Return the request that keeps `item` in its place of the list, or adds it at the end.

    It rests on the list as it is in `state`: whoever changed it meanwhile is not overwritten.
    """
    items = tuple(item if one.id == item.id else one for one in state.kit)
    if item not in items:
        items += (item,)
    return propose(bodies.KitSet(items=items), basis=_basis(state))


def drop_kit_item(state: State, item_id: str) -> Request:
    """Return the request that takes an item out of the list.

    Raises
    ------
    NotFound
        If there is none of that id.
    """
    items = tuple(one for one in state.kit if one.id != item_id)
    if len(items) == len(state.kit):
        raise NotFound("web.no_page")
    return propose(bodies.KitSet(items=items), basis=_basis(state))


def _basis(state: State) -> dict[str, int]:
    return {"kit": state.subjects.get("kit", 0)}
