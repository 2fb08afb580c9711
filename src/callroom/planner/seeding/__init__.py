"""Seeding: teams to heats and heats to lanes by published patterns.

Decides: the order of entries, which ranks share a heat, the running order of the heats, and
who gets which lane; every draw is recorded by its seed and can be drawn again by hand.
Never does: form heats across divisions (``compose``) or give times (``solve``).
May import: ``model``.
"""

from callroom.planner.seeding.draw import drawn
from callroom.planner.seeding.entry import entry_order
from callroom.planner.seeding.heats import NoRoom, circle, seeded_heats, to_and_fro
from callroom.planner.seeding.lanes import (
    LANE_GROUPS,
    LaneGroups,
    centre_out,
    lane_groups,
    lanes_for,
)

__all__ = [
    "LANE_GROUPS",
    "LaneGroups",
    "NoRoom",
    "centre_out",
    "circle",
    "drawn",
    "entry_order",
    "lane_groups",
    "lanes_for",
    "seeded_heats",
    "to_and_fro",
]
