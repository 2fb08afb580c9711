"""A pace taken over for the rest of the day, and dropped again."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions.paces import drop_paces, take_paces
from callroom.bootstrap.heat_lengths import floor_lengths
from callroom.model import NotAllowed, Refusal, Stale
from callroom.model.forecast import Pace
from callroom.model.pace import by_part
from tests.actions.day_building import DIRECTOR, EVENT, HEAD_JUDGE, Day, loaded_day

SLOW = Pace(
    workout="w1",
    part="a",
    division="pairs",
    permille=1200,
    low_permille=1100,
    high_permille=1300,
    teams=4,
    finished=3,
)


def taken(day: Day, pace: Pace, **options: Any) -> None:
    day.ask(DIRECTOR, take_paces([pace], **options))


def test_the_director_takes_a_pace_over_and_drops_it() -> None:
    day = loaded_day()
    taken(day, SLOW)
    known = day.state.paces["w1/a/pairs"]
    assert (known.permille, known.finished, known.carried) == (1200, 3, False)
    day.ask(DIRECTOR, take_paces([], [replace(SLOW, workout="w2", part="b")]))
    assert day.state.paces["w2/b/pairs"].carried
    assert by_part(day.state.paces.values()) == {
        ("w1", "pairs"): {"a": 1200},
        ("w2", "pairs"): {"b": 1200},
    }
    day.ask(DIRECTOR, drop_paces([known]))
    assert list(day.state.paces) == ["w2/b/pairs"]
    with pytest.raises(Refusal, match="not_in_use"):
        day.ask(DIRECTOR, drop_paces([known]))


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"part": "z"}, "part.unknown"),
        ({"division": "giants"}, "division.unknown"),
        ({"permille": 1400}, "pace.absurd"),
        ({"permille": 9000, "high_permille": 9999}, "pace.absurd"),
        ({"permille": 100, "low_permille": 50}, "pace.absurd"),
    ],
)
def test_an_impossible_pace_is_refused(change: dict[str, Any], rule: str) -> None:
    with pytest.raises(Refusal) as refused:
        taken(loaded_day(), replace(SLOW, **change))
    assert refused.value.rule == rule


def test_it_rests_on_what_was_seen_and_is_the_directors() -> None:
    day = loaded_day()
    taken(day, SLOW, basis={"paces": 0})
    with pytest.raises(Stale):
        taken(day, SLOW, basis={"paces": 0})
    with pytest.raises(NotAllowed):
        day.ask(HEAD_JUDGE, take_paces([SLOW]))


def test_heats_are_expected_to_take_as_long_as_the_pace_says() -> None:
    day = loaded_day()
    as_forecast = floor_lengths(EVENT)
    taken(day, SLOW)
    slower = floor_lengths(EVENT, by_part(day.state.paces.values()))
    assert slower["w1", "pairs"] > as_forecast["w1", "pairs"]
    assert slower["w2", "pairs"] == as_forecast["w2", "pairs"]
