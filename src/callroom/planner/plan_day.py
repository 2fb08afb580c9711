"""A whole day planned: heats composed, timed, given lanes, and judged.

The question and the answer are plain values that go through JSON unchanged, so that the
search can run in a process of its own.
"""

from collections.abc import Callable

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
    out of reach of any plan [s].
    """

    aim: AimName
    value_s: int
    bound_s: int
    plan: Plan


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
) -> PlanReply:
    """Plan a day.

    Parameters
    ----------
    request
        The event and its teams, without those withdrawn.
    solver
        ``callroom.planner.solve.solve``, which is handed in so that only the process that
        searches loads it.
    on_progress
        Told of each better plan while the search runs.
    """
    event, teams = request.event, request.teams
    try:
        heats, problems = questions(event, teams)
    except CallroomError as refused:
        return PlanReply(status="infeasible", findings=(refused.finding(),))
    sheet = _Sheet(request, heats, len(problems), on_progress)
    answers = []
    for problem in problems:
        answer = solver(problem, sheet.limits(), sheet.tell)
        if answer.status != "solved":
            return PlanReply(
                status=answer.status, certificate_s=answer.certificate_s, findings=answer.findings
            )
        sheet.keep(answer)
        answers.append(answer)
    plan = sheet.plan(())
    return PlanReply(
        status="solved",
        plan=plan,
        certificate_s=max(answer.certificate_s for answer in answers),
        aims=tuple(aim for answer in answers for aim in answer.aims),
        findings=check_plan(event, teams, plan),
    )


class _Sheet:
    """The plan as it grows day by day, and who is told of it.

    While the last day is sought the days before it are settled, so every plan met then is whole;
    before that nothing could be kept, and nobody is told.
    """

    def __init__(
        self,
        request: PlanRequest,
        heats: tuple[HeatTeams, ...],
        days: int,
        on_progress: Callable[[PlanProgress], None],
    ) -> None:
        self._request, self._heats, self._left = request, heats, days
        self._share, self._on_progress = days, on_progress
        self._placed: tuple[Placed, ...] = ()
        self._bound_s: int | None = None

    def limits(self) -> Limits:
        """Return the limits of one day: an even share of what there is."""
        given = self._request.limits
        wall_s = None if given.wall_s is None else given.wall_s / self._share
        return replace(given, work=given.work / self._share, wall_s=wall_s)

    def tell(self, met: Incumbent) -> None:
        """Tell of a timetable of the day that is being sought."""
        if self._left > 1:
            return
        if met.aim == "finish":
            self._bound_s = met.bound_s
        self._on_progress(
            PlanProgress(
                aim=met.aim, value_s=met.value_s, bound_s=met.bound_s, plan=self.plan(met.placed)
            )
        )

    def keep(self, answer: Timetable) -> None:
        """Settle a day."""
        self._placed += answer.placed
        self._left -= 1
        finish = answer.aim("finish")
        self._bound_s = answer.certificate_s if finish is None else finish.bound_s

    def plan(self, placed: tuple[Placed, ...]) -> Plan:
        """Return the plan of the days settled and of one more timetable."""
        blank = Plan(
            revision=self._request.revision,
            inputs_digest=self._request.inputs_digest,
            heats=(),
            bound_s=self._bound_s,
        )
        return plan_of(self._request.event, self._heats, (*self._placed, *placed), blank)
