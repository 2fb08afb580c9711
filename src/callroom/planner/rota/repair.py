"""A rota mended when somebody drops out, with the fewest changes to what others were told."""

from collections.abc import Iterable

import msgspec

from callroom.model.rota import Rota
from callroom.planner.rota.diary import Diary
from callroom.planner.rota.fill import fill
from callroom.planner.rota.problem import LONG_S, Hand, RotaProblem


class Move(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A shift that changes hands; empty: nobody. Both must be told."""

    shift: str
    before: str
    after: str


class RotaRepair(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The rota as mended, and what changed, in the order of time."""

    rota: Rota
    moves: tuple[Move, ...]


def repair_rota(problem: RotaProblem, rota: Rota, gone: Iterable[str], from_s: int) -> RotaRepair:
    """Return the rota without `gone` from `from_s` on.

    Each shift they leave is taken by somebody free, or else by the shortest chain of
    changes, three long at most. What started before `from_s` [s] stays as it was, and so
    does everything that needs no change.
    """
    away = set(gone)
    hands = tuple(_leave(hand, from_s) if hand.id in away else hand for hand in problem.hands)
    shifts = {shift.id: shift for shift in problem.shifts}
    kept = [
        duty
        for duty in rota.duties
        if duty.person not in away or shifts[duty.shift].start_s < from_s
    ]
    diary = Diary(msgspec.structs.replace(problem, hands=hands), kept)
    fill(diary, from_s)
    mended = diary.rota()
    return RotaRepair(rota=mended, moves=moves_between(rota, mended))


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
