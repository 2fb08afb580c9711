"""The plain reasons, at once and without a solver."""

from collections.abc import Iterable

from callroom.model.errors import CallroomError
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.team import Team
from callroom.planner.chains import chains
from callroom.planner.overload import circles, overloads
from callroom.planner.problem import Problem
from callroom.planner.questions import questions


def plain_reasons(event: Event, teams: Iterable[Team]) -> tuple[Finding, ...]:
    """Return every reason why a day cannot be done that counting alone gives.

    Floor minutes, judge minutes, heats that fit nowhere, and the longest chain of work and
    rest. Empty means that only a search can tell; a question that is refused is a reason.
    """
    try:
        problems = questions(event, teams).problems
    except CallroomError as refused:
        return (refused.finding(),)
    return tuple(found for problem in problems for found in _of_day(problem))


def _of_day(problem: Problem) -> tuple[Finding, ...]:
    if found := circles(problem):
        return found
    return overloads(problem, chains(problem).finish_s)
