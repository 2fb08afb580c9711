"""Corners of reading a score: what does not fit, what is absurd, which attempt counts."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Lift, Mass, Rerun, Result, ScoreSheet
from callroom.scoring.key import (
    CAPPED,
    FINISHED,
    LATEST,
    MOST,
    fewest_first,
    load_units,
    modified,
    most_first,
    same_result,
)
from callroom.scoring.resolve import Terms, counting_score, resolve, terms_of
from callroom.scoring.score import Score
from tests.scoring.casebook import result, sheets, state_of

WORKOUTS: list[dict[str, Any]] = [
    {"id": "time", "kind": "time", "work": 100},
    {"id": "work", "kind": "work"},
    {"id": "closed", "kind": "work", "work": 60},
    {"id": "load", "kind": "load"},
    {"id": "metres", "kind": "distance"},
]
STATE = state_of({"teams": "Ash", "workouts": WORKOUTS, "scores": {}})


def terms(workout: str) -> Terms:
    assert STATE.event is not None
    part = STATE.event.workout(workout).parts[0]
    return terms_of(workout, part, STATE.event.divisions[0], STATE.event.rules)


def sheet(given_result: Result) -> ScoreSheet:
    (made,) = sheets("w", "a", "Ash", "?")
    kept = made.reports[0]
    return replace(made, reports=(replace(kept, report=replace(kept.report, result=given_result)),))


def score(workout: str, text: str) -> Score:
    return resolve(terms(workout), sheet(result(text)))


@pytest.mark.parametrize(
    ("workout", "text", "kind"),
    [
        ("time", "77", "capped"),
        ("time", "finished", "awaited"),
        ("time", "cap", "awaited"),
        ("time", "100kg", "awaited"),
        ("time", "400m", "awaited"),
        ("work", "cap 77", "worked"),
        ("work", "5:00", "awaited"),
        ("closed", "5:00", "worked"),
        ("load", "lifted", "lifted"),
        ("load", "77", "awaited"),
        ("metres", "77", "awaited"),
        ("metres", "wd", "withdrew"),
        ("metres", "dns", "did_not_start"),
        ("metres", "?", "awaited"),
    ],
)
def test_an_outcome_of_another_kind_is_read_by_the_number_it_brings(
    workout: str, text: str, kind: str
) -> None:
    assert score(workout, text).kind == kind


def test_all_the_work_finished_in_a_work_part_is_all_the_work() -> None:
    assert score("closed", "5:00").work == 60
    assert score("closed", "5:00").key == score("closed", "60").key


def test_a_sheet_without_any_report_is_awaited() -> None:
    empty = ScoreSheet(workout="work", part="a", team="Ash")
    assert resolve(terms("work"), empty).kind == "awaited"


def test_a_choice_that_names_no_report_awaits_another() -> None:
    wrong = replace(sheet(result("50")), chosen_seq=99)
    assert resolve(terms("work"), wrong).kind == "awaited"


def test_a_split_is_forgotten_where_none_is_taken() -> None:
    assert score("work", "50 @3:00").tiebreak_ms is None
    assert score("work", "50 @3:00").key == score("work", "50").key


def test_the_work_reported_with_a_finish_past_the_cap_is_what_counts() -> None:
    late = replace(result("10:30"), work=95)
    found = resolve(terms("time"), sheet(late))
    assert (found.kind, found.work, found.missing, found.past_cap_ms) == ("capped", 95, 5, 630_000)


def test_what_was_lifted_is_kept_as_loaded_and_added_exactly() -> None:
    found = score("load", "95lb")
    assert found.masses == (Mass(amount=Decimal(95), unit="lb"),)
    assert found.load_g == Fraction(95 * 45359237, 100000)


@pytest.mark.parametrize("amount", ["-100", "0", "-0"])
def test_a_load_that_is_no_load_lifts_nothing(amount: str) -> None:
    nothing = Lift(task="lift", mass=Mass(amount=Decimal(amount)), good=True)
    found = resolve(terms("load"), sheet(Result(outcome="lifted", lifts=(nothing,))))
    assert (found.masses, found.load_g) == ((), Fraction(0))
    assert found.key == score("load", "x100kg").key


@pytest.mark.parametrize(
    "absurd",
    [
        Result(outcome="finished", time_ms=-5),
        Result(outcome="capped", work=-5),
        Result(outcome="capped", work=2**200, tiebreak_ms=2**200),
        Result(outcome="capped", work=50, tiebreak_ms=-(2**200)),
    ],
)
def test_absurd_numbers_stay_in_their_group(absurd: Result) -> None:
    """Whatever was typed, a capped team never passes a finisher nor drops below modified work."""
    found = resolve(terms("time"), sheet(absurd))
    assert found.key is not None
    group = FINISHED if absurd.outcome == "finished" else CAPPED
    assert fewest_first(group, 0, 0) <= found.key <= fewest_first(group, MOST, LATEST)


# ---- attempts --------------------------------------------------------------------------------


def attempt(number: int, text: str) -> Score:
    return resolve(terms("work"), replace(sheet(result(text)), attempt=number))


def rerun(number: int, counts: str) -> Rerun:
    return Rerun(
        seq=number,
        workout="work",
        team="Ash",
        attempt=number,
        counts="better" if counts == "better" else "replaces",
        reason="fault",
    )


def counting(scores: list[Score], *reruns: Rerun) -> Score:
    return counting_score(terms("work"), "Ash", scores, reruns)


def test_of_several_attempts_the_order_in_which_they_were_made_counts() -> None:
    first, second, third = attempt(1, "50"), attempt(2, "40"), attempt(3, "45")
    replaces_then_better = (rerun(2, "replaces"), rerun(3, "better"))
    better_then_replaces = (rerun(2, "better"), rerun(3, "replaces"))
    assert counting([third, first, second], *replaces_then_better) == third
    assert counting([second, third, first], *better_then_replaces) == third
    assert counting([first, second, third], rerun(2, "better"), rerun(3, "better")) == first


def test_a_first_attempt_never_reported_gives_way_to_a_re_run() -> None:
    assert counting([attempt(2, "40")], rerun(2, "better")).work == 40
    assert counting([attempt(1, "?"), attempt(2, "40")]).work == 40


def test_a_re_run_that_is_not_in_leaves_the_result_and_is_marked() -> None:
    waiting = counting([attempt(1, "50")], rerun(2, "replaces"))
    assert (waiting.work, waiting.attempt, waiting.rerun_awaited) == (50, 1, True)
    unknown = counting([attempt(1, "50"), attempt(2, "?")], rerun(2, "replaces"))
    assert (unknown.work, unknown.rerun_awaited) == (50, True)


def test_a_level_re_run_leaves_the_first_attempt() -> None:
    assert counting([attempt(1, "50"), attempt(2, "50")], rerun(2, "better")).attempt == 1


def test_nothing_reported_and_nothing_granted_is_awaited() -> None:
    assert counting([]) == Score("Ash", "awaited")
    assert counting([], rerun(2, "better")).kind == "awaited"


# ---- keys ------------------------------------------------------------------------------------

small = st.integers(0, 3)


@given(st.tuples(small, small, small), st.tuples(small, small, small))
def test_keys_compare_group_then_result_then_split(
    one: tuple[int, int, int], other: tuple[int, int, int]
) -> None:
    assert (fewest_first(*one) < fewest_first(*other)) == (one < other)
    most_one, most_other = ((group, -value, split) for group, value, split in (one, other))
    assert (most_first(*one) < most_first(*other)) == (most_one < most_other)
    assert same_result(fewest_first(*one), fewest_first(*other)) == (one[:2] == other[:2])


@given(small, small)
def test_modified_work_keeps_its_order_below_all_other_work(one: int, other: int) -> None:
    mine, theirs = most_first(CAPPED, one, 0), most_first(CAPPED, other, 0)
    assert (modified(mine) < modified(theirs)) == (mine < theirs)
    assert modified(fewest_first(FINISHED, 0, 0)) > fewest_first(CAPPED, MOST, LATEST)


@given(
    st.decimals(0, 2000, places=5), st.decimals(0, 2000, places=5), st.sampled_from(["kg", "lb"])
)
def test_loads_compare_as_their_exact_masses(one: Decimal, other: Decimal, unit: str) -> None:
    left = Mass(amount=one, unit="kg")
    right = Mass(amount=other, unit="lb" if unit == "lb" else "kg")
    assert (load_units(left) < load_units(right)) == (left.grams() < right.grams())
    assert (load_units(left) == load_units(right)) == (left.grams() == right.grams())
