"""What few judges alone make of a day: a finish that no timetable beats.

Judge minutes are energy under a flat limit. Counting them as they are is weak where two heats
cannot be judged together although their sum is only just too much; *dual feasible functions*
[1] count a heat that leaves no room for others as needing every judge.

.. [1] F. Clautiaux, C. Alves, J. Valério de Carvalho, "A survey of dual-feasible and
   superadditive functions", Annals of Operations Research 179 (2010): the function called
   u there, applied to cumulative scheduling.
"""

import msgspec

from callroom.planner.problem import Problem


def judged_s(problem: Problem) -> int:
    """Return a finish that no timetable of `problem` beats, by its judges [s].

    The hour the floors close is not looked at. Breaks of single floors are not either, so the
    bound holds whatever they are; without a limit it is when the day opens.
    """
    limit = problem.judges_limit
    if limit is None:
        return problem.opens_s
    work = max(
        (
            sum(slot.length_s * _counted(slot.judges, limit, room) for slot in problem.slots)
            for room in range(limit // 2 + 1)
        ),
        default=0,
    )
    left_s = -(-work // max(limit, 1))
    shared = tuple(pause for pause in problem.breaks if not pause.floors)
    open_day = msgspec.structs.replace(problem, breaks=shared, closes_s=None)
    for stretch in open_day.stretches(""):
        if stretch.end_s is None or left_s <= stretch.end_s - stretch.start_s:
            return stretch.start_s + left_s
        left_s -= stretch.end_s - stretch.start_s
    return problem.opens_s


def _counted(judges: int, limit: int, room: int) -> int:
    """Return how many judges a heat counts for, where heats under `room` count for none.

    Of heats at work together the counts add up to no more than the limit: at most one leaves
    less than `room` judges, and beside it there are only heats that count for none.
    """
    if judges > limit - room:
        return limit
    return judges if judges >= room else 0
