"""Why a day cannot be planned, and what is refused as a question, with the facts of each.

A fact ending in ``_at_s`` is a time of the day, counted from the day's start [s]; any other
ending in ``_s`` is a length of time [s].
"""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    # Why there is no timetable.
    ("error", "planner.links_in_a_circle", "heats"),
    ("error", "planner.heat_fits_nowhere", "workout division length_s longest_open_s"),
    ("error", "planner.floor_overloaded", "floor heats work_s open_s over_s"),
    ("error", "planner.judges_short", "workout division needed limit"),
    ("error", "planner.judges_overloaded", "limit work_s open_s least"),
    ("error", "planner.pool_short", "workout division pool needed limit"),
    ("error", "planner.hours_missed", "workout division closes_at_s earliest_at_s"),
    ("error", "planner.chain_too_long", "workout division finish_at_s closes_at_s"),
    ("error", "planner.nothing_finishes_before", "finish_at_s closes_at_s over_s"),
    ("error", "planner.finish_by_too_early", "finish_at_s closes_at_s over_s"),
    ("error", "planner.finish_by_maybe_too_early", "finish_at_s closes_at_s over_s"),
    ("error", "planner.wishes_conflict", "heats"),
    ("error", "planner.no_answer_in_time", "heats"),
    # Refused questions.
    ("error", "planner.not_whole", "where subject given"),
    ("error", "planner.break_backwards", "subject end_at_s"),
    ("error", "planner.changeovers_fall", "same_s division_s workout_s"),
    ("error", "planner.slot_empty", "subject length_s judges"),
    ("error", "planner.grid_too_fine", "grid_s"),
    ("error", "planner.rhythm_needs_blocks", "shape"),
    ("error", "planner.named_twice", "kind subject"),
    ("error", "planner.unknown", "kind subject"),
    ("error", "planner.too_few_lanes", "subject teams lanes"),
    ("error", "planner.no_lanes", "teams lanes"),
    ("error", "planner.lock_no_such_heat", "subject workout heat heats"),
    ("error", "planner.lock_heat_full", "subject workout heat"),
    ("error", "planner.apart_impossible", "subject other"),
)
