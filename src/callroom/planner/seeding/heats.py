"""Which ranks share a heat, by published patterns.

Ranks count from 1, the best. Heats are listed in the order they are run, each with its
ranks best first, so the last heat of a circle holds rank 1.
"""

from callroom.model.errors import CallroomError
from callroom.model.wishes import HeatPattern
from callroom.planner.seeding.draw import drawn


class NoRoom(CallroomError):
    """More teams than there are lanes for them."""


Ranks = tuple[int, ...]

# How many of the last heats are dealt round in a circle.
# Three: FINA (now World Aquatics) Swimming Rules 2009-2013, SW 3.1.1.
# Two in events of 400 m and longer: Swim BC officials update, 6 October 2015, describing
# the amended SW 3.1.1. One is no circle: the best fill the last heat (common practice).
_CIRCLED: dict[HeatPattern, int] = {"circle": 3, "circle_last_two": 2, "best_last": 1}


def seeded_heats(
    entries: int, lanes: int, pattern: HeatPattern, *, least: int = 3, seed: int = 1
) -> tuple[Ranks, ...]:
    """Return the ranks of each heat, in running order, in the fewest heats that hold all.

    Parameters
    ----------
    entries, lanes
        How many teams there are, and how many a heat can hold.
    pattern
        ``circle``, ``circle_last_two``, ``to_and_fro`` or ``best_last``.
    least
        Fewest teams in a heat, where there are enough to go round.
    seed
        The recorded number for what the pattern leaves to a draw.
    """
    if entries < 0 or lanes < 1:
        raise NoRoom("planner.no_lanes", teams=entries, lanes=lanes)
    if not entries:
        return ()
    if pattern == "to_and_fro":
        dealt = to_and_fro(entries, -(-entries // lanes))
        order = drawn((str(index) for index in range(len(dealt))), seed=seed, purpose="heat order")
        return tuple(dealt[int(index)] for index in order)
    return circle(entries, lanes, circled=_CIRCLED[pattern], least=least)


def circle(entries: int, lanes: int, *, circled: int = 3, least: int = 3) -> tuple[Ranks, ...]:
    """Return heats with the last `circled` dealt round, the others filled rank by rank.

    Rank 1 goes to the last heat, rank 2 to the one before, back to the first of the
    circled heats, and round again. The heats before hold the next ranks, the slowest
    first. Source: FINA (now World Aquatics) Swimming Rules 2009-2013, SW 3.1.1.
    """
    sizes = _circle_sizes(entries, lanes, circled, least)
    rounds = sizes[-circled:]
    pot = sum(rounds)
    dealt = [tuple(range(turn, pot + 1, len(rounds))) for turn in range(1, len(rounds) + 1)]
    before: list[Ranks] = []
    rank = pot + 1
    for size in reversed(sizes[:-circled]):
        before.append(tuple(range(rank, rank + size)))
        rank += size
    return (*reversed(before), *reversed(dealt))


def to_and_fro(entries: int, heats: int) -> tuple[Ranks, ...]:
    """Return heats with the list running across them to and fro, in dealing order.

    The order in which they are run is then drawn. Source: World Athletics Technical Rules,
    TR20.3 (formerly IAAF Rule 166.3), zigzag distribution; from memory.
    """
    dealt: list[list[int]] = [[] for _ in range(heats)]
    for rank in range(entries):
        row, column = divmod(rank, heats)
        dealt[column if row % 2 == 0 else heats - 1 - column].append(rank + 1)
    return tuple(tuple(ranks) for ranks in dealt)


def _circle_sizes(entries: int, lanes: int, circled: int, least: int) -> list[int]:
    """Return full heats from the last backwards, with no heat under the least if possible.

    With two heats or more each holds at least three (SW 3.1.1); which heat gives up places
    the rule leaves open. Here a heat under the least takes from the next, and the circled
    heats share what remains of theirs.
    """
    heats = -(-entries // lanes)
    least = min(least, entries // heats)
    sizes = [entries - (heats - 1) * lanes] + [lanes] * (heats - 1)
    straight, pot = sizes[:-circled], sum(sizes[-circled:])
    for index, size in enumerate(straight):
        missing = max(0, least - size)
        straight[index] += missing
        if index + 1 < len(straight):
            straight[index + 1] -= missing
        else:
            pot -= missing
    even, more = divmod(pot, heats - len(straight))
    rounds = heats - len(straight)
    return straight + [even] * (rounds - more) + [even + 1] * more
