"""What the solver's process can be asked, and what it tells: one function for each question.

Everything here loads when it is asked for, and only in that process: the solver brings a large
library with it.
"""

# ruff: noqa: PLC0415 - see above

from collections.abc import Callable, Mapping
from types import MappingProxyType

import msgspec

from callroom.model import CallroomError, Event, Finding, Plan, Team
from callroom.planner import Limits, PlanRequest
from callroom.planner.day_now import DayNow

Tell = Callable[[str, msgspec.Struct], None]


class Proven(msgspec.Struct, frozen=True, kw_only=True):
    """No plan of these heats is over before `certificate_s` [s from the day's start]."""

    certificate_s: int


class Because(msgspec.Struct, frozen=True, kw_only=True):
    """What carries the certificate, and how near the plan comes, in findings."""

    findings: tuple[Finding, ...]


class DayAsked(msgspec.Struct, frozen=True, kw_only=True):
    """A day with the teams still in it; each single try may take so much work and time [s]."""

    event: Event
    teams: tuple[Team, ...]
    work: int = 1
    wall_s: int | None = None
    workers: int = 1


def plan(data: bytes, tell: Tell) -> None:
    """Plan a day: tell ``progress`` of each better plan, then the ``reply``."""
    from callroom.planner import plan_day
    from callroom.planner.solve import decide, solve

    request = msgspec.json.decode(data, type=PlanRequest)
    tell("reply", plan_day(request, solve, lambda met: tell("progress", met), first=decide))


def search(data: bytes, tell: Tell) -> None:
    """Plan a day; if it cannot be done, go on to the menu of changes with which it can.

    Tells ``proven`` first, then what ``plan`` tells, then ``because`` of a plan's certificate,
    or without a plan each ``line`` of the menu as it is known.
    """
    from callroom.planner import plan_day
    from callroom.planner.overload import circles
    from callroom.planner.prices import certificate
    from callroom.planner.questions import questions
    from callroom.planner.solve import certificate_s, decide, solve
    from callroom.planner.why_not import menu

    request = msgspec.json.decode(data, type=PlanRequest)
    try:
        # What is said of the finish is said of the last day.
        problem = questions(request.event, request.teams).problems[-1]
    except CallroomError:
        problem = None
    if problem is not None and not circles(problem):
        tell("proven", Proven(certificate_s=certificate_s(problem)))
    reply = plan_day(request, solve, lambda met: tell("progress", met), first=decide)
    tell("reply", reply)
    if reply.plan is not None and problem is not None:
        found = certificate(problem, reply.certificate_s, reply.plan.finish_s)
        tell("because", Because(findings=found))
    elif reply.plan is None:
        menu(request.event, request.teams, decide, lambda line: tell("line", line))


def prices(data: bytes, tell: Tell) -> None:
    """Tell each ``price`` of a day as it is known, then the ``prices``."""
    from callroom.planner.prices import price_list
    from callroom.planner.solve import least_finish

    asked = msgspec.json.decode(data, type=DayAsked)
    limits = _limits(asked)
    found = price_list(
        asked.event, asked.teams, least_finish, lambda price: tell("price", price), limits
    )
    tell("prices", found)


def choices(data: bytes, tell: Tell) -> None:
    """Tell every ``choice`` of a few plans of a day, the earliest finish first."""
    from callroom.planner.prices import frontier
    from callroom.planner.solve import calmest, solve

    asked = msgspec.json.decode(data, type=DayAsked)
    for option in frontier(asked.event, asked.teams, solve, calmest, _limits(asked)):
        tell("choice", option)


def _limits(asked: DayAsked) -> Limits:
    return Limits(work=asked.work, wall_s=asked.wall_s, workers=asked.workers)


def rota(data: bytes, tell: Tell) -> None:
    """Tell the ``rota`` of a day, searched for where hands are scarce."""
    from callroom.planner.rota import RotaProblem, make_rota
    from callroom.planner.solve.crew import who_works

    tell("rota", make_rota(msgspec.json.decode(data, type=RotaProblem), who_works))


class RepairAsked(msgspec.Struct, frozen=True, kw_only=True):
    """A running day, of which another order may cost clearly less."""

    event: Event
    teams: tuple[Team, ...]
    plan: Plan
    now: DayNow


def reorder(data: bytes, tell: Tell) -> None:
    """Tell a ``repaired`` day with some heats in other places, if that pays."""
    from callroom.planner.repair import repair_reordered
    from callroom.planner.solve import reorder as search_order

    asked = msgspec.json.decode(data, type=RepairAsked)
    found = repair_reordered(asked.event, asked.teams, asked.plan, asked.now, reorder=search_order)
    if found is not None:
        tell("repaired", found)


HANDLERS: Mapping[str, Callable[[bytes, Tell], None]] = MappingProxyType(
    {
        "plan": plan,
        "search": search,
        "prices": prices,
        "choices": choices,
        "rota": rota,
        "reorder": reorder,
    }
)
