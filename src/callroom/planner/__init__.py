"""The day as a plan: heats composed, timed, given lanes, and judged.

Decides: which team is in which heat and lane and when, and (separately, in ``check``)
whether a plan keeps every rule. ``solve`` proposes, ``check`` judges, and they share
nothing but the nouns of question and answer. ``solve`` and its solver are not imported
here: they load only when asked for.
Never does: read a clock or a file; forecasts arrive as values.
May import: ``model``; ``solve`` alone imports ortools.

The stages, each a pure function whose result is the next one's input: ``compose`` (teams to
heats), ``pose`` (the timetable as a question), ``solve`` (its answer), ``plan_of`` (floors,
times and lanes on one sheet), ``check_plan``. :func:`plan_day` runs them all.
"""

from callroom.planner.check import check_loadings, check_plan, check_rota, check_timetable
from callroom.planner.compose import compose
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.plan import plan_of
from callroom.planner.plan_day import PlanProgress, PlanReply, PlanRequest, plan_day
from callroom.planner.pose import pose
from callroom.planner.problem import (
    BadProblem,
    Break,
    Changeover,
    Dip,
    Either,
    Link,
    Need,
    Pool,
    Problem,
    Slot,
)
from callroom.planner.timetable import Aim, Incumbent, Limits, Placed, Timetable

__all__ = [
    "Aim",
    "BadProblem",
    "Break",
    "Changeover",
    "Dip",
    "Either",
    "HeatTeams",
    "Incumbent",
    "Limits",
    "Link",
    "Need",
    "Placed",
    "PlanProgress",
    "PlanReply",
    "PlanRequest",
    "Pool",
    "Problem",
    "Slot",
    "Timetable",
    "check_loadings",
    "check_plan",
    "check_rota",
    "check_timetable",
    "compose",
    "plan_day",
    "plan_of",
    "pose",
]
