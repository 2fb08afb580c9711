"""What may be wrong with a layout, with the facts of each; a fact in ``_mm`` is a length."""

from callroom.model.catalogue import Catalogue

EGRESS = "International Building Code, section 1005.3"

RULES = Catalogue(
    ("error", "ground.lanes_outside", "floor space over_mm fit"),
    ("error", "ground.in_lanes", "floor name"),
    ("error", "ground.floors_meet", "floor other"),
    ("error", "ground.exit_outside", "name wall_mm"),
    ("error", "ground.exit_blocked", "name blocked_by free_mm"),
    ("warning", "ground.not_laid", "floor"),
    ("warning", "ground.exit_narrow", "name width_mm least_mm"),
    ("warning", "ground.exit_unreached", "name floor walkway_mm"),
    ("warning", "ground.exits_none", ""),
    ("warning", "ground.clear_short", "floor name room_mm wanted_mm"),
    ("warning", "ground.walls_close", "floor space room_mm wanted_mm"),
    ("warning", "ground.judge_room", "floor gap_mm wanted_mm"),
    ("warning", "ground.overlap", "name other"),
    ("warning", "ground.spot_outside", "name"),
    ("warning", "ground.lane_narrow", "floor workout movement wanted_mm lane_mm"),
    ("warning", "ground.lane_short", "floor workout wanted_mm lane_mm"),
    ("warning", "ground.roof_low", "space workout movement wanted_mm roof_mm"),
    ("warning", "ground.no_anchor", "floor workout movement"),
    ("warning", "ground.stretch_short", "workout movement stretch_m free_mm"),
    ("warning", "ground.course_differs", "workout movement asked_m lap_mm laps walked_m"),
)
