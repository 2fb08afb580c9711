"""What is short, and when; who has nothing to do."""

from collections.abc import Iterator

from callroom.model.finding import Finding
from callroom.model.rota import Rota, Shift
from callroom.planner.rota.diary import Diary
from callroom.planner.rota.problem import RotaProblem, may_hold, peak
from callroom.planner.rota.rules import RULES


def shortages(problem: RotaProblem, rota: Rota) -> tuple[Finding, ...]:
    """Return what a rota leaves open, stretch by stretch, and what it owes.

    A stretch runs from the first open shift of a post to the last that overlaps or follows
    within a break's length. Of its worst moment it says how many are missing of how many
    wanted, and how many people there are who could hold the post then.
    """
    diary = Diary(problem, rota.duties)
    return (*_open(problem, diary), *_debts(problem, diary), *_idle(problem, diary))


def _open(problem: RotaProblem, diary: Diary) -> Iterator[Finding]:
    for post in sorted({shift.post for shift in problem.shifts}):
        wanted = [shift for shift in problem.shifts if shift.post == post]
        if not any(post in hand.posts for hand in problem.hands):
            yield RULES.found(
                "rota.nobody_can", f"post.{post}", post=post, wanted=peak(tuple(wanted))
            )
            continue
        missing = [shift for shift in diary.open() if shift.post == post]
        for stretch in _stretches(missing, problem.break_s):
            worst = max(stretch, key=lambda shift: _running(stretch, shift))
            able = sum(
                any(may_hold(hand, shift) for shift in wanted if _meet(shift, worst))
                for hand in problem.hands
            )
            yield RULES.found(
                "rota.short",
                f"post.{post}",
                post=post,
                from_at_s=stretch[0].start_s,
                until_at_s=max(shift.end_s for shift in stretch),
                missing=_running(stretch, worst),
                wanted=_running(wanted, worst),
                able=able,
            )


def _stretches(missing: list[Shift], break_s: int) -> Iterator[list[Shift]]:
    stretch: list[Shift] = []
    for shift in sorted(missing, key=lambda shift: shift.start_s):
        if stretch and shift.start_s > max(one.end_s for one in stretch) + break_s:
            yield stretch
            stretch = []
        stretch.append(shift)
    if stretch:
        yield stretch


def _running(shifts: list[Shift], moment: Shift) -> int:
    """Return how many of the shifts run when `moment` starts."""
    return sum(shift.start_s <= moment.start_s < shift.end_s for shift in shifts)


def _meet(one: Shift, other: Shift) -> bool:
    return one.start_s <= other.start_s < one.end_s


def _debts(problem: RotaProblem, diary: Diary) -> Iterator[Finding]:
    owed = diary.owed()
    for debt in problem.debts:
        at = f"team.{debt.team}"
        if not debt.hands:
            yield RULES.found("rota.debtor_unknown", at, team=debt.team, heats=debt.heats)
        elif (left := owed[debt.hands[0]]) > 0:
            yield RULES.found("rota.debt_left", at, team=debt.team, heats=debt.heats, left=left)


def _idle(problem: RotaProblem, diary: Diary) -> Iterator[Finding]:
    for hand in problem.hands:
        if not diary.days[hand.id]:
            yield RULES.found("rota.idle", f"crew.{hand.id}", person=hand.id)
