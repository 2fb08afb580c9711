"""Places by standard competition ranking, written 1224."""

from collections.abc import Sequence
from typing import Any, Protocol, TypeVar

NO_PLACE = 10**9
"""Stands for a missing place where places are compared: behind every other."""


class Comparable(Protocol):
    """Anything that has an order."""

    def __lt__(self, other: Any, /) -> bool:  # noqa: ANN401 - each with its own kind
        """Whether it goes before `other`."""


K = TypeVar("K", bound=Comparable)


def places(keys: Sequence[K | None]) -> list[int | None]:
    """Return the place of each key, the lowest first; None where there is no key.

    Equal keys share the best place they cover, and as many places are skipped after them:
    a place is one more than the number of strictly better keys. The order in which keys
    are given does not matter.
    """
    return ranking(keys)[0]


def ranking(keys: Sequence[K | None]) -> tuple[list[int | None], list[int]]:
    """Return the place of each key, and the positions of the keys by place.

    Positions of equal keys, and after all others those without a key, stay as given.
    """
    placed = [index for index, key in enumerate(keys) if key is not None]
    placed.sort(key=keys.__getitem__)  # type: ignore[arg-type]  # the None are left out
    found: list[int | None] = [None] * len(keys)
    before: K | None = None
    place = 0
    for position, index in enumerate(placed, start=1):
        key = keys[index]
        if key != before:
            place, before = position, key
        found[index] = place
    if len(placed) < len(keys):
        placed += [index for index, key in enumerate(keys) if key is None]
    return found, placed
