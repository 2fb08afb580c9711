"""The day heat by heat: each heat's shifts matched with the hands that are free, at least cost.

What it costs to give somebody a shift is said in minutes of unevenness: how long they have
been on duty already, less what staying in their lane spares, plus what their wishes say.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from itertools import groupby

import numpy as np

from callroom.model.rota import Shift
from callroom.planner.rota.assignment import assign
from callroom.planner.rota.diary import Diary
from callroom.planner.rota.problem import RotaProblem

STAY_MIN = 90
"""What staying in the same lane for the next heat is worth [minutes]."""
BESIDE_MIN = 20
"""What the right lane for somebody experienced is worth [minutes]."""
KEEP_FREE_MIN = 120
"""What it costs to put somebody who can judge on another post [minutes]."""
OWED_MIN = 150
"""What it is worth that a team pays the judging it owes [minutes]."""
OPEN = 1_000_000
IMPOSSIBLE = 100 * OPEN

Allowed = Mapping[str, frozenset[str]]


def sweep(problem: RotaProblem, allowed: Allowed | None = None) -> Diary:
    """Return a rota written in the order of time, heat by heat.

    Parameters
    ----------
    problem
        The day.
    allowed
        The only people who may hold each shift, by its id; None: whoever can.
    """
    diary = Diary(problem)
    # The posts held for long come first: fewer people can hold them.
    ordered = sorted(problem.shifts, key=lambda shift: (shift.post == "judge", *moment_of(shift)))
    for _, batch in groupby(ordered, key=moment_of):
        _match(diary, list(batch), allowed)
    return diary


def moment_of(shift: Shift) -> tuple[int, str, int, str, str]:
    """Return what shifts that are matched together have in common, in the order of time."""
    return shift.start_s, shift.post, shift.end_s, shift.heat, shift.floor


def _match(diary: Diary, batch: list[Shift], allowed: Allowed | None) -> None:
    """Give the shifts of one heat, or of one moment, to the people they cost least with."""
    people = [person for person in diary.hands if _free(diary, person, batch[0])]
    costs = np.full((len(batch), len(people) + len(batch)), OPEN, dtype=np.int64)
    right, owed = experienced_lanes(batch), diary.owed()
    for column, person in enumerate(people):
        general = diary.minutes(person) - (OWED_MIN if owed.get(person, 0) > 0 else 0)
        stay = _station_before(diary, person, batch[0])
        hand = diary.hands[person]
        if batch[0].post != "judge" and "judge" in hand.posts:
            general += KEEP_FREE_MIN
        for row, shift in enumerate(batch):
            if shift.id in hand.barred or not _allowed(allowed, shift, person):
                continue
            costs[row, column] = (
                general
                + hand.costs.get(shift.id, 0)
                - (STAY_MIN if shift.station == stay else 0)
                - (BESIDE_MIN if hand.experienced and shift.id in right else 0)
            )
    for row, column in enumerate(assign(costs)):
        if costs[row, column] < OPEN:
            diary.give(batch[row].id, people[column])


def _free(diary: Diary, person: str, shift: Shift) -> bool:
    """Return whether a shift at this time and on this floor fits into a person's day."""
    hand = diary.hands[person]
    return (
        shift.post in hand.posts
        and all(shift.end_s <= start_s or end_s <= shift.start_s for start_s, end_s in hand.away)
        and diary.room(person, shift)
    )


def _allowed(allowed: Allowed | None, shift: Shift, person: str) -> bool:
    return allowed is None or person in allowed.get(shift.id, ())


def _station_before(diary: Diary, person: str, shift: Shift) -> tuple[str, str, int, int] | None:
    """Return where a person is until just before a shift, if they are on duty then."""
    day = diary.days[person]
    place = bisect_right(day, shift.start_s, key=lambda entry: entry[1]) - 1
    if place < 0 or shift.start_s - day[place][1] >= diary.problem.break_s:
        return None
    return diary.shifts[day[place][2]].station


def experienced_lanes(batch: Sequence[Shift]) -> frozenset[str]:
    """Return the shifts of a heat from which someone experienced has everyone else beside them.

    That is every third place from the second on, and the last one where nobody else would
    have it beside them.
    """
    judging = [shift for shift in batch if shift.post == "judge"]
    places = [shift.id for shift in sorted(judging, key=lambda one: (one.lane or 0, one.seat))]
    right = set(places[1::3])
    if len(places) % 3 == 1:
        right.add(places[-1])
    return frozenset(right)
