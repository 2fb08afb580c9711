"""Points by each kind of award, as printed, and the trial of a formula before the day."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from callroom.model import Finding, Points
from callroom.scoring import RULES, check_points, division_standings, points_text
from callroom.scoring.points import Award
from callroom.scoring.score import Score
from callroom.views.sentences import sentence
from tests.scoring.casebook import event, state_of

FORMULA_FAULTS = [
    ("1" * 201, "formula.too_long"),
    ("100 % place", "formula.unexpected"),
    ("100 -", "formula.incomplete"),
    ("1000000000000", "formula.number_too_long"),
    ("100 - rank", "formula.unknown_name"),
    ("min(place)", "formula.wrong_count"),
    ("(place", "formula.sign_missing"),
    ("-" * 30 + "1", "formula.too_deep"),
    ("100 / (place - 1)", "formula.divides_by_nought"),
    ("1000 / result", "formula.divides_by_nought"),
    ("1.001 ** (2 * place)", "formula.power_too_big"),
    ("10 ** 12 * teams", "formula.number_too_big"),
    ("(18 - result) ** 1.81", "formula.root_of_negative"),
    ("round_down(100 / place, place)", "formula.decimals"),
]


def found(formula: str) -> tuple[Finding, ...]:
    rules = state_of(
        {"teams": "Ash", "workouts": [], "scores": {}},
        {"points": {"kind": "formula", "formula": formula}},
    ).event
    assert rules is not None
    return check_points(rules)


@pytest.mark.parametrize(("formula", "rule"), FORMULA_FAULTS, ids=[r for _, r in FORMULA_FAULTS])
def test_a_formula_that_would_fail_on_the_day_is_found_before(formula: str, rule: str) -> None:
    (finding,) = found(formula)
    assert (finding.rule, finding.subject) == (rule, "rules.points.formula")
    assert set(finding.facts) == set(RULES[rule].facts) | {"formula"}
    assert sentence(finding)


def test_every_fault_of_a_formula_has_been_tried() -> None:
    listed = {rule.rule for rule in RULES if rule.rule.startswith("formula.")}
    assert {rule for _, rule in FORMULA_FAULTS} == listed


@pytest.mark.parametrize(
    "formula",
    [
        "100 - 5 * (place - 1)",
        "floor(25.4347 * max(0, 18 - result) ** 1.81)",
        "round_down(100 * (teams - place + 1) / teams, 1)",
        "100 * 0.9 ** (place - 1)",
    ],
)
def test_a_sound_formula_has_nothing_to_find(formula: str) -> None:
    assert found(formula) == ()


def test_other_kinds_of_points_have_no_formula_to_find_faults_in() -> None:
    assert check_points(event(divisions=(), workouts=())) == ()


def test_a_formula_that_fails_on_the_day_earns_nothing_and_says_so() -> None:
    case = {
        "teams": "Ash Birch",
        "workouts": [{"id": "w1", "kind": "work"}],
        "scores": {"w1": {"a": {"Ash": "10", "Birch": "5"}}},
    }
    standings = division_standings(
        state_of(case, {"points": {"kind": "formula", "formula": "10 / (place - 1)"}}), "d"
    )
    (fault,) = standings.faults
    assert fault.rule == "formula.divides_by_nought"
    assert fault.facts["tried"] == "place = 1, teams = 2, result = 0"
    assert [(row.team, row.points) for row in standings.rows] == [
        ("Birch", Fraction(10)),
        ("Ash", Fraction(0)),
    ]
    unreadable = division_standings(
        state_of(case, {"points": {"kind": "formula", "formula": "10 +"}}), "d"
    )
    assert [each.rule for each in unreadable.faults] == ["formula.incomplete"]
    assert {row.points for row in unreadable.rows} == {Fraction(0)}


def test_points_that_do_not_end_are_kept_exactly() -> None:
    case = {
        "teams": "Ash Birch Cedar",
        "workouts": [{"id": f"w{number}", "kind": "work"} for number in (1, 2, 3)],
        "scores": {
            f"w{number}": {"a": {"Ash": "3", "Birch": "2", "Cedar": "1"}} for number in (1, 2, 3)
        },
    }
    rules = {"points": {"kind": "formula", "formula": "100 / place"}}
    rows = division_standings(state_of(case, rules), "d").rows
    # Cedar has three thirds of a hundred: a hundred, not 99.999….
    assert [row.points for row in rows] == [Fraction(300), Fraction(150), Fraction(100)]


@pytest.mark.parametrize(
    ("points", "text"),
    [
        (Fraction(9), "9"),
        (Fraction(9, 2), "4.5"),
        (Fraction(1, 8), "0.125"),
        (Fraction(100, 3), "33.333…"),
        (Fraction(1, 16), "0.062…"),
        (Fraction(0), "0"),
        (Fraction(1000), "1000"),
        (Fraction(-7, 2), "−3.5"),
        (Fraction(-1, 10**6), "−0.000…"),
    ],
)
def test_points_are_printed_without_rounding_up(points: Fraction, text: str) -> None:
    assert points_text(points) == text


def test_a_line_never_falls_under_nought_and_a_table_ends_in_nought() -> None:
    part = state_of({"teams": "Ash", "workouts": [{"id": "w", "kind": "work"}], "scores": {}})
    assert part.event is not None
    described = part.event.workouts[0].parts[0]
    scores = [Score("T", "worked", work=1)] * 5
    places = [1, 2, 3, 4, None]
    line = Award(Points(kind="linear", first=Decimal(10), step=Decimal("4.5")), 4)
    table = Award(Points(kind="table", table=(Decimal("12.5"), Decimal(8))), 4)
    total = Award(Points(kind="places"), 4)
    assert line.points(described, places, scores) == [10, Fraction(11, 2), 1, 0, 0]
    assert table.points(described, places, scores) == [Fraction(25, 2), 8, 0, 0, 0]
    assert total.points(described, places, scores) == [1, 2, 3, 4, 5]


def test_the_formulas_of_the_documentation_are_sound() -> None:
    text = (Path(__file__).parents[2] / "docs" / "scoring.md").read_text(encoding="utf-8")
    formulas = text.split("```")[1].strip().splitlines()
    assert len(formulas) == 4
    assert [found(formula) for formula in formulas] == [()] * 4
