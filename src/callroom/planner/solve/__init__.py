"""The timetable, proposed: a job shop for OR-Tools CP-SAT.

Decides: where each heat of a :class:`Problem` stands, best finish first, then the longest
wait, then the changeovers; and what of it is proven.
Never does: judge a plan (that is ``check``, which shares nothing with this), read a clock
beyond the solver's own limit, or print. Importing it loads ortools, so only the process
that solves imports it.
May import: ``model``, ``planner.problem``, ``planner.timetable``, ``planner.chains``,
``planner.overload``, the question of ``planner.repair``, and ortools.
"""

from callroom.planner.solve.bound import certificate_s
from callroom.planner.solve.quick import calmest, decide, least_finish
from callroom.planner.solve.reorder import reorder
from callroom.planner.solve.search import solve

__all__ = ["calmest", "certificate_s", "decide", "least_finish", "reorder", "solve"]
