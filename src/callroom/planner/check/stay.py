"""A heat on its floor, and the rules of a day that concern floors and hours alone."""

from collections.abc import Sequence
from typing import NamedTuple


class Stay(NamedTuple):
    """A heat on its floor from `start_s` to `end_s` [s]; `block` is its division or mix."""

    id: str
    floor: str
    start_s: int
    end_s: int
    workout: str
    block: str
    judges: int


class Rest(NamedTuple):
    """A span in which some floors rest (none named: all) [s]."""

    id: str
    start_s: int
    end_s: int
    floors: tuple[str, ...]


class DayRules(NamedTuple):
    """What floors and hours must keep to; the fields are those of ``Wishes``."""

    opens_s: int
    closes_s: int | None
    grid_s: int
    same_s: int
    division_s: int
    workout_s: int
    rhythm: bool
    whole_blocks: bool
    judges_limit: int | None
    rests: tuple[Rest, ...]
    nights: tuple[Rest, ...] = ()


def by_floor(stays: Sequence[Stay]) -> dict[str, list[Stay]]:
    """Return each floor's heats in time order."""
    found: dict[str, list[Stay]] = {}
    for stay in sorted(stays, key=lambda stay: (stay.start_s, stay.end_s, stay.id)):
        found.setdefault(stay.floor, []).append(stay)
    return found


def by_block(stays: Sequence[Stay]) -> dict[tuple[str, str], list[Stay]]:
    """Return the heats of each workout and division (or mix) in time order."""
    found: dict[tuple[str, str], list[Stay]] = {}
    for stay in sorted(stays, key=lambda stay: (stay.start_s, stay.id)):
        found.setdefault((stay.workout, stay.block), []).append(stay)
    return found
