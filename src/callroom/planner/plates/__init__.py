"""Kit, plates and changeovers: whether there is enough, what is on every bar, who changes it.

Decides: for a planned day and its kit list, the loading of every bar in every heat, exactly
or the nearest there is; what is short and what to borrow; what comes off and goes on between
heats, how long that takes and with whom.
Never does: move a heat or change a published load. ``check.check_loadings`` judges it.
May import: ``model`` and numpy. Movements arrive as values.

The stages: ``bar_days`` (which loads are wanted), ``make_loadings`` (what is on the bars),
``plate_findings`` and ``loadings_of``, ``changeovers`` and ``hurried``, and
``longer_changeovers`` to plan again with; ``kit_findings`` counts everything else.
"""

from callroom.planner.plates.changeovers import (
    Change,
    Changeover,
    ChangeTimes,
    changeovers,
    hurried,
)
from callroom.planner.plates.kit import kit_findings, lane_findings
from callroom.planner.plates.lacks import Lack, lacks
from callroom.planner.plates.longer import longer_changeovers
from callroom.planner.plates.make_loadings import make_loadings
from callroom.planner.plates.pose import BarDay, bar_days
from callroom.planner.plates.problem import (
    Loaded,
    Loadings,
    PlateProblem,
    Stock,
    Want,
    stock_of,
)
from callroom.planner.plates.report import loadings_of, plate_findings
from callroom.planner.plates.rules import RULES
from callroom.planner.plates.used import KitUsed, kit_used

__all__ = [
    "RULES",
    "BarDay",
    "Change",
    "ChangeTimes",
    "Changeover",
    "KitUsed",
    "Lack",
    "Loaded",
    "Loadings",
    "PlateProblem",
    "Stock",
    "Want",
    "bar_days",
    "changeovers",
    "hurried",
    "kit_findings",
    "kit_used",
    "lacks",
    "lane_findings",
    "loadings_of",
    "longer_changeovers",
    "make_loadings",
    "plate_findings",
    "stock_of",
]
