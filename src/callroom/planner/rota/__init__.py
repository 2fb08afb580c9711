"""The rota: who of the crew judges which lane and holds which post, when.

Decides: for a planned day and its crew, who does what; what is short and when; a sheet for
each person; and, when somebody drops out, the fewest changes.
Never does: move a heat. It works heat by heat; where hands are scarce a search may be handed
in (``planner.solve.crew``), which alone imports ortools. ``check.check_rota`` judges it.
May import: ``model``, ``planner.timetable`` and numpy.

The stages: ``pose_rota`` (shifts and hands), ``make_rota`` (its answer), ``shortages``,
``remedies``, ``sheets``; ``repair_rota`` on the day, ``carry_over`` when the plan has changed.
"""

from callroom.planner.rota.carry import carry_over
from callroom.planner.rota.plan_rota import CrewSolver, make_rota
from callroom.planner.rota.pose import pose_rota
from callroom.planner.rota.problem import Debt, Hand, RotaProblem
from callroom.planner.rota.remedies import remedies
from callroom.planner.rota.repair import MendSolver, Move, RotaRepair, repair_rota
from callroom.planner.rota.rules import RULES
from callroom.planner.rota.sheets import PersonSheet, SheetLine, sheets
from callroom.planner.rota.shortage import shortages

__all__ = [
    "RULES",
    "CrewSolver",
    "Debt",
    "Hand",
    "MendSolver",
    "Move",
    "PersonSheet",
    "RotaProblem",
    "RotaRepair",
    "SheetLine",
    "carry_over",
    "make_rota",
    "pose_rota",
    "remedies",
    "repair_rota",
    "sheets",
    "shortages",
]
