"""Teams to heats, workout by workout, before anything has a time.

A division's teams go to its heats by the chosen pattern; heats are full and pure, the
short one first and the leaders last. Where *mixed heats* are wished, what is left of the
divisions shares heats: the fewest heats, and among those the fewest divisions cut in two.
"""

from collections.abc import Iterable, Mapping
from itertools import combinations

import msgspec

from callroom.model.event import Event
from callroom.model.team import Team
from callroom.model.workout import Workout
from callroom.planner.seeding import entry_order, seeded_heats


class HeatTeams(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Who is in one heat of one workout.

    Attributes
    ----------
    divisions
        The divisions in it, in the order of the event; more than one in a mixed heat.
    rank
        Where it comes among the heats of its workout with the same divisions, from 1.
    teams
        Best first; in a mixed heat division by division.
    """

    workout: str
    divisions: tuple[str, ...]
    rank: int
    teams: tuple[str, ...]

    @property
    def id(self) -> str:
        """Name of the heat while it has no time yet."""
        return f"{self.workout}/{'+'.join(self.divisions)}/{self.rank}"


def compose(event: Event, teams: Iterable[Team]) -> tuple[HeatTeams, ...]:
    """Form the heats of every workout from the teams that are in the event.

    Teams of divisions the event does not have are left to ``check`` to report.
    """
    entered: dict[str, list[Team]] = {division.id: [] for division in event.divisions}
    for team in teams:
        if team.division in entered:
            entered[team.division].append(team)
    ranked = {
        name: entry_order(mine, seed=event.wishes.draw_seed)
        for name, mine in entered.items()
        if mine
    }
    return tuple(heat for workout in event.workouts for heat in _of_workout(event, workout, ranked))


def _of_workout(
    event: Event, workout: Workout, ranked: Mapping[str, tuple[str, ...]]
) -> Iterable[HeatTeams]:
    mixed = _mixed_heats(event, workout, ranked) if event.wishes.mixed_heats else ()
    placed = {team for shared in mixed for mine in shared.values() for team in mine}
    ranks: dict[tuple[str, ...], int] = {}
    for shared in mixed:
        divisions = tuple(shared)
        ranks[divisions] = ranks.get(divisions, 0) + 1
        yield HeatTeams(
            workout=workout.id,
            divisions=divisions,
            rank=ranks[divisions],
            teams=tuple(team for mine in shared.values() for team in mine),
        )
    for division, order in ranked.items():
        pure = [team for team in order if team not in placed]
        heats = seeded_heats(
            len(pure),
            _lanes(event, workout, len(pure)),
            event.wishes.heat_pattern,
            least=event.wishes.least_per_heat,
            seed=event.wishes.draw_seed,
        )
        for rank, heat in enumerate(heats, start=1):
            yield HeatTeams(
                workout=workout.id,
                divisions=(division,),
                rank=rank,
                teams=tuple(pure[place - 1] for place in heat),
            )


def _lanes(event: Event, workout: Workout, entries: int) -> int:
    """Return how many lanes to fill, so that a team keeps its companions where it can.

    Of all floors' lane counts the smallest that needs no more heats than this floor does:
    on floors of 7 and 8 lanes, 20 teams then are 6, 7 and 7 on both.
    """
    own = len(event.floor(workout.floor).open_lanes)
    others = {len(event.floor(other.floor).open_lanes) for other in event.workouts}
    heats = -(-entries // own)
    return min(lanes for lanes in others if lanes and -(-entries // lanes) <= heats)


def _mixed_heats(
    event: Event, workout: Workout, ranked: Mapping[str, tuple[str, ...]]
) -> list[dict[str, tuple[str, ...]]]:
    """Return the heats shared by what is left of the divisions, lowest ranks first."""
    lanes = len(event.floor(workout.floor).open_lanes)
    left = {name: len(order) % lanes for name, order in ranked.items() if len(order) % lanes}
    shared: list[dict[str, tuple[str, ...]]] = []
    for together in shared_remainders(left, lanes):
        if len(together) == 1:
            continue  # a remainder on its own is a short heat of its division
        counts = {name: left[name] for name in together}
        short = min(event.wishes.least_per_heat, lanes) - sum(counts.values())
        if short > 0:
            lender = max(together, key=lambda name: len(ranked[name]))
            counts[lender] = min(counts[lender] + short, len(ranked[lender]))
        rows = [(name, team) for name in together for team in ranked[name][-counts[name] :]]
        heats = -(-len(rows) // lanes)
        for index in range(heats):
            part = rows[len(rows) * index // heats : len(rows) * (index + 1) // heats]
            shared.append(
                {
                    name: tuple(team for owner, team in part if owner == name)
                    for name in dict.fromkeys(owner for owner, _ in part)
                }
            )
    return shared


def shared_remainders(left: Mapping[str, int], lanes: int) -> tuple[tuple[str, ...], ...]:
    """Partition divisions into groups whose remainders share heats.

    Exact: the heats are as few as the lanes allow, and among such partitions there are
    the most groups. A group of k divisions in h heats needs k + h - 1 parts at least, and
    filling lane after lane reaches that, so the most groups means the fewest divisions cut
    in two. Ties go to the partition that comes first in the order of the event.

    Parameters
    ----------
    left
        Teams left over by division; each less than `lanes`.
    lanes
        Open lanes of the floor.
    """
    names = tuple(left)
    best: dict[frozenset[str], tuple[int, int, tuple[tuple[str, ...], ...]]] = {
        frozenset(): (0, 0, ())
    }

    def solve(rest: tuple[str, ...]) -> tuple[int, int, tuple[tuple[str, ...], ...]]:
        """Return heats, minus the number of groups, and the groups, for some divisions."""
        key = frozenset(rest)
        if key not in best:
            first, others = rest[0], rest[1:]
            options = []
            for size in range(len(others) + 1):
                for chosen in combinations(others, size):
                    group = (first, *chosen)
                    heats, groups, more = solve(tuple(n for n in others if n not in chosen))
                    own = -(-sum(left[name] for name in group) // lanes)
                    options.append((heats + own, groups - 1, (group, *more)))
            best[key] = min(options, key=lambda option: option[:2])
        return best[key]

    return solve(names)[2]
