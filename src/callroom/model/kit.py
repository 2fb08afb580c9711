"""Kit: equipment, owned or borrowed."""

from datetime import date
from typing import Literal

import msgspec

from callroom.model.mass import Mass


class KitItem(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A line of the kit list: `count` pieces of one kind, with its mass where that matters.

    `floor` names the floor it stands on (empty: it can be moved anywhere); `lender`
    is the place it was borrowed from and must go back to, on `due_back` at the latest. `category` is who lifts with a bar,
    where each category has its own (empty: anybody).
    """

    id: str
    name: str
    kind: Literal["bar", "plate", "collar", "dumbbell", "kettlebell", "machine", "other"]
    count: int
    mass: Mass | None = None
    floor: str = ""
    lender: str = ""
    category: str = ""
    due_back: date | None = None
