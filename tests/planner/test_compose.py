"""Teams to heats: pure and mixed, on floors of different width."""

from itertools import pairwise, product

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Floor, Wishes
from callroom.planner import HeatTeams, compose
from callroom.planner.compose import shared_remainders
from tests.planner import days

FLOORS = (
    Floor(id="main", name="Main", lanes=7),
    Floor(id="yard", name="Yard", lanes=8),
    Floor(id="lane", name="Lane", lanes=4),
)


def sizes(heats: tuple[HeatTeams, ...], workout: str) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for heat in heats:
        if heat.workout == workout:
            found.setdefault("+".join(heat.divisions), []).append(len(heat.teams))
    return found


def test_full_heats_are_pure_and_the_leaders_come_last() -> None:
    event = days.event(divisions=("a", "b"))
    heats = compose(event, days.teams({"a": 20, "b": 8}))
    assert sizes(heats, "w1") == {"a": [6, 7, 7], "b": [3, 5]}
    last = [heat for heat in heats if heat.divisions == ("a",)][2]
    assert last.teams == tuple(f"a{n:02}" for n in range(1, 8))


def test_a_floor_as_wide_as_needed_keeps_companions_together() -> None:
    workouts = (days.workout("w1"), days.workout("w2", floor="yard"))
    heats = compose(days.event(floors=FLOORS, workouts=workouts), days.teams({"a": 20}))
    assert sizes(heats, "w1") == sizes(heats, "w2") == {"a": [6, 7, 7]}
    first, second = ([h.teams for h in heats if h.workout == w] for w in ("w1", "w2"))
    assert first == second


def test_a_narrow_floor_needs_more_heats() -> None:
    workouts = (days.workout("w1"), days.workout("w2", floor="lane"))
    heats = compose(days.event(floors=FLOORS, workouts=workouts), days.teams({"a": 20}))
    assert sizes(heats, "w1") == {"a": [6, 7, 7]}
    assert sizes(heats, "w2") == {"a": [4, 4, 4, 4, 4]}


def test_held_lanes_are_not_filled() -> None:
    floor = Floor(id="main", name="Main", lanes=7, held_lanes=(7,))
    heats = compose(days.event(floors=(floor,)), days.teams({"a": 12}))
    assert sizes(heats, "w1") == {"a": [6, 6]}


def test_mixed_heats_share_what_is_left_and_the_lowest_ranks_are_in_it() -> None:
    event = days.event(divisions=("a", "b"), wishes=Wishes(mixed_heats=True))
    heats = compose(event, days.teams({"a": 10, "b": 9}))
    assert sizes(heats, "w1") == {"a+b": [5], "a": [7], "b": [7]}
    mixed = next(heat for heat in heats if heat.divisions == ("a", "b"))
    assert mixed.teams == ("a08", "a09", "a10", "b08", "b09")


def test_a_mixed_heat_is_not_left_too_thin() -> None:
    event = days.event(divisions=("a", "b"), wishes=Wishes(mixed_heats=True))
    heats = compose(event, days.teams({"a": 15, "b": 8}))
    assert sizes(heats, "w1") == {"a+b": [3], "a": [6, 7], "b": [7]}


def test_a_division_without_teams_has_no_heat() -> None:
    heats = compose(days.event(divisions=("a", "b")), days.teams({"b": 3}))
    assert sizes(heats, "w1") == {"b": [3]}


def partitions(names: tuple[str, ...]) -> list[list[list[str]]]:
    if not names:
        return [[]]
    rest = partitions(names[1:])
    return [
        [*part[:at], [names[0], *part[at]], *part[at + 1 :]]
        for part in rest
        for at in range(len(part))
    ] + [[[names[0]], *part] for part in rest]


@given(st.lists(st.integers(1, 7), max_size=5), st.integers(4, 8))
def test_remainders_share_the_fewest_heats_in_the_most_groups(
    numbers: list[int], lanes: int
) -> None:
    left = {f"d{at}": number % lanes or 1 for at, number in enumerate(numbers)}

    def cost(groups: list[list[str]]) -> tuple[int, int]:
        return sum(-(-sum(left[n] for n in g) // lanes) for g in groups), -len(groups)

    found = [list(group) for group in shared_remainders(left, lanes)]
    assert sorted(name for group in found for name in group) == sorted(left)
    assert cost(found) == min(cost(option) for option in partitions(tuple(left)))
    if left:
        assert cost(found)[0] == -(-sum(left.values()) // lanes)


@given(
    st.dictionaries(st.sampled_from("abcd"), st.integers(1, 30), min_size=1),
    st.integers(3, 8),
    st.booleans(),
)
def test_every_team_is_once_in_every_workout(
    counts: dict[str, int], lanes: int, mixed: bool
) -> None:
    floors = (Floor(id="main", name="Main", lanes=lanes),)
    event = days.event(divisions="abcd", floors=floors, wishes=Wishes(mixed_heats=mixed))
    teams = days.teams(counts)
    heats = compose(event, teams)
    for workout in event.workouts:
        placed = [t for heat in heats if heat.workout == workout.id for t in heat.teams]
        assert sorted(placed) == sorted(team.id for team in teams)
    assert all(len(heat.teams) <= lanes for heat in heats)
    assert len({heat.id for heat in heats}) == len(heats)
    if not mixed:
        assert all(len(heat.divisions) == 1 for heat in heats)
    for heat, (division, count) in product(heats, counts.items()):
        alone_needed = count == 1 or (lanes == 3 and count == 4)
        if heat.divisions == (division,) and not alone_needed and not mixed:
            assert len(heat.teams) > 1


def test_ranks_fall_from_heat_to_heat() -> None:
    event = days.event(divisions=("a", "b"), wishes=Wishes(mixed_heats=True))
    heats = compose(event, days.teams({"a": 17, "b": 16}))
    mine = [heat for heat in heats if heat.workout == "w1" and "a" in heat.divisions]
    best = [min(team for team in heat.teams if team[0] == "a") for heat in mine]
    assert all(later < earlier for earlier, later in pairwise(best))


def test_the_same_draw_seed_gives_the_same_heats() -> None:
    teams = tuple(replace(team, entry_rank=None) for team in days.teams({"a": 20}))
    event = days.event(wishes=Wishes(draw_seed=3))
    again = days.event(wishes=Wishes(draw_seed=4))
    assert compose(event, teams) == compose(event, tuple(reversed(teams)))
    assert compose(event, teams) != compose(again, teams)
