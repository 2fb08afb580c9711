"""The load made even: stretches of duty handed from those with much to those with little."""

from collections.abc import Iterator
from statistics import mean

from callroom.model.rota import Shift
from callroom.planner.rota.diary import SECONDS_PER_MINUTE, Diary

CHANGE_S = 120
"""A handover is worth it only if it spares more unevenness than this [s]."""

MOST_PASSES = 4


def balance(diary: Diary) -> None:
    """Hand stretches over until nobody gives one away that makes the loads more even.

    A stretch is what somebody holds at one station without a break, or a piece of it; the
    piece that evens most is tried first, so lanes seldom change hands more than they must.
    """
    for _ in range(MOST_PASSES):
        if not _one_pass(diary):
            return


def _one_pass(diary: Diary) -> bool:
    """Let everybody above the mean give what they can, the busiest first; tell of changes."""
    settled: set[str] = set()
    changed = False
    even_s = mean(diary.load_s.values()) if diary.load_s else 0
    while givers := [
        name for name in diary.hands if name not in settled and diary.load_s[name] > even_s
    ]:
        giver = max(givers, key=lambda name: diary.load_s[name])
        if _hand_over(diary, giver):
            changed = True
        else:
            settled.add(giver)
    return changed


def _hand_over(diary: Diary, giver: str) -> bool:
    """Hand one stretch of `giver` to somebody with less; return whether it was done."""
    spare = diary.spare(giver)
    pieces: dict[int, list[tuple[Shift, ...]]] = {}
    for piece in _pieces(diary, giver):
        if len(piece) <= spare:
            pieces.setdefault(_length_s(piece), []).append(piece)
    for taker in sorted(diary.hands, key=lambda name: diary.load_s[name]):
        more_s = diary.load_s[giver] - diary.load_s[taker]
        if more_s <= CHANGE_S:
            return False
        gains = {length_s: more_s - abs(more_s - 2 * length_s) - CHANGE_S for length_s in pieces}
        for length_s in sorted(gains, key=lambda length_s: -gains[length_s]):
            for piece in pieces[length_s]:
                if gains[length_s] <= _dearer_s(diary, giver, taker, piece):
                    continue
                if diary.fits(taker, piece):
                    for shift in piece:
                        diary.take(shift.id)
                        diary.give(shift.id, taker)
                    return True
    return False


def _dearer_s(diary: Diary, giver: str, taker: str, piece: tuple[Shift, ...]) -> int:
    """Return how much more a stretch costs with `taker` than with `giver` [s]."""
    gives, takes = diary.hands[giver].costs, diary.hands[taker].costs
    if not gives and not takes:
        return 0
    dearer_min = sum(takes.get(shift.id, 0) - gives.get(shift.id, 0) for shift in piece)
    return dearer_min * SECONDS_PER_MINUTE


def _length_s(piece: tuple[Shift, ...]) -> int:
    return sum(shift.end_s - shift.start_s for shift in piece)


def _pieces(diary: Diary, person: str) -> Iterator[tuple[Shift, ...]]:
    """Yield what a person holds at one station without a break, and every stretch of it."""
    for run in _runs(diary, person):
        for first in range(len(run)):
            for end in range(first + 1, len(run) + 1):
                yield tuple(run[first:end])


def _runs(diary: Diary, person: str) -> Iterator[list[Shift]]:
    run: list[Shift] = []
    for _, _, name in diary.days[person]:
        shift = diary.shifts[name]
        if run and (
            shift.station != run[-1].station
            or shift.start_s - run[-1].end_s >= diary.problem.break_s
        ):
            yield run
            run = []
        run.append(shift)
    if run:
        yield run
