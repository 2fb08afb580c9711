"""How much room is wanted. Common practice, no source, except where one is named."""

JUDGE_MM = 1_000
"""Between two lanes, so that a judge stands beside the work and not in it."""

CLEAR_MM = 1_000
"""From the lanes to a wall, a table or anything else that does not give way."""

SPECTATORS_MM = 2_000
"""From the lanes to where people stand who do not watch out for kit."""

WALKWAY_MM = 1_200
"""The narrowest way along which people pass each other, or carry somebody out."""

DOOR_FREE_MM = 2_000
"""In front of a way out, as wide as it is, nothing stands."""

DOOR_LEAST_MM = 813
"""The clear width of a door: 32 inches. International Building Code, section 1005.3 and its
guide on means of egress; local fire code decides."""

LAP_PERMILLE = 10
"""How far a course measured with a wheel may be from what is asked."""

RIG_REACH_MM = 600
"""How near a rig or a wall with targets stands to the head of the lanes."""
