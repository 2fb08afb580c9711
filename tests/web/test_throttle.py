"""Limits for one sender, by a clock that the test moves."""

import pytest

from callroom.web.throttle import MOST_SENDERS, Throttle, TooOften


class Clock:
    def __init__(self) -> None:
        self.now_s = 0.0

    def __call__(self) -> float:
        return self.now_s


def test_a_bucket_empties_and_fills_again() -> None:
    clock = Clock()
    throttle = Throttle(burst=2, per_s=0.5, tell_s=clock)
    throttle.take("a")
    throttle.take("a")
    with pytest.raises(TooOften) as refused:
        throttle.take("a")
    assert refused.value.facts == {"wait_s": 2}
    clock.now_s = 2.0
    throttle.take("a")
    with pytest.raises(TooOften):
        throttle.take("a")


def test_it_never_holds_more_than_its_burst() -> None:
    clock = Clock()
    throttle = Throttle(burst=2, per_s=1, tell_s=clock)
    throttle.take("a")
    clock.now_s = 1000.0
    for _ in range(2):
        throttle.take("a")
    with pytest.raises(TooOften):
        throttle.take("a")


def test_senders_do_not_slow_each_other_and_are_forgotten_in_time() -> None:
    throttle = Throttle(burst=1, per_s=1, tell_s=Clock())
    for number in range(MOST_SENDERS + 10):
        throttle.take(str(number))
    throttle.take("0")  # forgotten, so its bucket is full again
    with pytest.raises(TooOften):
        throttle.take(str(MOST_SENDERS + 9))
