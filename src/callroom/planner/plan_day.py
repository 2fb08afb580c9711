"""A whole day planned: heats composed, timed, given lanes, and judged.

The question and the answer are plain values that go through JSON unchanged, so that the
search can run in a process of its own.
"""

from collections.abc import Callable
from typing import NamedTuple

import msgspec
from msgspec.structs import replace

from callroom.model.errors import CallroomError
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Plan
from callroom.model.team import Team
from callroom.planner.check import check_plan
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.plan import plan_of
from callroom.planner.problem import Problem
from callroom.planner.questions import questions
from callroom.planner.timetable import (
    Aim,
    AimName,
    Incumbent,
    Limits,
    OnIncumbent,
    Placed,
    Status,
    Timetable,
)

Solver = Callable[[Problem, Limits, OnIncumbent], Timetable]
First = Callable[[Problem, Limits], Timetable]
FIRST_SHARE = 0.1
"""Of the limits, what goes into a first plan of each of several days."""


class PlanRequest(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A day to be planned: the event, the teams still in it, and what to write on the plan."""

    event: Event
    teams: tuple[Team, ...]
    revision: int = 1
    inputs_digest: str = ""
    limits: Limits = Limits()


class PlanProgress(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A whole plan met on the way, which may be kept if the search is stopped.

    `value_s` is what the plan reaches in the aim pursued, `bound_s` what is known to be
    out of reach of any plan [s]. Of an event of several days both are about the one that is
    being sought, the `day`-th; the plan is that of all of them.
    """

    aim: AimName
    value_s: int
    bound_s: int
    plan: Plan
    day: int | None = None


class PlanReply(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The day planned, or why not.

    Attributes
    ----------
    status
        ``solved``: there is a plan; ``infeasible``: there is none; ``undecided``: the
        limit came first.
    certificate_s
        No plan of these heats finishes before this, interleaved or not [s from the start].
    aims
        What was reached and proven, day after day.
    findings
        Without a plan: why. With one: what ``check`` has to say of it.
    """

    status: Status
    plan: Plan | None = None
    certificate_s: int = 0
    aims: tuple[Aim, ...] = ()
    findings: tuple[Finding, ...] = ()


def _tell_nobody(_progress: PlanProgress) -> None:
    """Take no notice of what is met on the way."""


def plan_day(
    request: PlanRequest,
    solver: Solver,
    on_progress: Callable[[PlanProgress], None] = _tell_nobody,
    *,
    first: First | None = None,
) -> PlanReply:
    """Plan a day, or the days of an event one after the other.

    Parameters
    ----------
    request
        The event and its teams, without those withdrawn.
    solver
        ``callroom.planner.solve.solve``, which is handed in so that only the process that
        searches loads it.
    on_progress
        Told of each better plan while the search runs.
    first
        ``callroom.planner.solve.decide``. With it each of several days has some plan before
        any is made better: there is a whole one to stop at from early on, and a day for which
        the limit comes too soon has one all the same.
    """
    event, teams = request.event, request.teams
    try:
        heats, problems = questions(event, teams)
    except CallroomError as refused:
        return PlanReply(status="infeasible", findings=(refused.finding(),))
    sheet = _Sheet(request, heats, len(problems), on_progress)
    limits = sheet.limits(1.0)
    if first is not None and len(problems) > 1:
        limits = sheet.limits(1.0 - FIRST_SHARE)
        for day, problem in enumerate(problems):
            sheet.begin(day, first(problem, sheet.limits(FIRST_SHARE)))
    answers = []
    for day, problem in enumerate(problems):
        answer = sheet.keep(day, solver(problem, limits, sheet.teller(day)))
        if answer.status != "solved":
            return PlanReply(
                status=answer.status, certificate_s=answer.certificate_s, findings=answer.findings
            )
        answers.append(answer)
    plan = sheet.plan()
    return PlanReply(
        status="solved",
        plan=plan,
        certificate_s=max(answer.certificate_s for answer in answers),
        aims=tuple(aim for answer in answers for aim in answer.aims),
        findings=check_plan(event, teams, plan),
    )


class _Best(NamedTuple):
    """The best timetable of a day so far, and what no timetable of it ends before [s]."""

    placed: tuple[Placed, ...]
    finish_s: int
    bound_s: int


class _Sheet:
    """The plan as it grows: the best timetable of each day so far, and who is told of it.

    A plan is told only when every day has a timetable, and none ends later than in the one
    told before.
    """

    def __init__(
        self,
        request: PlanRequest,
        heats: tuple[HeatTeams, ...],
        days: int,
        on_progress: Callable[[PlanProgress], None],
    ) -> None:
        self._request, self._heats, self._on_progress = request, heats, on_progress
        self._first: list[Timetable | None] = [None] * days
        self._best: list[_Best | None] = [None] * days

    def limits(self, share: float) -> Limits:
        """Return the limits of one day: an even part of a share of what there is."""
        given, part = self._request.limits, share / len(self._best)
        wall_s = None if given.wall_s is None else given.wall_s * part
        return replace(given, work=given.work * part, wall_s=wall_s)

    def begin(self, day: int, found: Timetable) -> None:
        """Take a first timetable of a day, if there is one, and tell of the plan if it is whole."""
        if found.finish_s is not None:
            self._first[day] = found
            self._best[day] = _Best(found.placed, found.finish_s, found.certificate_s)
            self._tell(day, "finish", found.finish_s, found.certificate_s)

    def teller(self, day: int) -> OnIncumbent:
        """Return whom a solver tells of the timetables of a day."""

        def tell(met: Incumbent) -> None:
            best, bound_s = self._best[day], met.bound_s
            if best is not None:
                if best.finish_s < met.finish_s:
                    return
                if met.aim != "finish":
                    bound_s = best.bound_s
            self._best[day] = _Best(met.placed, met.finish_s, bound_s)
            self._tell(day, met.aim, met.value_s, met.bound_s)

        return tell

    def keep(self, day: int, answer: Timetable) -> Timetable:
        """Settle a day; where the limit came too soon its first timetable stands."""
        first = self._first[day]
        if first is not None and answer.status != "infeasible":
            answer = _no_later(first, answer)
        if answer.finish_s is not None:
            finish = answer.aim("finish")
            bound_s = answer.certificate_s if finish is None else finish.bound_s
            self._best[day] = _Best(answer.placed, answer.finish_s, bound_s)
        return answer

    def plan(self) -> Plan:
        """Return the plan of all days that have a timetable."""
        days, last = [best for best in self._best if best is not None], self._best[-1]
        blank = Plan(
            revision=self._request.revision,
            inputs_digest=self._request.inputs_digest,
            heats=(),
            bound_s=None if last is None else last.bound_s,
        )
        placed = tuple(place for best in days for place in best.placed)
        return plan_of(self._request.event, self._heats, placed, blank)

    def _tell(self, day: int, aim: AimName, value_s: int, bound_s: int) -> None:
        if None not in self._best:
            self._on_progress(
                PlanProgress(
                    aim=aim,
                    value_s=value_s,
                    bound_s=bound_s,
                    plan=self.plan(),
                    day=day + 1 if len(self._best) > 1 else None,
                )
            )


def _no_later(first: Timetable, answer: Timetable) -> Timetable:
    """Return an answer, or the first timetable if that is over earlier or the only one."""
    if first.finish_s is None or (answer.finish_s or first.finish_s + 1) <= first.finish_s:
        return answer
    finish = answer.aim("finish")
    aim = Aim(
        name="finish",
        shape="blocks" if finish is None else finish.shape,
        value_s=first.finish_s,
        bound_s=first.certificate_s if finish is None else min(finish.bound_s, first.finish_s),
    )
    return replace(first, aims=(aim,))
