"""The wishes of an event as a timetable question."""

from typing import Literal

import pytest
from msgspec.structs import replace

from callroom.model import Pause, Wishes
from callroom.planner import Problem, compose, pose
from callroom.planner.solve import solve
from tests.planner import days

REST_S = 1200


def posed(counts: dict[str, int], *, workouts: int = 2, **wishes: object) -> Problem:
    event = days.event(
        divisions=tuple(counts),
        workouts=[days.workout(f"w{n}") for n in range(1, workouts + 1)],
        wishes=replace(Wishes(rest_s=REST_S), **wishes),
    )
    return pose(event, compose(event, days.teams(counts)))


def linked(problem: Problem) -> set[tuple[str, str]]:
    return {(link.before, link.after) for link in problem.links}


def test_a_heat_holds_the_floor_from_walk_on_to_kit_strip() -> None:
    problem = posed({"a": 7})
    assert {slot.length_s for slot in problem.slots} == {12 * 60}
    assert {slot.judges for slot in problem.slots} == {7}


def test_kept_order_links_a_heat_with_its_own_next() -> None:
    problem = posed({"a": 21}, workouts=3)
    assert linked(problem) == {
        (f"w{w}/a/{n}", f"w{w + 1}/a/{n}") for w in (1, 2) for n in (1, 2, 3)
    }
    assert {link.lag_s for link in problem.links} == {REST_S}
    assert set(problem.waits) == linked(problem)


def test_neighbours_links_a_heat_with_those_beside_its_next_too() -> None:
    problem = posed({"a": 21}, order="neighbours")
    assert linked(problem) == {
        (f"w1/a/{n}", f"w2/a/{m}") for n in (1, 2, 3) for m in (1, 2, 3) if abs(n - m) <= 1
    }
    assert set(problem.waits) == {(f"w1/a/{n}", f"w2/a/{n}") for n in (1, 2, 3)}


def test_reseeding_links_the_last_heat_with_the_first_of_the_next_workout() -> None:
    problem = posed({"a": 21, "b": 14}, order="reseeded")
    assert linked(problem) == {("w1/a/3", "w2/a/1"), ("w1/b/2", "w2/b/1")}
    assert set(problem.waits) == {("w1/a/1", "w2/a/3"), ("w1/b/1", "w2/b/2")}


def test_a_free_order_of_workouts_leaves_the_choice() -> None:
    problem = posed({"a": 7}, workouts=3, workout_order="free")
    assert problem.links == ()
    assert problem.waits == ()
    assert {(e.one.before, e.one.after) for e in problem.eithers} == {
        ("w1/a/1", "w2/a/1"),
        ("w1/a/1", "w3/a/1"),
        ("w2/a/1", "w3/a/1"),
    }
    assert all(e.other.before == e.one.after and e.other.lag_s == REST_S for e in problem.eithers)


def test_a_mixed_heat_comes_before_the_heats_of_its_divisions() -> None:
    problem = posed({"a": 9, "b": 9}, workouts=1, mixed_heats=True)
    assert linked(problem) == {("w1/a+b/1", "w1/a/1"), ("w1/a+b/1", "w1/b/1")}


def test_in_a_mixed_heat_every_division_meets_its_own_next() -> None:
    problem = posed({"a": 9, "b": 9}, order="neighbours", mixed_heats=True)
    after_mixed = {after for before, after in linked(problem) if before == "w1/a+b/1"}
    assert after_mixed == {"w1/a/1", "w1/b/1", "w2/a+b/1", "w2/a/1", "w2/b/1"}


def test_hours_pauses_changeovers_and_limits_are_carried_over() -> None:
    pause = Pause(id="lunch", name="Lunch", start_s=7200, length_s=1800, floors=("main",))
    problem = posed(
        {"a": 7},
        first_heat_s=600,
        finish_by_s=20000,
        slot_s=300,
        pauses=(pause,),
        judges_at_once=9,
        changeover_same_s=60,
        changeover_division_s=120,
        changeover_workout_s=240,
    )
    (carried,) = problem.breaks
    assert (carried.start_s, carried.end_s, carried.floors) == (7200, 9000, ("main",))
    assert (problem.opens_s, problem.closes_s, problem.grid_s) == (600, 20000, 300)
    assert problem.judges_limit == 9
    rule = problem.changeover
    assert (rule.same_s, rule.division_s, rule.workout_s) == (60, 120, 240)
    assert (problem.shape, problem.rhythm) == ("blocks", True)
    assert posed({"a": 7}, constant_rhythm=False).shape == "heats"


@pytest.mark.parametrize("order", ["kept", "neighbours", "reseeded"])
def test_stricter_orders_never_end_earlier(
    order: Literal["kept", "neighbours", "reseeded"],
) -> None:
    finishes = [
        solve(posed({"a": 20, "b": 9}, workouts=3, order=each)).finish_s for each in ("kept", order)
    ]
    assert finishes[0] is not None
    assert finishes[1] is not None
    assert finishes[0] <= finishes[1]
