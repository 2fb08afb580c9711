"""What the rota has to say of a day's crew.

A fact ending in ``_at_s`` is a time of the day, counted from the day's start [s].
"""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("warning", "rota.short", "post from_at_s until_at_s missing wanted able"),
    ("warning", "rota.nobody_can", "post wanted"),
    ("warning", "rota.debt_left", "team heats left"),
    ("warning", "rota.debtor_unknown", "team heats"),
    ("note", "rota.more_people_would_do", "post people"),
    ("note", "rota.longer_rows_would_help", "heats left"),
    ("note", "rota.idle", "person"),
)
