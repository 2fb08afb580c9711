"""The rota as a question: shifts to be held, hands to hold them, and what they keep to.

It knows nothing of teams: whoever must not hold a shift is barred from it, and whoever
competes is away. One shift for each hand at one time, with costs, is the assignment problem.
"""

from collections.abc import Mapping

import msgspec

from callroom.model.rota import Shift

LONG_S = 10**8
"""Longer than any event [s]: before it, after it."""


class Hand(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A volunteer as the rota sees them.

    Attributes
    ----------
    posts
        What they can do.
    away
        Spans in which they can hold nothing: not there, competing, warming up, resting [s].
    barred
        Shifts they must not hold.
    costs
        What it costs to give them a shift [minutes of unevenness it is worth]; negative: a
        wish of theirs. What is not listed costs nothing.
    least, most
        How many shifts they must or may hold; None: as many as it takes.
    """

    id: str
    posts: frozenset[str]
    away: tuple[tuple[int, int], ...] = ()
    experienced: bool = False
    barred: frozenset[str] = frozenset()
    costs: Mapping[str, int] = {}
    least: int = 0
    most: int | None = None


class Debt(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """People who together owe so many heats of judging."""

    team: str
    hands: tuple[str, ...]
    heats: int


class RotaProblem(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A day's shifts and hands.

    `most_in_a_row`, `break_s` and `move_s` are those of :class:`~callroom.model.RotaRules`.
    """

    plan_revision: int
    shifts: tuple[Shift, ...]
    hands: tuple[Hand, ...]
    debts: tuple[Debt, ...] = ()
    most_in_a_row: int = 4
    break_s: int = 600
    move_s: int = 120


def may_hold(hand: Hand, shift: Shift) -> bool:
    """Return whether a hand could hold a shift if it were the only one."""
    return (
        shift.post in hand.posts
        and shift.id not in hand.barred
        and all(shift.end_s <= start_s or end_s <= shift.start_s for start_s, end_s in hand.away)
    )


def weight(shift: Shift) -> int:
    """Return what a shift counts towards the heats in a row: judging is what tires."""
    return 1 if shift.post == "judge" else 0


def peak(shifts: tuple[Shift, ...]) -> int:
    """Return the most of these shifts that run at one time."""
    changes = sorted(
        [(shift.start_s, 1) for shift in shifts] + [(shift.end_s, -1) for shift in shifts]
    )
    running = most = 0
    for _at_s, change in changes:
        running += change
        most = max(most, running)
    return most
