"""What is said of prices, differences and bounds; facts as in ``planner.rules``."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    # The price of one change.
    ("note", "price.earlier", "by_s finish_at_s"),
    ("note", "price.later", "by_s finish_at_s"),
    ("note", "price.same", "finish_at_s"),
    ("note", "price.about", "finish_at_s bound_at_s"),
    ("note", "price.impossible", ""),
    ("note", "price.undecided", ""),
    # Two plans.
    ("note", "compare.finish_earlier", "by_s finish_at_s"),
    ("note", "compare.finish_later", "by_s finish_at_s"),
    ("note", "compare.finish_same", "finish_at_s"),
    ("note", "compare.longest_wait", "before_s after_s"),
    ("note", "compare.waits", "longer shorter most_longer_s"),
    ("note", "compare.moved", "heats teams most_s"),
    ("note", "compare.other_company", "teams"),
    ("note", "compare.spare_lanes", "before after"),
    ("note", "compare.nothing", ""),
    # Why nothing is over earlier.
    ("note", "certificate.floor", "floor heats work_s changeovers_s from_at_s finish_at_s"),
    ("note", "certificate.chain", "workout division finish_at_s"),
    ("note", "certificate.stretches", "floor heats work_s changeovers_s from_at_s finish_at_s"),
    ("note", "certificate.choice", "finish_at_s"),
    ("note", "certificate.reached", "finish_at_s"),
    ("note", "certificate.above", "finish_at_s over_s"),
)
