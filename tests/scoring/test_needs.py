"""What a team needs in the next workout, against every order of it."""

import itertools
import random
from collections.abc import Iterator
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.scoring import DivisionScores, Score, standings_of
from callroom.scoring.needs import next_needs
from tests.scoring.test_podium import CHAINS, POINTS, division, score


def awaited_in_last(scored: DivisionScores) -> DivisionScores:
    last = scored.parts[-1]
    open_ones = tuple(Score(one.team, "awaited") for one in last.scores)
    return replace(scored, parts=(*scored.parts[:-1], replace(last, scores=open_ones)))


def orders(scored: DivisionScores) -> Iterator[tuple[dict[str, int | None], dict[str, int | None]]]:
    """Every order of the last part in which all take a place: places there, and overall."""
    last = scored.parts[-1]
    names = [entrant.team for entrant in scored.field]
    for keys in itertools.product(range(1, len(names) + 1), repeat=len(names)):
        if set(keys) != set(range(1, len(set(keys)) + 1)):
            continue
        done = replace(last, scores=tuple(map(score, names, keys)))
        standings = standings_of(replace(scored, parts=(*scored.parts[:-1], done)))
        here = standings.parts[-1]
        yield (
            {row.team: row.place for row in here.rows},
            {row.team: row.place for row in standings.rows},
        )


@st.composite
def before_the_last(draw: st.DrawFn) -> DivisionScores:
    teams, parts = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    rng = random.Random(draw(st.integers(0, 2**32)))
    keys: dict[str, list[int | None]] = {
        f"w{part}": [rng.choice((100, 200, 300, None)) for _ in range(teams)]
        for part in range(1, parts + 1)
    }
    rules: dict[str, Any] = {
        "points": dict(rng.choice(POINTS)),
        "tie_chain": rng.choice(CHAINS),
        "absent_overall": rng.choice(["below", "unranked"]),
    }
    return awaited_in_last(division(keys, rules))


@settings(max_examples=40, deadline=None)
@given(before_the_last())
def test_needs_are_exactly_what_every_order_of_the_next_part_says(scored: DivisionScores) -> None:
    told = next_needs(scored)
    assert told is not None
    assert told.workout == scored.parts[-1].terms.workout
    reached: dict[tuple[str, int], list[int]] = {}
    for here, overall in orders(scored):
        for team, place in here.items():
            assert place is not None
            reached.setdefault((team, place), []).append(overall[team] or 99)
    for need in told.needs:
        sure = 0
        while all(place <= need.target for place in reached.get((need.team, sure + 1), [99])):
            sure += 1
        chances = [
            place
            for (team, place), found in reached.items()
            if team == need.team and min(found) <= need.target
        ]
        assert (need.sure or 0) == sure
        assert (need.at_least or 0) == max(chances, default=0)


def test_points_for_results_or_rising_with_worse_places_say_nothing() -> None:
    keys: dict[str, list[int | None]] = {"w1": [100, 200], "w2": [100, 200]}
    for points in (
        {"kind": "formula", "formula": "place"},
        {"kind": "formula", "formula": "result"},
    ):
        assert next_needs(awaited_in_last(division(keys, {"points": points}))) is None


def test_with_every_part_counted_nothing_is_to_come() -> None:
    keys: dict[str, list[int | None]] = {"w1": [100, 200]}
    assert next_needs(division(keys, {"points": {"kind": "places"}})) is None
