"""Seeding beyond the published vectors: draws, odd floors, held lanes, refusals."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import Floor, Team
from callroom.model.wishes import HeatPattern, LanePattern
from callroom.planner.seeding import (
    NoRoom,
    centre_out,
    drawn,
    entry_order,
    lane_groups,
    lanes_for,
    seeded_heats,
)

PATTERNS: tuple[HeatPattern, ...] = ("circle", "circle_last_two", "to_and_fro", "best_last")
LANE_PATTERNS: tuple[LanePattern, ...] = ("centre_out", "drawn_groups", "numbered")


def test_a_draw_can_be_checked_by_hand() -> None:
    # printf '1/x/a' | sha256sum gives c93b420b…; for b it gives 72158d9c…, for c 82e6c53e….
    assert drawn(["a", "b", "c"], seed=1, purpose="x") == ("b", "c", "a")


@given(st.sets(st.text(min_size=1, max_size=4), max_size=8), st.integers(0, 9))
def test_a_draw_does_not_depend_on_the_order_of_entry(names: set[str], seed: int) -> None:
    forth = drawn(sorted(names), seed=seed, purpose="p")
    assert forth == drawn(sorted(names, reverse=True), seed=seed, purpose="p")
    assert sorted(forth) == sorted(names)


@given(st.sets(st.text(min_size=1, max_size=4), min_size=1, max_size=8), st.integers(0, 9))
def test_one_name_less_leaves_the_others_in_their_order(names: set[str], seed: int) -> None:
    gone = min(names)
    order = [name for name in drawn(names, seed=seed, purpose="p") if name != gone]
    assert tuple(order) == drawn(names - {gone}, seed=seed, purpose="p")


def test_draws_differ_by_seed_and_by_purpose_and_none_is_favoured() -> None:
    names = "abc"
    orders = [drawn(names, seed=seed, purpose="p") for seed in range(600)]
    counts = [orders.count(order) for order in permutations(names)]
    assert min(counts) > 60  # 100 each on average
    assert orders[:20] != [drawn(names, seed=seed, purpose="q") for seed in range(20)]


def test_ranked_teams_come_in_rank_order_and_the_rest_by_lot() -> None:
    ranks = (3, 1, None, 2, None)
    teams = [
        Team(id=f"t{n}", name="", division="d", entry_rank=rank) for n, rank in enumerate(ranks)
    ]
    order = entry_order(teams, seed=4)
    assert order[:3] == ("t1", "t3", "t0")
    assert order[3:] == drawn(["t2", "t4"], seed=4, purpose="entry order")


@given(st.integers(1, 80), st.integers(1, 12), st.sampled_from(PATTERNS), st.integers(1, 4))
def test_every_rank_is_in_one_heat_and_no_heat_is_over_full(
    entries: int, lanes: int, pattern: HeatPattern, least: int
) -> None:
    heats = seeded_heats(entries, lanes, pattern, least=least)
    assert sorted(rank for heat in heats for rank in heat) == list(range(1, entries + 1))
    assert len(heats) == -(-entries // lanes)
    sizes = [len(heat) for heat in heats]
    assert min(least, entries // len(heats)) <= min(sizes)
    assert max(sizes) <= lanes
    assert all(list(heat) == sorted(heat) for heat in heats)
    if pattern != "to_and_fro":
        assert heats[-1][0] == 1


def test_best_last_fills_whole_heats_with_the_short_one_first() -> None:
    heats = seeded_heats(20, 7, "best_last")
    assert [len(heat) for heat in heats] == [6, 7, 7]
    assert heats[2] == (1, 2, 3, 4, 5, 6, 7)
    assert [len(heat) for heat in seeded_heats(15, 7, "best_last")] == [3, 5, 7]
    assert [len(heat) for heat in seeded_heats(8, 7, "best_last")] == [3, 5]


def test_to_and_fro_heats_are_run_in_drawn_order() -> None:
    orders = {seeded_heats(24, 8, "to_and_fro", seed=seed) for seed in range(40)}
    assert len(orders) == 6
    assert {frozenset(order) for order in orders} == {frozenset(next(iter(orders)))}


def test_nobody_entered_is_no_heat_and_no_lanes_is_refused() -> None:
    assert seeded_heats(0, 7, "circle") == ()
    with pytest.raises(NoRoom, match="no_lanes"):
        seeded_heats(3, 0, "circle")


@given(st.integers(0, 3), st.integers(1, 12), st.data())
def test_lanes_are_open_and_distinct(first: int, lanes: int, data: st.DataObject) -> None:
    numbers = range(first, first + lanes)
    held = data.draw(st.sets(st.sampled_from(numbers), max_size=lanes - 1))
    floor = Floor(id="f", name="F", lanes=lanes, first_lane=first, held_lanes=tuple(held))
    teams = [f"t{n}" for n in range(data.draw(st.integers(0, lanes - len(held))))]
    for pattern in LANE_PATTERNS:
        given_lanes = lanes_for(teams, floor, pattern, seed=1, purpose="h")
        assert given_lanes.keys() == set(teams)
        assert len(set(given_lanes.values())) == len(teams)
        assert set(given_lanes.values()) <= set(floor.open_lanes)


def test_empty_lanes_are_outside() -> None:
    floor = Floor(id="f", name="F", lanes=7)
    for pattern in LANE_PATTERNS[:2]:
        used = lanes_for(["a", "b", "c"], floor, pattern, seed=1, purpose="h").values()
        assert set(used) == {3, 4, 5}
    numbered = lanes_for(["a", "b", "c"], floor, "numbered", seed=1, purpose="h")
    assert numbered == {"a": 1, "b": 2, "c": 3}


def test_a_held_lane_does_not_move_the_centre() -> None:
    floor = Floor(id="f", name="F", lanes=8, held_lanes=(8,))
    teams = [f"t{n}" for n in range(7)]
    given_lanes = lanes_for(teams, floor, "centre_out", seed=1, purpose="h")
    assert list(given_lanes.values()) == [4, 5, 3, 6, 2, 7, 1]


@given(st.integers(1, 14))
def test_groups_hold_every_lane_once_the_centre_first(lanes: int) -> None:
    groups = lane_groups(range(1, lanes + 1))
    assert sorted(lane for group in groups for lane in group) == list(range(1, lanes + 1))
    assert centre_out(range(1, lanes + 1))[0] in groups[0]


def test_more_teams_than_open_lanes_are_refused() -> None:
    floor = Floor(id="f", name="F", lanes=2)
    with pytest.raises(NoRoom) as refused:
        lanes_for(["a", "b", "c"], floor, "numbered", seed=1, purpose="heat 3")
    assert refused.value.facts == {"subject": "heat 3", "teams": 3, "lanes": 2}
