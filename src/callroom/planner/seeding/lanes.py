"""Who gets which lane."""

from collections.abc import Sequence
from types import MappingProxyType

from callroom.model.floor import Floor
from callroom.model.wishes import LanePattern
from callroom.planner.seeding.draw import drawn
from callroom.planner.seeding.heats import NoRoom

LaneGroups = tuple[tuple[int, ...], ...]

# Published groups of lanes numbered from 1. The best ranks draw among the lanes of the
# first group, as many as it has; the next ranks among those of the second; and so on.
LANE_GROUPS: MappingProxyType[str, LaneGroups] = MappingProxyType(
    {
        # Track & Field News, From the Editor, November 2006 (IAAF practice from 1985).
        "two_groups_8": ((3, 4, 5, 6), (1, 2, 7, 8)),
        # Hanley, Casado, Renfree: Lane and Heat Draw Have Little Effect on Placings and
        # Progression in 800 m, Frontiers in Sports and Active Living, 2019.
        "three_groups_8": ((3, 4, 5, 6), (7, 8), (1, 2)),
        # Athletics NSW junior championships, competition rule 2.11.2, quoted in a public thread.
        "three_groups_9": ((4, 5, 6, 7), (8, 9), (1, 2, 3)),
        # World Athletics Technical Rules, TR20.4 as amended for 2023-24; from memory.
        "straight_8": ((3, 4, 5, 6), (2, 7), (1, 8)),
        "two_hundred_8": ((5, 6, 7), (3, 4, 8), (1, 2)),
        "one_lap_8": ((4, 5, 6, 7), (3, 8), (1, 2)),
    }
)


def centre_out(lanes: Sequence[int]) -> tuple[int, ...]:
    """Return lanes in the order ranks take them: the centre first, then to and fro outwards.

    Of an even number the centre is the lower of the middle two; the next lane is on its
    higher side. Source: Seeding, lane assignments, swim-offs and order of heats (summary of
    national swimming rule 102.5), Swim Standards community, 2025; odd numbers by the same
    rule.

    Parameters
    ----------
    lanes
        Painted numbers from the painted side, for example 0 to 9.
    """
    middle = (len(lanes) - 1) // 2
    return tuple(
        lanes[index]
        for index in sorted(
            range(len(lanes)), key=lambda index: (abs(index - middle), middle - index)
        )
    )


def lanes_for(
    teams: Sequence[str],
    floor: Floor,
    pattern: LanePattern,
    *,
    seed: int,
    purpose: str,
) -> dict[str, int]:
    """Give each team of a heat a lane.

    Parameters
    ----------
    teams
        Best first; no more than there are open lanes.
    floor
        Its painted lanes; those held for re-runs stay empty.
    pattern
        ``centre_out``: the best in the centre, empty lanes outside. ``drawn_groups``: ranks
        draw among groups of lanes, central ones for the best. ``numbered``: rank by rank
        from the painted side.
    seed, purpose
        The recorded number of the draw, and which heat is drawn.
    """
    free = floor.open_lanes
    if len(teams) > len(free):
        raise NoRoom("planner.too_few_lanes", subject=purpose, teams=len(teams), lanes=len(free))
    if pattern == "numbered":
        return dict(zip(teams, free, strict=False))
    outwards = [lane for lane in centre_out(floor.lane_numbers) if lane in free]
    if pattern == "centre_out":
        return dict(zip(teams, outwards, strict=False))
    given: dict[str, int] = {}
    rest = list(teams)
    for group in lane_groups(floor.lane_numbers):
        open_here = [lane for lane in outwards if lane in group]
        mine, rest = rest[: len(open_here)], rest[len(open_here) :]
        # Where a group is not full, its outer lanes are the empty ones.
        used = sorted(open_here[: len(mine)])
        given |= dict(zip(drawn(mine, seed=seed, purpose=purpose), used, strict=True))
    return given


def lane_groups(lanes: Sequence[int]) -> LaneGroups:
    """Return the groups of lanes for a draw, the best ranks' group first.

    Eight and nine lanes as published (``three_groups_8`` and ``_9``), counted from the
    painted side; other numbers in the same manner: the centre half first, then the
    remainder in two groups from the centre outwards (our own, no source).
    """
    if len(lanes) in {8, 9}:
        published = LANE_GROUPS[f"three_groups_{len(lanes)}"]
        return tuple(tuple(lanes[lane - 1] for lane in group) for group in published)
    outwards = centre_out(lanes)
    half = -(-len(lanes) // 2)
    quarter = half + -(-(len(lanes) - half) // 2)
    parts = outwards[:half], outwards[half:quarter], outwards[quarter:]
    return tuple(part for part in parts if part)
