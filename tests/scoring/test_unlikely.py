"""What the forecast does not expect is found, and nothing that lies near it."""

import pytest

from callroom.bootstrap.expected import expected_scores
from callroom.model import Result
from callroom.scoring.odd import Lane
from callroom.scoring.unlikely import Expected, unlikely
from tests.views.building import example_event

EVENT = example_event()
LANE = Lane("w1", EVENT.workout("w1").parts[0], EVENT.division("open"), "T01")
EXPECTED = Expected(fastest_s=360, least=100, most=200)


@pytest.mark.parametrize(
    ("result", "rules"),
    [
        (Result(outcome="finished", time_ms=12_000), ["score.faster_than_forecast"]),
        (Result(outcome="finished", time_ms=251_999), ["score.faster_than_forecast"]),
        (Result(outcome="finished", time_ms=252_000), []),
        (Result(outcome="worked", work=300), []),
        (Result(outcome="worked", work=301), ["score.more_than_forecast"]),
        (Result(outcome="capped", work=39), ["score.less_than_forecast"]),
        (Result(outcome="capped", work=40), []),
        (Result(outcome="covered", distance_m=20), ["score.less_than_forecast"]),
        (Result(outcome="did_not_start"), []),
    ],
)
def test_only_what_is_far_beyond_every_simulated_team_is_found(
    result: Result, rules: list[str]
) -> None:
    assert [finding.rule for finding in unlikely(LANE, result, EXPECTED)] == rules


def test_without_a_forecast_nothing_is_found() -> None:
    result = Result(outcome="finished", time_ms=1)
    assert unlikely(LANE, result, Expected()) == ()


def test_the_forecast_of_an_event_expects_something_of_every_part() -> None:
    found = expected_scores(EVENT)
    parts = {
        (workout.id, part.id, division.id)
        for workout in EVENT.workouts
        for part in workout.parts
        for division in EVENT.divisions
    }
    assert found.keys() == parts
    haul = found["w1", "a", "open"]
    assert haul.fastest_s is not None
    assert 120 < haul.fastest_s < 12 * 60
    rounds = found["w2", "a", "open"]
    assert rounds.least is not None
    assert rounds.most is not None
    assert 0 < rounds.least < rounds.most
