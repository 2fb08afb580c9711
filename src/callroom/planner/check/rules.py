"""Every rule a plan or a timetable is held against, and the facts its sentence may use.

A fact ending in ``_at_s`` is a time of the day, counted from the day's start [s]; any other
ending in ``_s`` is a length of time [s].
"""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    # Heats and floors.
    ("error", "check.heat_named_twice", "heat times"),
    ("error", "check.unknown_workout", "heat workout"),
    ("error", "check.unknown_floor", "heat floor"),
    ("warning", "check.other_floor", "heat floor workout wanted"),
    ("error", "check.ends_before_start", "heat start_at_s end_at_s"),
    ("warning", "check.heat_too_short", "heat given_s needed_s"),
    ("error", "check.floor_doubled", "heat other floor start_at_s free_at_s"),
    ("warning", "check.changeover_short", "heat before floor given_s needed_s"),
    ("warning", "check.pause_broken", "heat pause start_at_s end_at_s from_at_s until_at_s"),
    ("warning", "check.too_early", "heat start_at_s opens_at_s"),
    ("warning", "check.too_late", "heat end_at_s finish_by_at_s"),
    ("warning", "check.odd_start", "heat start_at_s slot_s"),
    ("warning", "check.judges_short", "heat start_at_s needed limit"),
    ("warning", "check.before_release", "heat workout start_at_s release_at_s"),
    ("warning", "check.rhythm_broken", "workout division least_s most_s"),
    ("warning", "check.block_interrupted", "heat workout division floor by"),
    ("warning", "check.numbers_out_of_order", "workout"),
    # Days, waves, finals, and what all floors share.
    ("warning", "check.outside_days", "heat start_at_s end_at_s"),
    ("warning", "check.wrong_day", "heat workout day"),
    ("warning", "check.kit_short", "heat kit start_at_s needed limit"),
    ("warning", "check.pool_short", "heat pool start_at_s needed limit"),
    ("warning", "check.warm_ups_crowded", "heat start_at_s heats limit"),
    ("warning", "check.briefings_overlap", "heat other"),
    ("warning", "check.no_time_to_warm_up", "heat start_at_s needed_s"),
    ("warning", "check.wave_overlapped", "heat other"),
    ("warning", "check.final_not_last", "heat other"),
    # What was wished of single heats and teams.
    ("warning", "check.lock_time", "heat start_at_s wanted_at_s"),
    ("warning", "check.lock_floor", "heat floor wanted"),
    ("warning", "check.lock_heat", "team workout heat wanted"),
    ("warning", "check.lock_lane", "team heat lane wanted"),
    ("warning", "check.lock_without_heat", "number"),
    ("warning", "check.team_too_early", "team heat start_at_s from_at_s"),
    ("warning", "check.team_too_late", "team heat end_at_s until_at_s"),
    ("warning", "check.not_apart", "team other heat gap_s needed_s"),
    ("note", "check.wish_names_no_team", "team"),
    # Lanes and who stands in them.
    ("error", "check.lane_doubled", "heat lane teams"),
    ("error", "check.unknown_lane", "heat lane floor first last"),
    ("warning", "check.held_lane_used", "heat lane"),
    ("warning", "check.heat_empty", "heat"),
    ("error", "check.unknown_team", "heat team"),
    ("error", "check.team_twice", "team workout times"),
    ("error", "check.team_missing", "team workout"),
    ("warning", "check.mixed_heat", "heat divisions"),
    ("warning", "check.thin_heat", "heat teams least"),
    ("note", "check.thin_heat_unavoidable", "heat teams least"),
    ("warning", "check.leaders_not_last", "heat workout division team"),
    # A team's day.
    ("error", "check.team_in_two_places", "team heat other"),
    ("warning", "check.rest_short", "team before heat given_s needed_s"),
    ("warning", "check.rest_not_promised", "division before heat given_s needed_s"),
    ("warning", "check.workouts_out_of_order", "team before heat"),
    ("warning", "check.long_wait", "team before heat wait_s teams long_s"),
    # What the plan says of itself.
    ("error", "check.revision_negative", "revision"),
    ("warning", "check.made_from_other_data", "revision"),
    ("warning", "check.pauses_differ", "revision"),
    ("warning", "check.finish_wrong", "said_at_s true_at_s"),
    ("error", "check.bound_wrong", "said_at_s true_at_s"),
    # A timetable against its question.
    ("error", "check.not_placed_once", "heat times"),
    ("error", "check.floor_not_allowed", "heat floor"),
    ("error", "check.link_broken", "heat before"),
    ("error", "check.ranks_out_of_order", "workout division"),
    ("error", "check.slot_hours_broken", "heat start_at_s end_at_s"),
)
