"""What the kit has to say of a planned day: what is short, and what does not fit its time."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("error", "plates.unreachable", "heat lane station wanted below above"),
    ("warning", "plates.not_together", "heat lane station wanted instead"),
    ("warning", "plates.bar_missing", "heat lane station"),
    ("warning", "plates.lack", "kind mass pieces heat"),
    ("warning", "plates.changeover_needs_people", "heat takes_s given_s people needed"),
    ("warning", "plates.changeover_too_long", "heat takes_s given_s longest_s"),
    ("warning", "kit.short", "item mass heat needed there"),
    ("error", "kit.lane_short", "workout item mass division needed there"),
    ("note", "kit.not_listed", "item heat needed"),
)
