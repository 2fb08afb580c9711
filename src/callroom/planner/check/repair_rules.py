"""What a repair is held against, and the facts of each; facts as in ``check.rules``."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("error", "check.repair_rewrites", "heat"),
    ("error", "check.repair_in_the_past", "heat start_at_s now_at_s"),
    ("error", "check.repair_too_early", "team heat start_at_s told_at_s"),
    ("error", "check.repair_lost_lane", "heat lane floor"),
    ("error", "check.repair_lost_floor", "heat floor"),
    ("error", "check.repair_not_ready", "heat floor start_at_s ready_at_s"),
    ("error", "check.repair_no_kit", "heat workout lanes kit"),
    ("error", "check.repair_team_lost", "team workout"),
    ("error", "check.repair_not_told", "team heat"),
    ("error", "check.repair_told_for_nothing", "team heat"),
    ("error", "check.repair_floor_doubled", "heat other floor"),
    ("warning", "check.repair_changeover_short", "heat before floor given_s needed_s"),
    ("warning", "check.repair_rest_short", "team before heat given_s needed_s"),
    ("warning", "check.repair_pause_broken", "heat pause"),
    ("warning", "check.repair_judges_short", "heat start_at_s needed limit"),
    ("error", "check.repair_revision", "revision before"),
)
