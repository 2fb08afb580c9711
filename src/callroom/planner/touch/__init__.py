"""A plan changed by the director's own hand, one small change at a time.

Decides: what each change makes of event and plan, whether that is possible at all, and what
comes of it. What is pinned or locked is a wish, so changes of it change the event.
Never does: look for a plan, or mend what a change breaks. ``check`` is the judge: a new error
refuses a change, a broken wish is told.
May import: ``model``, ``planner.check``, ``planner.prices`` and ``planner.what_if``.
"""

from callroom.planner.touch.effects import Effects, Judged, effects
from callroom.planner.touch.locks import Locked, locked
from callroom.planner.touch.make import made, touched
from callroom.planner.touch.refused import Impossible
from callroom.planner.touch.touches import (
    DropPause,
    Move,
    PlaceTeam,
    Reach,
    SetLock,
    SetPause,
    SwapHeats,
    TakeChange,
    Touch,
)
from callroom.planner.touch.words import said

__all__ = [
    "DropPause",
    "Effects",
    "Impossible",
    "Judged",
    "Locked",
    "Move",
    "PlaceTeam",
    "Reach",
    "SetLock",
    "SetPause",
    "SwapHeats",
    "TakeChange",
    "Touch",
    "effects",
    "locked",
    "made",
    "said",
    "touched",
]
