"""Why a day cannot be done, and what would make it possible.

Decides: the plain reasons that counting gives at once (:func:`plain_reasons`), and the least
single changes that do (:func:`menu`), each verified by a timetable found with it.
Never does: change the event; search itself, for the solver is handed in.
May import: ``model``, the stages of the planner, ``planner.check``; not ``planner.solve``.
"""

from callroom.planner.why_not.menu import Decide, Line, menu
from callroom.planner.why_not.reasons import plain_reasons

__all__ = ["Decide", "Line", "menu", "plain_reasons"]
