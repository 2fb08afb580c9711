"""What people are told when a plan is repaired; facts as in ``planner.rules``."""

from callroom.model.catalogue import Catalogue

RULES = Catalogue(
    ("note", "tell.heat_later", "heat by_s was_at_s new_at_s floor"),
    ("note", "tell.heat_earlier", "heat by_s was_at_s new_at_s floor"),
    ("note", "tell.heat_floor", "heat floor new_at_s"),
    ("note", "tell.team_lane", "team heat lane"),
    ("note", "tell.team_heat", "team workout was heat new_at_s floor lane"),
    ("note", "tell.lane_empty", "team heat floor lane"),
    ("note", "tell.new_heat", "heat new_at_s floor teams"),
    ("note", "tell.heat_closed", "heat floor new_at_s"),
    ("warning", "tell.no_room", "team workout"),
)
