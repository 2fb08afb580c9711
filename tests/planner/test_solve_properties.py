"""The solver against exhaustive search, and every answer against the check."""

import msgspec
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from callroom.planner import Incumbent, Limits, Problem, Timetable, check_timetable
from callroom.planner.solve import certificate_s, solve
from callroom.planner.solve.listed import listed
from tests.planner.exhaustive import best, between_blocks_s, longest_wait_s, stands_of
from tests.planner.tiny_days import tiny_days, wished_days

EASY = settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])


@EASY
@given(tiny_days(most_slots=4))
def test_tiny_days_are_solved_to_the_exhaustive_optimum(problem: Problem) -> None:
    answer = solve(problem, Limits(work=10))
    assert answer.status == "solved"
    assert answer.finish_s is not None
    assert check_timetable(problem, answer) == ()
    assert all(aim.proven for aim in answer.aims)
    truth = best(problem, answer.finish_s)
    assert truth is not None
    assert answer.finish_s == truth.finish_s
    reached = {aim.name: aim.value_s for aim in answer.aims}
    assert reached.get("longest_wait") == truth.wait_s
    assert reached.get("changeovers") == truth.changeovers_s


@settings(max_examples=50, suppress_health_check=[HealthCheck.too_slow])
@given(wished_days(most_slots=4))
def test_tiny_days_with_particular_wishes_are_solved_to_the_exhaustive_optimum(
    problem: Problem,
) -> None:
    answer = solve(problem, Limits(work=10))
    assert answer.status in {"solved", "infeasible"}
    if answer.finish_s is None:
        assert best(problem, 30) is None
        return
    assert check_timetable(problem, answer) == ()
    truth = best(problem, answer.finish_s)
    assert truth is not None
    assert answer.finish_s == truth.finish_s
    assert answer.certificate_s <= answer.finish_s
    reached = {aim.name: aim.value_s for aim in answer.aims}
    assert reached.get("longest_wait") == truth.wait_s
    assert reached.get("changeovers") == truth.changeovers_s
    assert reached.get("early") == truth.early_s


@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow])
@given(wished_days(most_slots=6), st.integers(1, 12))
def test_what_a_list_puts_down_keeps_every_rule(problem: Problem, rounds: int) -> None:
    free = msgspec.structs.replace(problem, shape="heats", rhythm=False, least_pitch_s=0)
    placed = listed(free, rounds, seed=1)
    if placed:
        length_s = {slot.id: slot.length_s for slot in free.slots}
        finish_s = max(place.start_s + length_s[place.slot] for place in placed)
        timetable = Timetable(status="solved", placed=placed, finish_s=finish_s)
        assert check_timetable(free, timetable) == ()
        assert listed(free, rounds, seed=1) == placed


@EASY
@given(tiny_days(most_slots=4))
def test_the_certificate_holds_for_heats_taking_turns(problem: Problem) -> None:
    free = msgspec.structs.replace(problem, shape="heats", rhythm=False)
    answer = solve(free, Limits(work=10))
    assert answer.finish_s is not None
    assert certificate_s(problem) <= answer.finish_s
    assert best(free, certificate_s(problem) - 1) is None


@EASY
@given(tiny_days(most_slots=4), st.integers(4, 14))
def test_a_day_is_called_impossible_exactly_when_it_is(problem: Problem, closes_s: int) -> None:
    short = msgspec.structs.replace(problem, closes_s=closes_s)
    answer = solve(short, Limits(work=10))
    possible = best(problem, closes_s) is not None
    assert answer.status == ("solved" if possible else "infeasible")
    assert bool(answer.findings) != possible
    if possible:
        assert check_timetable(short, answer) == ()


@settings(max_examples=25)
@given(tiny_days(most_slots=8))
def test_every_incumbent_keeps_every_rule(problem: Problem) -> None:
    met: list[Incumbent] = []
    answer = solve(problem, Limits(work=10), met.append)
    assert met
    for one in met:
        timetable = Timetable(status="solved", placed=one.placed, finish_s=one.finish_s)
        assert check_timetable(problem, timetable) == ()
        assert one.bound_s <= one.value_s
    assert answer.finish_s == min(one.finish_s for one in met)


@EASY
@given(tiny_days(most_slots=8))
def test_the_timetable_reaches_what_its_aims_say(problem: Problem) -> None:
    answer = solve(problem, Limits(work=10))
    assert check_timetable(problem, answer) == ()
    stands = stands_of(problem, answer.placed)
    wait, changes = answer.aim("longest_wait"), answer.aim("changeovers")
    assert wait is None or longest_wait_s(problem, stands) <= wait.value_s
    assert changes is None or between_blocks_s(problem, stands) <= changes.value_s
