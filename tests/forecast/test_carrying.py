"""What a division's results say of workouts it has not done yet."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.forecast import carry_over
from callroom.model.forecast import Pace


def measured(permille: int, wide: int = 50, part: str = "a") -> Pace:
    return Pace(
        workout="w1",
        part=part,
        division="pairs",
        permille=permille,
        low_permille=permille - wide,
        high_permille=permille + wide,
        teams=10,
        finished=9,
    )


def guessed(*paces: Pace) -> Pace:
    found = carry_over(paces, workout="w2", part="b")
    assert found is not None
    return found


def test_nothing_measured_says_nothing() -> None:
    assert carry_over((), workout="w2", part="b") is None


def test_one_part_counts_half_and_more_count_more() -> None:
    assert guessed(measured(1210)).permille == 1100
    assert guessed(measured(1210), measured(1210)).permille == round(1000 * 1.21 ** (2 / 3))
    assert guessed(measured(800), measured(1250)).permille == 1000
    one = guessed(measured(900))
    assert (one.workout, one.part, one.division, one.teams) == ("w2", "b", "pairs", 0)


@settings(max_examples=50)
@given(st.lists(st.integers(500, 2000), min_size=1, max_size=8))
def test_it_lies_between_the_model_and_what_was_measured(permilles: list[int]) -> None:
    found = guessed(*(measured(one) for one in permilles))
    assert min([1000, *permilles]) <= found.permille <= max([1000, *permilles])
    assert found.low_permille < found.permille < found.high_permille


def test_it_misses_by_less_than_the_model_and_than_the_plain_mean() -> None:
    # Divisions and workouts deviate alike; 2,000 divisions with three parts done, one to come.
    rng = np.random.default_rng(5)
    division = rng.normal(0, 0.1, 2000)
    done = division[:, None] + rng.normal(0, 0.1, (2000, 3))
    to_come = division + rng.normal(0, 0.1, 2000)
    guesses = np.array(
        [guessed(*(measured(round(1000 * np.exp(one))) for one in row)).permille for row in done]
    )

    def missed(guess: np.ndarray) -> float:
        return float(np.mean((guess - to_come) ** 2))

    ours = missed(np.log(guesses / 1000))
    assert ours < missed(np.zeros(2000))
    assert ours < missed(done.mean(axis=1))
    # The best there is: the variance of the part to come, and of the division given three.
    assert ours == pytest.approx(0.01 + 0.01 / 4, rel=0.08)
