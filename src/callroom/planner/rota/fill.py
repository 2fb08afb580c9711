"""Open shifts filled with the fewest changes to what others hold."""

from collections import deque
from collections.abc import Iterator
from typing import NamedTuple

from callroom.model.rota import Shift
from callroom.planner.rota.diary import Diary, cost

LONGEST_CHAIN = 3
MOST_TRIED = 4000


class Step(NamedTuple):
    """`person` takes `shift`, and gives up `instead` for it (empty: nothing)."""

    shift: str
    person: str
    instead: str = ""


def fill(diary: Diary, from_s: int | None = None) -> None:
    """Fill what open shifts can be filled, each by the shortest chain of changes.

    Someone free takes it; or someone takes it who gives up another shift, for which someone
    is free; and so on, three long at most. Nothing that starts before `from_s` is touched.
    """
    for shift in diary.open():
        if from_s is None or shift.start_s >= from_s:
            chain = _shortest(diary, shift, from_s)
            _walk(diary, chain)


def _walk(diary: Diary, chain: tuple[Step, ...]) -> None:
    for step in chain:
        if step.instead:
            diary.take(step.instead)
    for step in chain:
        diary.give(step.shift, step.person)


def _shortest(diary: Diary, wanted: Shift, from_s: int | None) -> tuple[Step, ...]:
    """Return the shortest chain that fills a shift, the cheapest of its length; or nothing."""
    tried = 0
    waiting: deque[tuple[Step, ...]] = deque([()])
    while waiting:
        chain = waiting.popleft()
        shift = diary.shifts[chain[-1].instead] if chain else wanted
        busy = {step.person for step in chain}
        ends = [
            person
            for person in diary.hands
            if person not in busy and diary.may(person, shift) and diary.room(person, shift)
        ]
        if ends:
            best = min(ends, key=lambda person: _dearness(diary, person, shift))
            return (*chain, Step(shift.id, best))
        if len(chain) + 1 < LONGEST_CHAIN:
            for step in _swaps(diary, shift, busy, from_s):
                tried += 1
                if tried > MOST_TRIED:
                    return ()
                waiting.append((*chain, step))
    return ()


def _dearness(diary: Diary, person: str, shift: Shift) -> tuple[int, str]:
    return diary.minutes(person) + cost(diary.hands[person], shift), person


def _swaps(diary: Diary, shift: Shift, busy: set[str], from_s: int | None) -> Iterator[Step]:
    """Yield who could take a shift if they gave up one of their own."""
    for person in sorted(diary.hands, key=lambda person: _dearness(diary, person, shift)):
        if person in busy or not diary.may(person, shift):
            continue
        for start_s, _, name in tuple(diary.days[person]):
            late_enough = from_s is None or start_s >= from_s
            if late_enough and diary.fits(person, (shift,), without=(name,)):
                yield Step(shift.id, person, name)
