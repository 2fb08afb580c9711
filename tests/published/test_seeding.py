"""Heats and lanes against published rulebooks; see ``data/seeding.toml`` for each source."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from callroom.model import Floor, Team
from callroom.planner.seeding import (
    LANE_GROUPS,
    centre_out,
    circle,
    entry_order,
    lane_groups,
    lanes_for,
    seeded_heats,
    to_and_fro,
)

DATA: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "seeding.toml").read_text(encoding="utf-8")
)
SWIMMING, ATHLETICS = DATA["swimming"], DATA["athletics"]


def heat_by_rank(heats: tuple[tuple[int, ...], ...]) -> list[int]:
    """For ranks 1, 2, …: the number of the heat, counted in running order."""
    place = {rank: number for number, heat in enumerate(heats, 1) for rank in heat}
    return [place[rank] for rank in range(1, len(place) + 1)]


def lane_by_rank(heats: tuple[tuple[int, ...], ...], lanes: int) -> list[int]:
    """For ranks 1, 2, …: the lane, by the centre-out order."""
    given: dict[str, int] = {}
    for heat in heats:
        names = [str(rank) for rank in heat]
        given |= lanes_for(names, floor(lanes), "centre_out", seed=1, purpose="heat")
    return [given[str(rank)] for rank in range(1, len(given) + 1)]


def floor(lanes: int, first: int = 1) -> Floor:
    return Floor(id="f", name="F", lanes=lanes, first_lane=first)


EXAMPLES = [*SWIMMING["example"], SWIMMING["example_minimum_of_three"]]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: f"{e['entries']} on {e['lanes']}")
def test_worked_examples_of_circle_seeding(example: dict[str, Any]) -> None:
    heats = seeded_heats(example["entries"], example["lanes"], "circle")
    assert [len(heat) for heat in heats] == example["heat_sizes"]
    assert heat_by_rank(heats) == example["heat_by_rank"]
    assert lane_by_rank(heats, example["lanes"]) == example["lane_by_rank"]


@pytest.mark.parametrize("name", ["two_heats", "three_heats"])
def test_first_ranks_alternate_from_the_last_heat(name: str) -> None:
    rule = SWIMMING[name]
    listed = rule["first_ranks_to_heat"]
    lanes = -(-len(listed) // rule["heats"])
    assert heat_by_rank(seeded_heats(len(listed), lanes, "circle")) == listed


def test_four_or_more_heats_fill_backwards_before_the_last_three() -> None:
    heats = seeded_heats(40, 8, "circle")
    assert heat_by_rank(heats)[:24] == [number + 2 for number in heat_by_rank(circle(24, 8))]
    assert heats[1] == tuple(range(25, 33))
    assert heats[0] == tuple(range(33, 41))


def test_long_events_deal_only_the_last_two_heats_round() -> None:
    heats = seeded_heats(24, 8, "circle_last_two")
    two = SWIMMING["two_heats"]["first_ranks_to_heat"]
    assert [number - 1 for number in heat_by_rank(heats)[:16]] == two * 2
    assert heats[0] == tuple(range(17, 25))


@pytest.mark.parametrize("lanes", [6, 8, 10])
def test_with_two_heats_or_more_none_is_under_the_minimum(lanes: int) -> None:
    minimum = SWIMMING["minimum_per_heat"]["minimum"]
    for entries in range(lanes + 1, 15 * lanes):
        sizes = [len(heat) for heat in seeded_heats(entries, lanes, "circle", least=minimum)]
        assert sum(sizes) == entries
        assert len(sizes) == -(-entries // lanes)
        assert minimum <= min(sizes) <= max(sizes) <= lanes


@pytest.mark.parametrize("name", ["six", "eight", "ten_numbered_1_to_10"])
def test_lanes_from_the_centre_outwards(name: str) -> None:
    rule = SWIMMING["lanes"][name]
    assert list(centre_out(range(1, rule["lanes"] + 1))) == rule["lane_by_rank"]


def test_lanes_numbered_from_nought() -> None:
    rule = SWIMMING["lanes"]["ten_numbered_0_to_9"]
    assert list(centre_out(range(10))) == rule["lane_by_rank"]
    # The verified ten-lane order, one lower, says the same.
    assert [lane + 1 for lane in centre_out(range(10))] == (
        SWIMMING["lanes"]["ten_numbered_1_to_10"]["lane_by_rank"]
    )


def test_odd_numbers_of_lanes_start_in_the_middle() -> None:
    general = SWIMMING["lanes"]["general"]
    assert list(centre_out(range(1, 6))) == general["lane_by_rank_5"]
    assert list(centre_out(range(1, 8))) == general["lane_by_rank_7"]


def test_entries_without_a_mark_come_last_by_draw() -> None:
    ranks = {"a": 2, "b": None, "c": 1, "d": None, "e": 2}
    teams = [Team(id=t, name=t, division="x", entry_rank=rank) for t, rank in ranks.items()]
    order = entry_order(teams, seed=5)
    assert order[0] == "c"
    assert set(order[1:3]) == {"a", "e"}
    assert set(order[3:]) == {"b", "d"}


def test_to_and_fro_distribution() -> None:
    three = ATHLETICS["zigzag"]["three_heats_24"]
    dealt = to_and_fro(24, 3)
    assert [list(heat) for heat in dealt] == [three[f"heat_{name}"] for name in "ABC"]
    assert heat_by_rank(dealt) == three["heat_by_rank"]
    four = ATHLETICS["zigzag"]["four_heats_32"]
    assert [list(heat) for heat in to_and_fro(32, 4)] == [four[f"heat_{n}"] for n in "ABCD"]
    assert [sum(heat) for heat in to_and_fro(32, 4)] == four["sum_of_ranks"]


@pytest.mark.parametrize("name", ["two_groups_8", "three_groups_8", "three_groups_9"])
def test_published_lane_groups(name: str) -> None:
    rule = ATHLETICS["lane_draw"][name]
    assert [list(group) for group in LANE_GROUPS[name]] == rule["drawn_lanes"]
    assert [len(group) for group in LANE_GROUPS[name]] == [len(ranks) for ranks in rule["ranks"]]


@pytest.mark.parametrize(
    ("name", "key"),
    [("straight_8", "straight"), ("two_hundred_8", "two_hundred"), ("one_lap_8", "one_lap")],
)
def test_lane_groups_from_memory(name: str, key: str) -> None:
    told = ATHLETICS["lane_draw"]["current"][key]["lanes"]
    assert " | ".join(",".join(map(str, group)) for group in LANE_GROUPS[name]) == told


@pytest.mark.parametrize("lanes", [8, 9])
def test_a_draw_keeps_to_the_published_groups(lanes: int) -> None:
    rule = ATHLETICS["lane_draw"][f"three_groups_{lanes}"]
    assert [list(group) for group in lane_groups(range(1, lanes + 1))] == rule["drawn_lanes"]
    names = [str(rank) for rank in range(1, lanes + 1)]
    for seed in range(20):
        given = lanes_for(names, floor(lanes), "drawn_groups", seed=seed, purpose="heat")
        for ranks, drawn in zip(rule["ranks"], rule["drawn_lanes"], strict=True):
            assert sorted(given[str(rank)] for rank in ranks) == sorted(drawn)
