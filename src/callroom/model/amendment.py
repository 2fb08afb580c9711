"""Amendments: a workout changed after it was told, with a number, for everyone."""

from collections.abc import Iterable
from typing import Literal

import msgspec

from callroom.model.workout import Workout

Remedy = Literal["none", "again", "common", "void"]
Decider = Literal["director", "head_judge"]


class Amendment(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A numbered change of a workout.

    Attributes
    ----------
    number
        Counts the amendments of the event from 1; a number is never given twice.
    seq, at_ms
        The entry that made it, and when the server received that [ms, UTC].
    what, why, decided_by
        In words what changed and why, and who decided it.
    from_heat
        The first heat of the workout it holds for; empty: none is still to come.
    had_run
        The heats that had run by then, which `remedy` is about: ``none`` had; all run
        ``again``; all are scored to a ``common`` point, `common_point` in words; the
        workout is ``void`` and counts for nothing.
    before
        The workout as it was until then.
    """

    number: int
    seq: int
    at_ms: int
    workout: str
    what: str
    why: str
    decided_by: Decider
    from_heat: str
    remedy: Remedy
    had_run: tuple[str, ...]
    common_point: str
    before: Workout


def latest_amendment(amendments: Iterable[Amendment], workout_id: str) -> Amendment | None:
    """Return the amendment by which a workout now stands; None: it was never amended."""
    found = None
    for amendment in amendments:
        if amendment.workout == workout_id:
            found = amendment
    return found
