"""The changes of a day in words, with the facts of each; facts as in ``planner.rules``."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("note", "what_if.finish_later", "by_s finish_by_at_s"),
    ("note", "what_if.start_earlier", "by_s first_at_s"),
    ("note", "what_if.rest_less", "by_s rest_s"),
    ("note", "what_if.rest_more", "by_s rest_s"),
    ("note", "what_if.pause_shorter", "pause by_s length_s"),
    ("note", "what_if.judges_more", "more judges"),
    ("note", "what_if.judges_fewer", "fewer judges"),
    ("note", "what_if.changeovers_faster", "by_s same_s division_s workout_s"),
    ("note", "what_if.order_kept", ""),
    ("note", "what_if.order_neighbours", ""),
    ("note", "what_if.order_reseeded", ""),
    ("note", "what_if.mixed_heats", ""),
    ("note", "what_if.pure_heats", ""),
    ("note", "what_if.any_order", ""),
    ("note", "what_if.listed_order", ""),
    ("note", "what_if.take_turns", ""),
    ("note", "what_if.whole_blocks", ""),
    ("note", "what_if.finals_anywhere", ""),
    ("note", "what_if.waves_given_up", ""),
    ("note", "what_if.day_longer", "day by_s closes_at_s"),
    ("note", "what_if.kit_more", "kit more count"),
    ("note", "what_if.lock_lifted", "number"),
    ("note", "what_if.hours_lifted", "number"),
    ("note", "what_if.apart_lifted", "number"),
    ("note", "what_if.starts", "slot_s"),
    ("note", "what_if.lanes_more", "floor more lanes"),
    ("note", "what_if.lanes_and_judges_more", "floor more lanes judges"),
    ("note", "what_if.lanes_held", "floor held lanes"),
)
