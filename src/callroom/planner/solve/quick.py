"""Short questions about a day: can it be done at all, how early, and how calm.

Where many variants of one day are tried, the whole sequence of aims would be wasted on most
of them. Each answer here is a complete timetable or none, and keeps every rule.
"""

from collections.abc import Iterator
from typing import NamedTuple

import msgspec
from ortools.sat.python import cp_model

from callroom.planner.overload import circles, overloads
from callroom.planner.problem import Problem
from callroom.planner.solve.aims import longest_wait
from callroom.planner.solve.build import build
from callroom.planner.solve.frame import Frame
from callroom.planner.solve.stages import (
    Search,
    Step,
    finish_of,
    hint,
    placed_by,
    pursue,
    relax_less,
    settle,
)
from callroom.planner.solve.turns import tightened
from callroom.planner.timetable import Limits, Placed, Status, Timetable, ignore


class _Asked(NamedTuple):
    """A day with what counting says of it: hours of its heats, and the certificate [s]."""

    problem: Problem
    least_s: int


def decide(problem: Problem, limits: Limits | None = None) -> Timetable:
    """Find any timetable of a day, or learn that there is none.

    Whole blocks are tried first where heats may take turns as well: a plan in blocks is
    found sooner, and is one of the plans looked for.
    """
    asked = _ask(problem)
    if isinstance(asked, Timetable):
        return asked
    search = Search(limits or Limits(work=2), ignore)
    least_s = asked.least_s
    for frame, is_last in _frames(asked):
        if frame is None:
            continue
        solver = search.solver(1.0 if is_last else 0.4)
        relax_less(solver, frame.problem)
        status = solver.solve(frame.model)
        search.pay(solver)
        if status in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
            return _solved(frame, placed_by(frame, solver), least_s, ())
        if is_last and status != cp_model.INFEASIBLE:
            return Timetable(status="undecided", certificate_s=least_s)
    return Timetable(status="infeasible", certificate_s=least_s)


def least_finish(problem: Problem, limits: Limits | None = None) -> Timetable:
    """Find the earliest finish of a day, and nothing more; `aims` says what is proven."""
    asked = _ask(problem)
    if isinstance(asked, Timetable):
        return asked
    search = Search(limits or Limits(work=4), ignore)
    least_s = asked.least_s
    best: tuple[Frame, Step] | None = None
    first = search.listed(asked.problem, least_s)
    for frame, is_last in _frames(asked):
        if frame is None:
            continue
        if is_last and first is not None and _earlier(first, best):
            best = frame, first
        if best is not None:
            hint(frame, best[1].placed)
        share = 1.0 if is_last else 0.5 if first else 0.7
        step = pursue(frame, "finish", frame.finish, search, share, quick=True)
        if step.placed:
            best = frame, _no_later(step, None if best is None else best[1])
        elif is_last and best is None:
            return Timetable(status=_status(step), certificate_s=least_s)
        if best is not None and _finish_s(best[1]) <= least_s:
            break  # counting has ruled out anything earlier, whatever takes turns
    if best is None:
        return Timetable(status="infeasible", certificate_s=least_s)
    return _solved(best[0], best[1].placed, least_s, (best[1],))


def _no_later(step: Step, before: Step | None) -> Step:
    """Return a step with what is proven in it, or with the earlier finish found before it."""
    if before is None or before.aim is None or step.aim is None:
        return step
    if step.aim.value_s <= before.aim.value_s:
        return step
    aim = msgspec.structs.replace(step.aim, value_s=before.aim.value_s)
    return Step(before.outcome, before.placed, aim)


def _earlier(first: Step, best: tuple[Frame, Step] | None) -> bool:
    return best is None or _finish_s(first) < _finish_s(best[1])


def _finish_s(step: Step) -> int:
    return 0 if step.aim is None else step.aim.value_s


def calmest(problem: Problem, limits: Limits | None = None) -> Timetable:
    """Find the day with the shortest longest wait, and among those the earliest finish.

    `problem.closes_s` says how late the finish may be for it.
    """
    asked = _ask(problem)
    if isinstance(asked, Timetable):
        return asked
    search = Search(limits or Limits(work=6), ignore)
    frame, least_s = build(asked.problem, asked.least_s), asked.least_s
    if frame is None:
        return Timetable(status="infeasible", certificate_s=least_s)
    first = pursue(frame, "longest_wait", longest_wait(frame), search, 0.6)
    if not first.placed:
        return Timetable(status=_status(first), certificate_s=least_s)
    then = pursue(frame, "finish", frame.finish, search, 0.8)
    steps = tuple(step for step in (first, then) if step.placed)
    return _solved(frame, settle(frame, steps[-1].placed, search), least_s, steps)


class _Try(NamedTuple):
    frame: Frame | None
    is_last: bool


def _frames(asked: _Asked) -> Iterator[_Try]:
    """Yield the day in whole blocks, then as it is, where that is not the same."""
    problem, least_s = asked
    if problem.shape == "heats" and any(len(block) > 1 for block in problem.blocks()):
        yield _Try(build(msgspec.structs.replace(problem, shape="blocks"), least_s), is_last=False)
    yield _Try(build(problem, least_s), is_last=True)


def _ask(problem: Problem) -> Timetable | _Asked:
    """Count a day, or return the whole answer where counting gives it."""
    if not problem.slots:
        return Timetable(status="solved", finish_s=problem.opens_s)
    if found := circles(problem):
        return Timetable(status="infeasible", findings=found)
    tight, least_s = tightened(problem)
    if found := overloads(tight, least_s):
        return Timetable(status="infeasible", certificate_s=least_s, findings=found)
    return _Asked(tight, least_s)


def _status(step: Step) -> Status:
    return "infeasible" if step.outcome == "infeasible" else "undecided"


def _solved(
    frame: Frame, placed: tuple[Placed, ...], least_s: int, steps: tuple[Step, ...]
) -> Timetable:
    return Timetable(
        status="solved",
        placed=placed,
        finish_s=finish_of(frame, placed),
        certificate_s=least_s,
        aims=tuple(step.aim for step in steps if step.aim is not None),
    )
