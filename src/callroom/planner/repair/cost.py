"""What a change asks of people.

For every heat that starts at another time than its teams were told: minutes moved, plus a
fixed amount for having to be told, times its teams, times a weight. The next heats weigh
most, because their teams are warming up or on their way.
"""

from collections.abc import Mapping

from callroom.planner.repair.forward import At
from callroom.planner.repair.to_come import Coming, Rest

TOLD_MIN = 5
"""Being told something new is as bad as waiting five minutes (common practice, no source)."""
CALLED_WEIGHT = 10
_SOON = ((30 * 60, 4), (90 * 60, 2))


def weight(rest: Rest, heat: Coming) -> int:
    """Return how much a heat is protected: ten if called, then four, two, one by nearness."""
    if heat.id in rest.called:
        return CALLED_WEIGHT
    ahead_s = heat.published_s - rest.now_s
    return next((value for within_s, value in _SOON if ahead_s < within_s), 1)


def heads(rest: Rest, heat: Coming) -> int:
    """Return how many are concerned by a heat; an empty one still concerns its judges."""
    return max(1, len(rest.competing(heat)))


def cost(rest: Rest, placed: Mapping[str, At]) -> int:
    """Return the cost of a timetable of the rest of the day, in weighted team minutes."""
    total = 0
    for heat in rest.heats:
        moved_s = abs(placed[heat.id].start_s - heat.published_s)
        if moved_s:
            minutes = -(-moved_s // 60)
            total += weight(rest, heat) * heads(rest, heat) * (minutes + TOLD_MIN)
    return total
