"""A device's idea of the server's time, from answers at given times of its own clock."""

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.frontend.running import evaluate

# A device whose clocks the test moves: its steady clock and its wall clock run together.
DEVICE = """(() => {
  let steady = 0, wall = 0;
  Object.defineProperty(performance, "timeOrigin", { value: 0, configurable: true });
  performance.now = () => steady;
  Date.now = () => wall;
  const clock = new it.SyncedClock();
  return %s.map(([does, ...given]) => {
    if (does === "at") { steady = given[0]; wall = given[0] + (given[1] ?? 0); }
    if (does === "note") clock.note(...given);
    return { now: clock.now(), error: clock.error, jumped: clock.jumped, known: clock.known };
  });
})()"""


def played(*steps: tuple[Any, ...]) -> list[Any]:
    said: list[Any] = evaluate("clock/synced.ts", DEVICE % json.dumps(steps))
    return said


def test_before_an_answer_nothing_is_known() -> None:
    (one,) = played(("at", 5_000))
    assert (one["known"], one["error"], one["now"]) == (False, None, 5_000)


def test_the_quickest_answer_is_believed_and_doubt_grows_with_age() -> None:
    said = played(
        ("at", 1_000),
        ("note", 900, 1_000, 70_900),  # 100 ms on its way: wrong by 51 at most
        ("note", 996, 1_000, 71_000),  # 4 ms: wrong by 3
        ("at", 61_000),
    )
    assert [one["error"] for one in said[1:]] == [51, 3, 9]
    assert abs(said[2]["now"] - (71_000.5 + 2)) < 1
    assert abs(said[3]["now"] - (131_000.5 + 2)) < 1


def test_a_server_clock_that_was_set_is_followed_at_once() -> None:
    said = played(
        ("at", 1_000),
        ("note", 996, 1_000, 71_000),
        ("at", 2_000),
        ("note", 1_990, 2_000, 60_000),
    )
    assert said[1]["jumped"] == 0
    # It showed 71,000 when the device showed 998, and 60,000 when that showed 1,995.
    assert said[3]["jumped"] == (60_000 - 1_995) - (71_000 - 998)
    assert abs(said[3]["now"] - 60_005.5) < 1


def test_after_a_sleep_that_stopped_the_steady_clock_old_answers_are_void() -> None:
    said = played(
        ("at", 1_000),
        ("note", 998, 1_000, 71_000),
        ("at", 2_000, 30_000),  # the wall clock went on for 30 s more
        ("note", 1_900, 2_000, 101_950),
    )
    assert said[3]["error"] == 51
    assert abs(said[3]["now"] - (101_950.5 + 50)) < 1


def test_a_practice_run_that_runs_faster_is_followed() -> None:
    said = played(
        ("at", 1_000),
        ("note", 1_000, 1_000, 500_000, 60),
        ("at", 2_000),
    )
    assert abs(said[2]["now"] - 560_000.5) < 1


@settings(max_examples=8)
@given(
    st.lists(
        st.tuples(st.integers(0, 400), st.integers(0, 400), st.integers(1, 30_000)),
        min_size=1,
        max_size=12,
    )
)
def test_the_time_is_never_further_off_than_said(trips: list[tuple[int, int, int]]) -> None:
    ahead, at = 123_456, 10_000
    steps: list[tuple[Any, ...]] = []
    for there, back, pause in trips:
        sent, at = at, at + there + back
        steps += [("at", at), ("note", sent, at, sent + there + ahead)]
        at += pause
        steps.append(("at", at))
    said = played(*steps)
    for (does, *given_at), one in zip(steps, said, strict=True):
        if does == "at" and one["known"]:
            assert abs(one["now"] - (given_at[0] + ahead)) <= one["error"]
    assert said[-1]["jumped"] == 0
