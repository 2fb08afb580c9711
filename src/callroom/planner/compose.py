"""Teams to heats, workout by workout, before anything has a time.

A division's teams go to its heats by the chosen pattern; heats are full and pure, the
short one first and the leaders last. Where *mixed heats* are wished, what is left of the
divisions shares heats: the fewest heats, and among those the fewest divisions cut in two.
"""

from collections.abc import Iterable, Mapping
from itertools import combinations

from callroom.model.event import Event
from callroom.model.team import Team
from callroom.model.workout import Workout
from callroom.planner.by_hand import by_hand
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.seeding import entry_order, seeded_heats


def compose(event: Event, teams: Iterable[Team]) -> tuple[HeatTeams, ...]:
    """Form the heats of every workout from the teams that are in the event.

    Teams of divisions the event does not have are left to ``check`` to report.

    Raises
    ------
    BadProblem
        If teams cannot be put into the heats the wishes fix for them, or kept apart.
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
    seeded = tuple(
        heat for workout in event.workouts for heat in _of_workout(event, workout, ranked)
    )
    everybody = [team for mine in entered.values() for team in mine]
    return by_hand(event, everybody, ranked, seeded)


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
    own = _open_lanes(event, workout)
    others = {_open_lanes(event, other) for other in event.workouts}
    heats = -(-entries // own)
    return min(lanes for lanes in others if lanes and -(-entries // lanes) <= heats)


def _open_lanes(event: Event, workout: Workout) -> int:
    """Return the lanes that are open on every floor the workout may be run on."""
    floors = event.wishes.floors_for(workout.id, workout.floor)
    return min(len(event.floor(name).open_lanes) for name in floors)


def _waves(event: Event, names: Iterable[str]) -> list[list[str]]:
    """Part divisions by the wave they are in, those in none by themselves."""
    wave_of = {name: wave for wave, row in enumerate(event.wishes.waves) for name in row}
    parts: dict[int, list[str]] = {}
    for name in names:
        parts.setdefault(wave_of.get(name, -1), []).append(name)
    return list(parts.values())


def _mixed_heats(
    event: Event, workout: Workout, ranked: Mapping[str, tuple[str, ...]]
) -> list[dict[str, tuple[str, ...]]]:
    """Return the heats shared by what is left of the divisions, lowest ranks first."""
    lanes = _open_lanes(event, workout)
    left = {name: len(order) % lanes for name, order in ranked.items() if len(order) % lanes}
    shared: list[dict[str, tuple[str, ...]]] = []
    groups = [
        group
        for wave in _waves(event, left)
        for group in shared_remainders({name: left[name] for name in wave}, lanes)
    ]
    for together in groups:
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
