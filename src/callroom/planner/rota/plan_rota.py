"""A whole rota: matched heat by heat, filled, made even; searched for where hands are scarce."""

from collections.abc import Callable

from callroom.model.rota import Rota
from callroom.planner.rota.balance import balance
from callroom.planner.rota.diary import SECONDS_PER_MINUTE, Diary
from callroom.planner.rota.fill import fill
from callroom.planner.rota.problem import RotaProblem, peak
from callroom.planner.rota.sweep import Allowed, sweep
from callroom.planner.timetable import Limits

SCARCE = 2
MOST_SEARCHED = 150

CrewSolver = Callable[[RotaProblem, Rota, Limits], Allowed | None]


def make_rota(
    problem: RotaProblem, solver: CrewSolver | None = None, limits: Limits | None = None
) -> Rota:
    """Return who does what.

    Parameters
    ----------
    problem
        The day, as :func:`pose_rota` asks it.
    solver
        ``callroom.planner.solve.crew.who_works``, handed in so that only the process that
        searches loads it. It is asked, of 150 hands at most, where a shift was left open,
        where there are fewer than twice the judges at work at once, and where somebody may
        or must hold only so many shifts.
    limits
        How long it may think.
    """
    best = _finished(sweep(problem))
    worth_it = bool(best.open()) or _scarce(problem)
    if solver is None or not worth_it or len(problem.hands) > MOST_SEARCHED:
        return best.rota()
    allowed = solver(problem, best.rota(), limits or Limits(work=6))
    if allowed is None:
        return best.rota()
    searched = sweep(problem, allowed)
    fill(searched)
    return min(searched, best, key=_worth).rota()


def _scarce(problem: RotaProblem) -> bool:
    judging = tuple(shift for shift in problem.shifts if shift.post == "judge")
    judges = sum("judge" in hand.posts for hand in problem.hands)
    counted = any(hand.least or hand.most is not None for hand in problem.hands)
    return counted or judges < SCARCE * peak(judging)


def _finished(diary: Diary) -> Diary:
    fill(diary)
    balance(diary)
    return diary


def _worth(diary: Diary) -> tuple[int, int, int]:
    """Order rotas: least time open, then fewest hands short of their least, then wishes."""
    short = sum(max(hand.least - len(diary.days[name]), 0) for name, hand in diary.hands.items())
    wishes = sum(diary.hands[person].costs.get(shift, 0) for shift, person in diary.holder.items())
    open_s = sum(shift.end_s - shift.start_s for shift in diary.open())
    return open_s, short, wishes + max(diary.load_s.values(), default=0) // SECONDS_PER_MINUTE
