"""The workout builder: a workout as it is being typed, before it is one.

Decides: how a draft is posted, changed, read as a workout and written from one, and which
field a fault concerns.
Never does: judge a workout; ``model.checking`` does, and ``actions`` save it.
May import: ``model``, ``actions``, ``standards``, ``views``, ``bootstrap``, ``web.pages``
and the reading of typed texts in ``web.forms``.
"""

from callroom.web.builder.deeds import Deed, do, read_deed
from callroom.web.builder.draft import Draft, Node, blank, next_workout_id, nodes, posted_root
from callroom.web.builder.faults import Fault, faults_of
from callroom.web.builder.read import Reading, read_workout
from callroom.web.builder.written import written

__all__ = [
    "Deed",
    "Draft",
    "Fault",
    "Node",
    "Reading",
    "blank",
    "do",
    "faults_of",
    "next_workout_id",
    "nodes",
    "posted_root",
    "read_deed",
    "read_workout",
    "written",
]
