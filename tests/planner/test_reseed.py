"""Seeding anew: everybody once, heats and times kept, the best where the pattern puts them."""

import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Heat, LaneTeam
from callroom.planner.seeding.reseed import deal, fitting_sizes, reseeded
from tests.actions.day_building import EVENT

EIGHT = replace(EVENT, floors=(replace(EVENT.floors[0], lanes=8),))


def heats_of(*sizes: int, other: int = 0) -> tuple[tuple[Heat, ...], list[str]]:
    """Heats of so many teams each, lanes from 1; `other` more of another division in the first."""
    names: list[str] = []
    heats: list[Heat] = []
    for at, size in enumerate(sizes):
        mine = [f"T{len(names) + one:02}" for one in range(size)]
        names += mine
        strangers = [f"X{one}" for one in range(other if at == 0 else 0)]
        heats.append(
            Heat(
                id=f"w2-{at + 1}",
                workout="w2",
                floor="main",
                number=at + 1,
                start_s=at * 900,
                end_s=at * 900 + 790,
                lanes=tuple(
                    LaneTeam(lane=lane, team=team)
                    for lane, team in enumerate([*mine, *strangers], start=1)
                ),
            )
        )
    return tuple(heats), names


def mine(team: str) -> bool:
    return team.startswith("T")


def wishing(**changed: Any) -> Any:
    return replace(EIGHT, wishes=replace(EIGHT.wishes, **changed))


def test_the_best_fill_the_last_heat_from_the_centre() -> None:
    heats, names = heats_of(4, 4)
    ranked = names[::-1]
    first, last = reseeded(wishing(), heats, mine, ranked, "reseeded")
    assert set(last.teams) == set(ranked[:4])
    assert last.lane_of(ranked[0]) == 4
    assert (first.start_s, first.end_s, first.id) == (0, 790, "w2-1")


def test_a_cut_fills_the_final_and_a_team_that_left_makes_room() -> None:
    heats, names = heats_of(4, 4, 4)
    ranked = [team for team in names if team != "T11"]
    *_, final = reseeded(wishing(), heats, mine, ranked, "reseeded")
    assert set(final.teams) == set(ranked[:4])
    assert all("T11" not in heat.teams for heat in (final, *_))


def test_other_divisions_keep_their_lanes() -> None:
    heats, names = heats_of(3, 4, other=2)
    found = reseeded(wishing(), heats, mine, names[::-1], "reseeded")
    for heat, was in zip(found, heats, strict=True):
        for place in was.lanes:
            if not mine(place.team):
                assert place in heat.lanes


def test_circles_deal_the_best_round_the_last_heats() -> None:
    assert deal([3, 3, 3, 3], "circle") == [[9, 10, 11], [2, 5, 8], [1, 4, 7], [0, 3, 6]]
    assert deal([3, 3, 3], "circle_last_two") == [[6, 7, 8], [1, 3, 5], [0, 2, 4]]
    assert deal([2, 2, 2], "best_last") == [[4, 5], [2, 3], [0, 1]]
    assert deal([2, 2, 2], "to_and_fro") == [[2, 3], [1, 4], [0, 5]]


def test_no_heat_is_thinner_than_wished_if_it_can_be_helped() -> None:
    assert fitting_sizes(9, [4, 4, 4], 3) == [3, 3, 3]
    assert fitting_sizes(11, [4, 4, 4], 3) == [3, 4, 4]
    assert fitting_sizes(5, [4, 4], 3) == [2, 3]
    assert fitting_sizes(12, [4, 4, 4], 3) == [4, 4, 4]


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.integers(1, 6), min_size=1, max_size=6),
    st.integers(0, 4),
    st.sampled_from(["reseeded", "neighbours", "kept"]),
    st.sampled_from(["best_last", "circle", "circle_last_two", "to_and_fro"]),
    st.integers(0, 2**32),
)
def test_everybody_who_is_in_has_one_lane_and_nobody_goes_too_far(
    sizes: list[int], left: int, rule: Any, pattern: Any, seed: int
) -> None:
    heats, names = heats_of(*sizes)
    rng = random.Random(seed)
    ranked = rng.sample(names, max(1, len(names) - left))
    event = wishing(heat_pattern=pattern)
    found = reseeded(event, heats, mine, ranked, rule)
    assert sorted(team for heat in found for team in heat.teams) == sorted(ranked)
    for heat, was in zip(found, heats, strict=True):
        lanes = [place.lane for place in heat.lanes]
        assert len(set(lanes)) == len(lanes)
        assert set(lanes) <= set(EIGHT.floors[0].open_lanes)
        assert len(lanes) <= len(was.lanes)
    if rule != "reseeded":
        where = {team: at for at, heat in enumerate(heats) for team in heat.teams}
        for at, heat in enumerate(found):
            most = 1 if rule == "neighbours" else 0
            assert all(abs(where[team] - at) <= most for team in heat.teams)
