"""What a line of the menu comes to, with the facts of each; facts as in ``planner.rules``."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("note", "why_not.does_and_less_does_not", "finish_at_s"),
    ("note", "why_not.possible", "finish_at_s"),
    ("note", "why_not.does", "finish_at_s"),
    ("note", "why_not.in_vain", ""),
    ("note", "why_not.undecided", ""),
)
