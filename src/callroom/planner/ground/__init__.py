"""The floor to scale: lanes laid out from measured sizes, and what is wrong with a layout.

Decides: where lanes, things and ways out begin, what a lane must hold for a workout, and
which clearances, walkways, exits and courses fall short.
Never does: draw; decide about safety. Clearances are common practice without a source but
where a rule names one; local fire code, the venue and the insurer decide.
May import: ``model``, and what kit a lane needs from ``planner.plates``.
"""

from callroom.planner.ground.check import check_ground
from callroom.planner.ground.exits import free_zone
from callroom.planner.ground.limits import CLEAR_MM, JUDGE_MM, WALKWAY_MM
from callroom.planner.ground.rules import RULES
from callroom.planner.ground.start import Measured, start_ground
from callroom.planner.ground.work import LaneWork, PlacedStation, Station, Way, lane_work, placed

__all__ = [
    "CLEAR_MM",
    "JUDGE_MM",
    "RULES",
    "WALKWAY_MM",
    "LaneWork",
    "Measured",
    "PlacedStation",
    "Station",
    "Way",
    "check_ground",
    "free_zone",
    "lane_work",
    "placed",
    "start_ground",
]
