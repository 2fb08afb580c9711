"""What is said of changes by hand: what was done, and why something cannot be."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    # What was done.
    ("note", "touch.moved", "heat start_at_s"),
    ("note", "touch.moved_floor", "heat floor start_at_s"),
    ("note", "touch.moved_block", "heat start_at_s"),
    ("note", "touch.moved_rest", "heat start_at_s"),
    ("note", "touch.swapped", "heat other_heat"),
    ("note", "touch.placed", "team heat lane"),
    ("note", "touch.exchanged", "team other_team"),
    ("note", "touch.locked_now", "heat"),
    ("note", "touch.unlocked", "heat"),
    ("note", "touch.team_locked_now", "team heat"),
    ("note", "touch.team_unlocked", "team heat"),
    ("note", "touch.pinned", "name from_at_s until_at_s"),
    ("note", "touch.unpinned", "name"),
    ("note", "touch.taken", ""),
    # What cannot be.
    ("error", "touch.locked", "heat"),
    ("error", "touch.team_locked", "team heat"),
    ("error", "touch.no_heat", "given"),
    ("error", "touch.no_pause", "given"),
    ("error", "touch.no_floor", "given"),
    ("error", "touch.not_in_workout", "team workout"),
    ("error", "touch.same_heat", "heat"),
    ("error", "touch.too_few_lanes", "heat floor teams lanes"),
    ("error", "touch.pause_empty", ""),
    ("error", "touch.nothing", ""),
)
