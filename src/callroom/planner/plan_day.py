"""A whole day planned: heats composed, timed, given lanes, and judged.

The question and the answer are plain values that go through JSON unchanged, so that the
search can run in a process of its own.
"""

from collections.abc import Callable

import msgspec

from callroom.model.errors import CallroomError
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Plan
from callroom.model.team import Team
from callroom.planner.check import check_plan
from callroom.planner.compose import compose
from callroom.planner.plan import plan_of
from callroom.planner.pose import pose
from callroom.planner.problem import Problem
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
    finish_bound_s: int | None = None

    def to_plan(placed: tuple[Placed, ...]) -> Plan:
        blank = Plan(
            revision=request.revision,
            inputs_digest=request.inputs_digest,
            heats=(),
            bound_s=finish_bound_s,
        )
        return plan_of(event, heats, placed, blank)

    def tell(met: Incumbent) -> None:
        nonlocal finish_bound_s
        if met.aim == "finish":
            finish_bound_s = met.bound_s
        on_progress(
            PlanProgress(
                aim=met.aim, value_s=met.value_s, bound_s=met.bound_s, plan=to_plan(met.placed)
            )
        )

    try:
        heats = compose(event, teams)
        problem = pose(event, heats)
    except CallroomError as refused:
        return PlanReply(status="infeasible", findings=(refused.finding(),))
    answer = solver(problem, request.limits, tell)
    if answer.status != "solved":
        return PlanReply(
            status=answer.status, certificate_s=answer.certificate_s, findings=answer.findings
        )
    finish = answer.aim("finish")
    finish_bound_s = answer.certificate_s if finish is None else finish.bound_s
    plan = to_plan(answer.placed)
    return PlanReply(
        status="solved",
        plan=plan,
        certificate_s=answer.certificate_s,
        aims=answer.aims,
        findings=check_plan(event, teams, plan),
    )
