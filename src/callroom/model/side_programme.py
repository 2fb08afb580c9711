"""The side programme: what happens beside the heats."""

from typing import Annotated, Literal, get_args

import msgspec

SideKind = Literal[
    "stall",
    "food",
    "drink",
    "attraction",
    "children",
    "raffle",
    "collection",
    "music",
    "speech",
    "awards",
    "other",
]
SIDE_KINDS: tuple[SideKind, ...] = get_args(SideKind)

_DAY_S = 7 * 86_400


class Span(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A stretch of the day, from its start instant [s]."""

    start_s: Annotated[int, msgspec.Meta(ge=-_DAY_S, le=_DAY_S)]
    length_s: Annotated[int, msgspec.Meta(ge=60, le=_DAY_S)]

    @property
    def end_s(self) -> int:
        """When it is over [s]."""
        return self.start_s + self.length_s


class SideItem(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One thing of the side programme. Its name is public; nobody is named in it.

    Attributes
    ----------
    spans
        When it is on, in order; a stall that is open twice has two.
    spot, place
        Where: the id of a spot of the ground, or (empty) in words.
    person
        The crew's number of whoever is in charge; empty: nobody yet.
    floors
        The floors that it needs to itself: no heat may be on them meanwhile.
    power, water
        What it has to be given.
    public
        Shown to everybody; else on the run sheet alone.
    """

    id: Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
    kind: SideKind
    name: Annotated[str, msgspec.Meta(min_length=1, max_length=80)]
    spans: tuple[Span, ...]
    spot: str = ""
    place: Annotated[str, msgspec.Meta(max_length=80)] = ""
    person: str = ""
    floors: tuple[str, ...] = ()
    power: bool = False
    water: bool = False
    public: bool = True
