"""A rota mended when somebody drops out, with the fewest changes to what others were told."""

from collections.abc import Callable, Iterable
from itertools import groupby

import msgspec
import numpy as np

from callroom.model.rota import Rota
from callroom.planner.rota.assignment import assign
from callroom.planner.rota.diary import Diary
from callroom.planner.rota.fill import fill
from callroom.planner.rota.problem import LONG_S, Hand, RotaProblem
from callroom.planner.rota.sweep import OPEN, Allowed, moment_of
from callroom.planner.timetable import Limits


class Move(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A shift that changes hands; empty: nobody. Both must be told."""

    shift: str
    before: str
    after: str


class RotaRepair(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The rota as mended, and what changed, in the order of time."""

    rota: Rota
    moves: tuple[Move, ...]


MendSolver = Callable[[RotaProblem, Rota, int, Limits], Allowed]


def repair_rota(
    problem: RotaProblem,
    rota: Rota,
    gone: Iterable[str],
    from_s: int,
    *,
    solver: MendSolver | None = None,
    limits: Limits | None = None,
) -> RotaRepair:
    """Return the rota without `gone` from `from_s` on.

    Each shift they leave is taken by somebody free, or else by the shortest chain of
    changes, three long at most. What started before `from_s` [s] stays as it was, and so
    does everything that needs no change.

    Parameters
    ----------
    problem, rota
        The day as it was asked, and its rota.
    gone, from_s
        Who drops out, and from when [s from the day's start].
    solver
        ``callroom.planner.solve.crew.mend``, asked where chains leave something open.
    limits
        How long it may think.
    """
    away = set(gone)
    hands = tuple(_leave(hand, from_s) if hand.id in away else hand for hand in problem.hands)
    without = msgspec.structs.replace(problem, hands=hands)
    shifts = {shift.id: shift for shift in problem.shifts}
    kept = [
        duty
        for duty in rota.duties
        if duty.person not in away or shifts[duty.shift].start_s < from_s
    ]
    diary = Diary(without, kept)
    fill(diary, from_s)
    if solver is not None and any(shift.start_s >= from_s for shift in diary.open()):
        allowed = solver(without, rota, from_s, limits or Limits(work=6))
        searched = _follow(without, rota, allowed, from_s)
        if len(searched.open()) < len(diary.open()):
            diary = searched
    mended = diary.rota()
    return RotaRepair(rota=mended, moves=moves_between(rota, mended))


def _follow(problem: RotaProblem, before: Rota, allowed: Allowed, from_s: int) -> Diary:
    """Return the rota in which only those allowed work, each where they were if they can be."""
    starts = {shift.id: shift.start_s for shift in problem.shifts}
    diary = Diary(problem, [duty for duty in before.duties if starts[duty.shift] < from_s])
    holder = {duty.shift: duty.person for duty in before.duties}
    ahead = [shift for shift in problem.shifts if shift.start_s >= from_s]
    for _, moment in groupby(sorted(ahead, key=moment_of), key=moment_of):
        batch = list(moment)
        people = sorted({person for shift in batch for person in allowed.get(shift.id, ())})
        costs = np.full((len(batch), len(people) + len(batch)), OPEN, dtype=np.int64)
        for row, shift in enumerate(batch):
            for column, person in enumerate(people):
                within = person in allowed.get(shift.id, ())
                if within and diary.may(person, shift) and diary.room(person, shift):
                    costs[row, column] = holder.get(shift.id) != person
        for row, column in enumerate(assign(costs)):
            if costs[row, column] < OPEN:
                diary.give(batch[row].id, people[column])
    return diary


def moves_between(before: Rota, after: Rota) -> tuple[Move, ...]:
    """Return the shifts that are held by others than before, in the order of time."""
    was = {duty.shift: duty.person for duty in before.duties}
    now = {duty.shift: duty.person for duty in after.duties}
    return tuple(
        Move(shift=shift.id, before=was.get(shift.id, ""), after=now.get(shift.id, ""))
        for shift in sorted(after.shifts, key=lambda shift: (shift.start_s, shift.id))
        if was.get(shift.id) != now.get(shift.id)
    )


def _leave(hand: Hand, from_s: int) -> Hand:
    return msgspec.structs.replace(hand, away=(*hand.away, (from_s, LONG_S)))
