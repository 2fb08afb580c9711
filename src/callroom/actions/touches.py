"""What a director's hand can do to a draft of the plan, for the faces that ask for it."""

from callroom.planner.touch import (
    DropPause,
    Effects,
    Impossible,
    Move,
    PlaceTeam,
    Reach,
    SetLock,
    SetPause,
    SwapHeats,
    TakeChange,
    Touch,
    locked,
)

__all__ = [
    "DropPause",
    "Effects",
    "Impossible",
    "Move",
    "PlaceTeam",
    "Reach",
    "SetLock",
    "SetPause",
    "SwapHeats",
    "TakeChange",
    "Touch",
    "locked",
]
