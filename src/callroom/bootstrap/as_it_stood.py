"""The State as it stood around something that was decided, read from the journal itself."""

from collections.abc import Iterable
from typing import Any

from callroom.journal.entries import Entry
from callroom.journal.fold import fold_all
from callroom.model import NotFound, State


def states_around(
    read: Iterable[tuple[Entry, Any]], seq: int, began: State | None = None
) -> tuple[State, State]:
    """Return the State before and after the whole request that made entry `seq`.

    Parameters
    ----------
    read
        The journal's entries with their decoded bodies, in order.
    began
        What they are folded onto (default: an empty State).

    Raises
    ------
    NotFound
        If there is no such entry.
    """
    entries = list(read)
    asked = next(((one.device, one.key) for one, _ in entries if one.seq == seq), None)
    if asked is None:
        raise NotFound("entry.unknown", seq=seq)
    made = [at for at, (one, _) in enumerate(entries) if (one.device, one.key) == asked]
    before = fold_all(entries[: made[0]], began)
    return before, fold_all(entries[made[0] : made[-1] + 1], before)
