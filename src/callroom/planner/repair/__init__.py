"""A plan that met the day: what must change from now on, and who must be told.

Decides: the repair in the order published (:func:`repair`), another order where that pays
(:func:`repair_reordered`), and which thin heats are closed the night before
(:func:`night_before`). Few and small changes, the next heats most protected.
Never does: start a heat earlier than its teams were told unless all are present; move a pause;
search itself, for the solver is handed in; judge its own proposal, which ``check`` does.
May import: ``model``, the nouns of the planner, ``planner.check``; not ``planner.solve``.
"""

from callroom.planner.repair.forward import At, keep_order
from callroom.planner.repair.night_before import night_before
from callroom.planner.repair.question import Reordering, reordering
from callroom.planner.repair.repair import repair, repair_reordered
from callroom.planner.repair.to_come import Coming, Rest, rest_of

__all__ = [
    "At",
    "Coming",
    "Reordering",
    "Rest",
    "keep_order",
    "night_before",
    "reordering",
    "repair",
    "repair_reordered",
    "rest_of",
]
