"""Who holds what so far, and whether one more shift fits into somebody's day."""

from bisect import bisect_left, insort
from collections.abc import Iterable

from callroom.model.rota import Duty, Rota, Shift
from callroom.planner.rota.problem import Hand, RotaProblem, may_hold, weight

SECONDS_PER_MINUTE = 60


class Diary:
    """A rota being written; every change keeps all hard rules."""

    def __init__(self, problem: RotaProblem, duties: Iterable[Duty] = ()) -> None:
        """Start with `duties`, which are taken as they are."""
        self.problem = problem
        self.shifts = {shift.id: shift for shift in problem.shifts}
        self.hands = {hand.id: hand for hand in problem.hands}
        self.holder: dict[str, str] = {}
        self.days: dict[str, list[tuple[int, int, str]]] = {name: [] for name in self.hands}
        self.load_s: dict[str, int] = dict.fromkeys(self.hands, 0)
        self._may: dict[tuple[str, str], bool] = {}
        for duty in duties:
            self.give(duty.shift, duty.person)

    def give(self, shift_id: str, person: str) -> None:
        """Let a person hold a shift that is open."""
        shift = self.shifts[shift_id]
        self.holder[shift_id] = person
        insort(self.days[person], (shift.start_s, shift.end_s, shift_id))
        self.load_s[person] += shift.end_s - shift.start_s

    def take(self, shift_id: str) -> str:
        """Open a shift that is held; return who held it."""
        shift = self.shifts[shift_id]
        person = self.holder.pop(shift_id)
        self.days[person].remove((shift.start_s, shift.end_s, shift_id))
        self.load_s[person] -= shift.end_s - shift.start_s
        return person

    def room(self, person: str, shift: Shift) -> bool:
        """Return whether a shift fits between a person's others, whoever may hold it."""
        hand, day = self.hands[person], self.days[person]
        if hand.most is not None and len(day) >= hand.most:
            return False
        place = bisect_left(day, (shift.start_s, shift.end_s, shift.id))
        in_a_row = weight(shift)
        for step in (-1, 1):
            here, at = shift, place - 1 if step < 0 else place
            while 0 <= at < len(day):
                there = self.shifts[day[at][2]]
                first, second = (there, here) if step < 0 else (here, there)
                gap_s = second.start_s - first.end_s
                if gap_s < (self.problem.move_s if first.floor != second.floor else 0):
                    return False
                if gap_s >= self.problem.break_s:
                    break
                in_a_row += weight(there)
                here, at = there, at + step
        return in_a_row <= self.problem.most_in_a_row

    def may(self, person: str, shift: Shift) -> bool:
        """Return whether a person could hold a shift on an empty day."""
        key = person, shift.id
        if key not in self._may:
            self._may[key] = may_hold(self.hands[person], shift)
        return self._may[key]

    def fits(self, person: str, more: Iterable[Shift], without: Iterable[str] = ()) -> bool:
        """Return whether a person can hold `more` besides their day `without` some of it."""
        added = tuple(more)
        if not all(self.may(person, shift) for shift in added):
            return False
        gone = set(without)
        day = [self.shifts[name] for _, _, name in self.days[person] if name not in gone]
        hand = self.hands[person]
        if hand.most is not None and len(day) + len(added) > hand.most:
            return False
        return self.sound(sorted((*day, *added), key=lambda shift: (shift.start_s, shift.id)))

    def sound(self, day: list[Shift]) -> bool:
        """Return whether shifts in time order leave room to walk, and breaks to rest."""
        problem = self.problem
        in_a_row = 0
        for place, shift in enumerate(day):
            before = day[place - 1] if place else None
            if before is not None:
                gap_s = shift.start_s - before.end_s
                if gap_s < (problem.move_s if before.floor != shift.floor else 0):
                    return False
                if gap_s >= problem.break_s:
                    in_a_row = 0
            in_a_row += weight(shift)
            if in_a_row > problem.most_in_a_row:
                return False
        return True

    def open(self) -> list[Shift]:
        """Return the shifts nobody holds, in order."""
        return [shift for shift in self.problem.shifts if shift.id not in self.holder]

    def minutes(self, person: str) -> int:
        """Return how long a person is on duty in all [minutes]."""
        return self.load_s[person] // SECONDS_PER_MINUTE

    def owed(self) -> dict[str, int]:
        """Return, for each person whose team owes heats of judging, how many are left.

        Where the team has paid more than it owes the number is negative.
        """
        return {
            person: debt.heats - sum(self._judged(name) for name in debt.hands)
            for debt in self.problem.debts
            for person in debt.hands
        }

    def _judged(self, person: str) -> int:
        return sum(self.shifts[name].post == "judge" for _, _, name in self.days[person])

    def spare(self, person: str) -> int:
        """Return how many shifts a person can give away and still hold what they must."""
        beyond_least = len(self.days[person]) - self.hands[person].least
        return min(beyond_least, -self.owed().get(person, -beyond_least))

    def rota(self) -> Rota:
        """Return the rota as written."""
        return Rota(
            plan_revision=self.problem.plan_revision,
            shifts=self.problem.shifts,
            duties=tuple(
                Duty(shift=shift.id, person=self.holder[shift.id])
                for shift in self.problem.shifts
                if shift.id in self.holder
            ),
        )


def cost(hand: Hand, shift: Shift) -> int:
    """Return what a hand's wishes say of a shift [minutes of unevenness]."""
    return hand.costs.get(shift.id, 0)
