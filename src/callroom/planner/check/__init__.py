"""The judge of every plan, solved or made by hand, in plain Python.

Decides: whether a plan keeps the event's wishes and whether it is possible at all. What is
impossible (two heats on one floor at once, a team in two places, a lane nobody painted) is
an error; what only breaks a wish is a warning; what the numbers make unavoidable, a note.
Never does: mend a plan. It shares no code with ``solve``, so that the two cannot be wrong
together, and works everything out again from the event.
May import: ``model``, ``planner.problem`` and ``planner.timetable`` (the nouns of question
and answer), ``planner.day_now``, ``planner.digest``.
"""

from callroom.planner.check.plan import check_plan
from callroom.planner.check.plates import check_loadings
from callroom.planner.check.repair import check_repair
from callroom.planner.check.rota import check_rota
from callroom.planner.check.timetable import check_timetable

__all__ = ["check_loadings", "check_plan", "check_repair", "check_rota", "check_timetable"]
