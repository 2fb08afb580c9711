"""Which places two teams of a part can take together while some of its scores are open.

An open score may become any result, better or worse than any other, level with it, or none;
so only the order counts and nothing is assumed about how well a team can do.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from typing import Literal

Open = Literal["open"]
OPEN: Open = "open"
Slot = int | Open | None
"""What is known of a team's score: its key, that it is open, or (None) that it has no place."""

Outcome = tuple[int | None, int | None]
"""The places of two teams; None: no place."""


def joint_places(
    one: Slot, other: Slot, settled: Sequence[int], others_open: int
) -> frozenset[Outcome]:
    """Return every pair of places that two teams can take, and no other.

    Parameters
    ----------
    one, other
        The two scores.
    settled
        The keys of all other scores that are not open, in any order; a lower one is better.
    others_open
        How many other scores are open.
    """
    keys = sorted(settled)
    return frozenset(
        outcome
        for first in _positions(one, other, keys, ranks=(0, 1, 2))
        for second in _positions(other, one, keys, ranks=(1,))
        for outcome in _outcomes(first, second, others_open)
    )


Position = tuple[int, int] | None
"""Settled scores that are better, and a rank that says who of two is ahead; None: no place."""


def _positions(
    slot: Slot, beside: Slot, keys: Sequence[int], *, ranks: Sequence[int]
) -> Iterator[Position]:
    """Give where a score may stand, once for each number of better ones and rank beside the other.

    A gap between different keys has `ranks`, and a key one rank more. Two open scores may be in
    one gap in any order: three ranks for the one, and the middle one for the other, say that.
    """
    if slot is None or slot == OPEN:
        yield None
    if slot is None:
        return
    own = sorted({*keys, *(key for key in (slot, beside) if isinstance(key, int))})
    if slot != OPEN:
        yield bisect_left(keys, slot), 4 * own.index(slot) + 3
        return
    better = [bisect_left(keys, key) for key in own]
    for at, count in enumerate([*better, len(keys)]):
        for rank in ranks if beside == OPEN else (1,):
            yield count, 4 * at + rank
    if isinstance(beside, int):
        yield bisect_left(keys, beside), 4 * own.index(beside) + 3


def _outcomes(one: Position, other: Position, others_open: int) -> Iterator[Outcome]:
    if one is None and other is None:
        yield None, None
    elif one is None or other is None:
        (better, _) = one or other or (0, 0)
        for ahead in range(others_open + 1):
            place = 1 + better + ahead
            yield (place, None) if other is None else (None, place)
    elif one[1] == other[1]:
        for ahead in range(others_open + 1):
            yield 1 + one[0] + ahead, 1 + other[0] + ahead
    elif one[1] < other[1]:
        yield from _apart(one[0], other[0], others_open)
    else:
        yield from ((mine, theirs) for theirs, mine in _apart(other[0], one[0], others_open))


def _apart(better: int, worse: int, others_open: int) -> Iterator[tuple[int, int]]:
    """Give the places of a team ahead of another: open scores go before both or between them."""
    for ahead in range(others_open + 1):
        for between in range(others_open + 1 - ahead):
            yield 1 + better + ahead, 2 + worse + ahead + between


def single_places(slot: Slot, settled: Sequence[int], others_open: int) -> frozenset[int | None]:
    """Return every place that one team can take, and no other."""
    outcomes = joint_places(slot, None, settled, others_open)
    return frozenset(place for place, _ in outcomes)
