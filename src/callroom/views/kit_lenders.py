"""The kit by whom it is from: what is to be collected, and given back by when."""

from datetime import date

import msgspec

from callroom.model import KitItem


class Lender(msgspec.Struct, frozen=True, kw_only=True):
    """Who lends something, with all of it; an empty `name` is our own.

    `due_back` is the first day on which some of it is due; None: no day was said.
    """

    name: str
    items: tuple[KitItem, ...]
    due_back: date | None


def by_lender(kit: tuple[KitItem, ...]) -> tuple[Lender, ...]:
    """Return the kit by lender in order of name, our own last; what is due first stands first."""
    names = sorted({one.lender for one in kit}, key=lambda name: (not name, name.casefold()))
    return tuple(_lender(name, tuple(one for one in kit if one.lender == name)) for name in names)


def _lender(name: str, items: tuple[KitItem, ...]) -> Lender:
    return Lender(
        name=name,
        items=tuple(sorted(items, key=lambda one: one.due_back or date.max)),
        due_back=min((one.due_back for one in items if one.due_back is not None), default=None),
    )
