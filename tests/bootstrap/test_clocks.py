"""Clocks that can be waited for without waiting."""

from callroom.bootstrap.clocks import FastClock, SteppedClock, WallClock


def test_a_stepped_clock_jumps_and_never_goes_back() -> None:
    clock = SteppedClock(1_000)
    clock.wait_until(5_000)
    clock.wait_until(2_000)
    assert clock.now_ms() == 5_000


def test_a_fast_clock_reaches_what_is_waited_for() -> None:
    clock = FastClock(0, 100_000)
    clock.wait_until(1_000)
    assert clock.now_ms() >= 1_000


def test_the_wall_clock_goes_on() -> None:
    clock = WallClock()
    first = clock.now_ms()
    clock.wait_until(first + 2)
    assert clock.now_ms() >= first + 2
