"""What few judges and little kit alone make of a day: a finish that no timetable beats.

Judge minutes are energy under a flat limit, and so are those of any kit the floors share.
Counting them as they are is weak where two heats cannot be judged together although their sum
is only just too much; *dual feasible functions* [1] count a heat that leaves no room for others
as needing every judge.

.. [1] F. Clautiaux, C. Alves, J. Valério de Carvalho, "A survey of dual-feasible and
   superadditive functions", Annals of Operations Research 179 (2010): the function called
   u there, applied to cumulative scheduling.
"""

from collections.abc import Sequence

import msgspec

from callroom.planner.problem import Need, Problem


def shared_s(problem: Problem) -> int:
    """Return a finish that no timetable of `problem` beats, by what its floors share [s].

    The hour the floors close is not looked at. Breaks of single floors are not either, nor what
    is needed ahead of a heat or behind it, so the bound holds whatever they are; where nothing is limited it
    is when the day opens.
    """
    bounds_s = [problem.opens_s]
    if problem.judges_limit is not None:
        judged = [
            Need(slot=slot.id, count=slot.judges, length_s=slot.length_s) for slot in problem.slots
        ]
        bounds_s.append(_worked_off_s(problem, judged, problem.judges_limit))
    length_s = {slot.id: slot.length_s for slot in problem.slots}
    for pool in problem.pools:
        needs = [
            need
            for need in pool.needs
            if need.from_s >= 0 and need.from_s + need.length_s <= length_s[need.slot]
        ]
        bounds_s.append(_worked_off_s(problem, needs, pool.limit))
    return max(bounds_s)


def _worked_off_s(problem: Problem, needs: Sequence[Need], limit: int) -> int:
    """Return when all that is needed of a limited thing can be over [s]."""
    work = max(
        (
            sum(need.length_s * _counted(need.count, limit, room) for need in needs)
            for room in range((limit + 1) // 2 + 1)
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


def _counted(count: int, limit: int, room: int) -> int:
    """Return how many a heat counts for, where heats under `room` count for none.

    Of heats at work together the counts add up to no more than the limit: at most one leaves
    less than `room`, and beside it there are only heats that count for none.
    """
    if count > limit - room:
        return limit
    return count if count >= room else 0
