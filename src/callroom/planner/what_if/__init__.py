"""One thing changed about a day, and how that is said.

Decides: which wishes can be loosened, by how much, and what event that makes.
Never does: solve anything.
May import: ``model``.
"""

from callroom.planner.what_if.knobs import Knob, judges_per_lane, knobs, more_judges, widen
from callroom.planner.what_if.said import said

__all__ = ["Knob", "judges_per_lane", "knobs", "more_judges", "said", "widen"]
