"""What is odd about a score is found, and only that; nothing is refused."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from callroom.model import KitItem, Mass, NotFound, State
from callroom.scoring import RULES, Lane, odd_result, odd_scores
from callroom.views.sentences import sentence
from tests.scoring.casebook import result, state_of

CASE = {
    "teams": "Ash",
    "workouts": [
        {"id": "time", "kind": "time", "work": 100, "tiebreak": {"after": "t"}},
        {
            "id": "split",
            "kind": "time",
            "work": 100,
            "tiebreak": {"after": "t", "splits_finishers": True},
        },
        {"id": "work", "kind": "work", "tiebreak": {"after": "round"}},
        {"id": "closed", "kind": "work", "work": 60},
        {"id": "metres", "kind": "distance"},
        {
            "id": "marks",
            "kind": "distance",
            "blocks": [
                {
                    "id": "b",
                    "open_ended": True,
                    "tasks": [
                        {"id": "t", "movement": "m", "unit": "metres", "amounts": [50], "mark": 5}
                    ],
                }
            ],
        },
        {
            "id": "load",
            "kind": "load",
            "blocks": [
                {
                    "id": "b",
                    "tasks": [{"id": "lift", "movement": "m", "unit": "lift", "tries": 2}],
                }
            ],
        },
    ],
    "scores": {},
}
STATE = state_of(CASE)


def kit(kind: str, amount: str, unit: str = "kg") -> KitItem:
    mass = Mass(amount=Decimal(amount), unit="kg" if unit == "kg" else "lb")
    return KitItem(id=f"{kind}{amount}", name=kind, kind=kind, count=2, mass=mass)  # type: ignore[arg-type]


# The smallest plate is 1.25 kg, so bars go up in steps of 2.5 kg from 15 or 20.
KIT = (
    kit("plate", "10"),
    kit("plate", "1.25"),
    kit("bar", "20"),
    kit("bar", "15"),
    kit("dumbbell", "24"),
    kit("plate", "5", "lb"),
    kit("bar", "45", "lb"),
)


def lane(workout: str) -> Lane:
    assert STATE.event is not None
    part = STATE.event.workout(workout).parts[0]
    return Lane(workout, part, STATE.event.divisions[0], "Ash")


@pytest.mark.parametrize(
    ("workout", "text", "rules"),
    [
        ("time", "5:00 @3:00", []),
        ("time", "5:00", []),
        ("time", "10:00.9", []),
        ("time", "cap 99 @3:00", []),
        ("time", "dns", []),
        ("time", "wd", []),
        ("time", "?", []),
        ("time", "77 @3:00", ["kind_does_not_fit"]),
        ("work", "cap 77 @3:00", ["kind_does_not_fit"]),
        ("closed", "finished", ["kind_does_not_fit"]),
        ("work", "5:00 @3:00", ["kind_does_not_fit", "number_missing"]),
        ("time", "400m @3:00", ["kind_does_not_fit", "number_missing"]),
        ("metres", "77", ["kind_does_not_fit", "number_missing"]),
        ("time", "finished", ["number_missing"]),
        ("time", "cap @3:00", ["number_missing"]),
        ("time", "10:01", ["time_past_cap"]),
        ("time", "cap 101 @3:00", ["more_than_possible"]),
        ("closed", "61", ["more_than_possible"]),
        ("time", "cap 100 @3:00", ["all_done_but_capped"]),
        ("closed", "60", []),
        ("work", "0", ["nought"]),
        ("metres", "0m", ["nought"]),
        ("marks", "50m", []),
        ("marks", "52m", ["stretch_not_complete"]),
        ("marks", "4m", ["stretch_not_complete"]),
        ("load", "x100kg", ["nought"]),
        ("load", "100kg", []),
        ("load", "97.5kg", []),
        ("load", "101kg", ["lift_off_step"]),
        ("load", "12.5kg", ["lift_off_step"]),
        ("load", "24kg", []),
        ("load", "95lb", []),
        ("load", "98lb", ["lift_off_step"]),
        ("load", "other:100kg", ["lift_unknown"]),
        ("load", "100kg 102.5kg x105kg", ["lifts_over_tries"]),
        ("split", "5:00", ["split_missing"]),
        ("time", "cap 50", ["split_missing"]),
        ("time", "cap 0", ["nought"]),
        ("work", "50", ["split_missing"]),
        ("closed", "50 @3:00", ["split_without_rule"]),
        ("time", "5:00 @5:01", ["split_after_finish"]),
        ("time", "5:00 @5:00", []),
        ("work", "50 @10:01", ["split_past_cap"]),
        ("time", "cap 0 @3:00", ["nought", "split_with_nought"]),
        ("work", "dns stop", ["stop_without_work"]),
        ("work", "50 @3:00 stop", []),
    ],
)
def test_what_is_odd_about_a_result(workout: str, text: str, rules: list[str]) -> None:
    found = odd_result(lane(workout), result(text), KIT)
    assert [finding.rule for finding in found] == [f"score.{rule}" for rule in rules]
    for finding in found:
        assert set(finding.facts) == set(RULES[finding.rule].facts)
        assert finding.severity == RULES[finding.rule].severity
        assert finding.severity != "error"
        assert sentence(finding)


def test_less_than_nothing_is_odd() -> None:
    negative = replace(result("5:00"), time_ms=-1, tiebreak_ms=-5)
    found = odd_result(lane("time"), negative)
    assert [finding.facts["field"] for finding in found] == ["time_ms", "tiebreak_ms"]
    assert {finding.rule for finding in found} == {"score.number_negative"}


def test_without_plates_on_the_kit_list_any_load_can_be() -> None:
    assert odd_result(lane("load"), result("101.3kg"), (kit("bar", "20"),)) == ()


def test_without_bars_loads_are_held_against_the_plates_alone() -> None:
    plates = (kit("plate", "2.5"),)
    assert odd_result(lane("load"), result("100kg"), plates) == ()
    (found,) = odd_result(lane("load"), result("102.5kg"), plates)
    assert (found.facts["load"], found.facts["step"]) == ("102.5 kg", "5 kg")


@pytest.mark.parametrize(
    ("workout", "text", "fields"),
    [
        ("time", "5:00 +5s -2", ["counts"]),
        ("time", "cap 50 @3:00 +5s -2", ["seconds"]),
        ("work", "50 @3:00 +5s -2", ["seconds"]),
        ("metres", "50m +5s -2", ["seconds"]),
        ("load", "100kg +5s -2", ["seconds", "counts"]),
    ],
)
def test_a_penalty_that_changes_nothing_is_found(
    workout: str, text: str, fields: list[str]
) -> None:
    case = {**CASE, "scores": {workout: {"a": {"Ash": text}}}}
    found = odd_scores(state_of(case))
    assert [finding.rule for finding in found] == ["score.penalty_without_effect"] * len(fields)
    assert [finding.facts["field"] for finding in found] == fields


def test_seconds_change_a_capped_team_where_the_cap_is_a_time() -> None:
    case = {
        "teams": "Ash",
        "workouts": [{"id": "w", "kind": "time", "work": 9, "cap_rule": "second_per_missing"}],
        "scores": {"w": {"a": {"Ash": "cap 5 +5s"}}},
    }
    assert odd_scores(state_of(case)) == ()


def test_all_counting_scores_of_a_book_are_looked_at() -> None:
    case = {
        **CASE,
        "scores": {"work": {"a": {"Ash": "0 => 50 @3:00"}}, "closed": {"a": {"Ash": "61"}}},
    }
    state = replace(state_of(case), kit=KIT)
    assert [finding.subject for finding in odd_scores(state)] == ["score.closed.a.Ash"]


def test_a_sheet_of_a_team_or_part_that_is_gone_is_no_reason_to_fail() -> None:
    case = {**CASE, "scores": {"work": {"a": {"Birch": "50"}}, "gone": {"a": {"Ash": "50"}}}}
    assert odd_scores(state_of(case)) == ()


def test_a_book_without_an_event_has_no_scores_to_judge() -> None:
    with pytest.raises(NotFound):
        odd_scores(State())


def test_every_rule_about_odd_scores_has_been_tried() -> None:
    tried = {
        rule
        for mark in test_what_is_odd_about_a_result.pytestmark  # type: ignore[attr-defined]
        for _, _, rules in mark.args[1]
        for rule in rules
    }
    listed = {rule.rule.removeprefix("score.") for rule in RULES if rule.rule.startswith("score.")}
    # What only a forecast or a second source tells is tried in test_unlikely and at the desk.
    elsewhere = {"faster_than_forecast", "more_than_forecast", "less_than_forecast", "other_source"}
    assert listed - tried == {"number_negative", "penalty_without_effect"} | elsewhere
