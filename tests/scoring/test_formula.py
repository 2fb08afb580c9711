"""The grammar of points formulas, its faults, and that it is worked out exactly."""

from decimal import Context, Decimal
from fractions import Fraction
from math import floor, isqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.scoring import FormulaError
from callroom.scoring.exact import KEPT_DECIMALS, work_out
from callroom.scoring.formula import (
    DEEPEST,
    LONGEST,
    Call,
    Name,
    Node,
    Number,
    Operation,
    names_in,
    read_formula,
)

VALUES = {"place": Fraction(3), "teams": Fraction(20), "result": Fraction(655, 2)}


def worth(text: str, **values: int | Fraction) -> Fraction:
    given_values = {name: Fraction(value) for name, value in values.items()}
    return work_out(read_formula(text), {**VALUES, **given_values})


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("7", Fraction(7)),
        ("0.1 + 0.2", Fraction(3, 10)),
        ("2 + 3 * 4", Fraction(14)),
        ("(2 + 3) * 4", Fraction(20)),
        ("10 - 2 - 3", Fraction(5)),
        ("100 / 3", Fraction(100, 3)),
        ("12 / 3 / 2", Fraction(2)),
        ("2 ** 3 ** 2", Fraction(512)),
        ("-2 ** 2", Fraction(-4)),
        ("2 ** -2", Fraction(1, 4)),
        ("- - 3", Fraction(3)),
        ("+place", Fraction(3)),
        ("teams - place + 1", Fraction(18)),
        ("result", Fraction(655, 2)),
        ("floor(7 / 2)", Fraction(3)),
        ("floor(-7 / 2)", Fraction(-4)),
        ("ceil(7 / 2)", Fraction(4)),
        ("ceil(-7 / 2)", Fraction(-3)),
        ("abs(2 - 5)", Fraction(3)),
        ("min(3, 1, 2) + max(3, 1)", Fraction(4)),
        ("round_down(100 / 3, 2)", Fraction(3333, 100)),
        ("round_down(-100 / 3, 1)", Fraction(-334, 10)),
        ("4 ** 0.5", Fraction(2)),
        ("(9 / 4) ** 1.5", Fraction(27, 8)),
        ("0.25 ** -0.5", Fraction(2)),
        ("(1 / 27) ** (1 / 3)", Fraction(1, 3)),
        ("0 ** 1.81", Fraction(0)),
        ("0 ** 0", Fraction(1)),
        ("1 ** 0.37", Fraction(1)),
    ],
)
def test_formulas_worked_by_hand(text: str, expected: Fraction) -> None:
    assert worth(text) == expected


@pytest.mark.parametrize(
    ("text", "rule", "position"),
    [
        ("", "formula.incomplete", 1),
        ("3 +", "formula.incomplete", 4),
        ("3 + * 4", "formula.unexpected", 5),
        ("3 4", "formula.unexpected", 3),
        ("3 % 4", "formula.unexpected", 3),
        ("2 ^ 3", "formula.unexpected", 3),
        ("3 + ä", "formula.unexpected", 5),
        ("(3 + 4", "formula.sign_missing", 7),
        ("floor 3", "formula.sign_missing", 7),
        ("place(3)", "formula.unexpected", 6),
        ("points * 2", "formula.unknown_name", 1),
        ("1 + sin(3)", "formula.unknown_name", 5),
        ("__import__", "formula.unknown_name", 1),
        ("min(1)", "formula.wrong_count", 1),
        ("floor(1, 2)", "formula.wrong_count", 1),
        ("1 + 1234567890123", "formula.number_too_long", 5),
        ("(" * (DEEPEST + 1) + "1", "formula.too_deep", DEEPEST + 1),
        ("-" * (DEEPEST + 1) + "1", "formula.too_deep", DEEPEST + 1),
        ("2" + " ** 2" * DEEPEST, "formula.too_deep", 5 * DEEPEST + 1),
        ("1" * (LONGEST + 1), "formula.too_long", LONGEST + 1),
        ("lambda: 1", "formula.unexpected", 7),
        ("place.__class__", "formula.unexpected", 6),
        ("'a'", "formula.unexpected", 1),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_position(
    text: str, rule: str, position: int
) -> None:
    with pytest.raises(FormulaError) as refused:
        read_formula(text)
    assert (refused.value.rule, refused.value.facts["position"]) == (rule, position)


@pytest.mark.parametrize(
    ("text", "rule", "position"),
    [
        ("1 / (place - 3)", "formula.divides_by_nought", 3),
        ("1 / (2 ** 0.5 - 2 ** 0.5)", "formula.divides_by_nought", 3),
        ("0 ** -1", "formula.divides_by_nought", 3),
        ("0 ** -0.5", "formula.divides_by_nought", 3),
        ("(1 - place) ** 0.5", "formula.root_of_negative", 13),
        ("1 ** 1025", "formula.power_too_big", 3),
        ("2 ** 64", "formula.number_too_big", 1),
        ("(9 ** 1000) ** 64", "formula.number_too_big", 13),
        ("round_down(1, 0.5)", "formula.decimals", 1),
        ("round_down(1, 7)", "formula.decimals", 1),
        ("floor((10 ** 60) ** 60.5)", "formula.number_too_big", 1),
    ],
)
def test_what_cannot_be_worked_out_is_refused_with_its_position(
    text: str, rule: str, position: int
) -> None:
    with pytest.raises(FormulaError) as refused:
        worth(text)
    assert (refused.value.rule, refused.value.facts["position"]) == (rule, position)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # A whole number reached over irrational ones is that whole number, from either side.
        ("floor((2 ** 0.5) ** 2)", 2),
        ("ceil((2 ** 0.5) ** 2)", 2),
        ("floor(3 ** (1 / 3) * 9 ** (1 / 3))", 3),
        ("floor(2 ** 0.5 - 2 ** 0.5)", 0),
        ("round_down((2 ** 0.5) ** 2, 3)", 2),
        # (1 + 10 ** -12) ** 0.5 is above one by half of 10 ** -12 and not more.
        ("ceil((1 + 1 / 10 ** 12) ** 0.5)", 2),
        ("floor((1 - 1 / 10 ** 12) ** 0.5)", 0),
        # The same by 10 ** -60, where the first fifty digits cannot tell.
        ("ceil((1 + 1 / 10 ** 60) ** 0.5)", 2),
        ("floor((1 - 1 / 10 ** 60) ** 0.5)", 0),
        ("abs(floor(0 - 2 ** 0.5))", 2),
        ("max(2 ** 0.5, 1) ** 2", 2),
    ],
)
def test_a_whole_number_is_certain(text: str, expected: int) -> None:
    assert worth(text) == expected


def test_an_irrational_outcome_is_right_to_its_last_decimal() -> None:
    scale = 10**KEPT_DECIMALS
    exact = isqrt(2 * (10 * scale) ** 2)  # the root of 2 with one decimal more
    assert worth("2 ** 0.5") * scale == round(Fraction(exact, 10))


@given(st.integers(1, 10**6), st.integers(1, 400))
def test_powers_agree_with_a_hundred_digits(base: int, hundredths: int) -> None:
    """Compared with the decimal module at a precision far beyond ours."""
    exponent = Decimal(hundredths) / 100
    near = Context(prec=100).power(Decimal(base), exponent)
    text = f"1.5 * {base} ** {exponent}"
    if 1.5 * float(near) < 1e11:
        assert abs(worth(text) - Fraction(near) * Fraction(3, 2)) <= Fraction(1, 10**KEPT_DECIMALS)
        assert worth(f"floor({text})") == floor(Fraction(near) * Fraction(3, 2))


numbers = st.builds(
    lambda over, decimals: Number(Fraction(over, 10**decimals)),
    st.integers(0, 9999),
    st.integers(0, 3),
)
trees: st.SearchStrategy[Node] = st.recursive(
    numbers | st.builds(Name, st.sampled_from(["place", "teams", "result"]), st.just(0)),
    lambda inner: (
        st.builds(Operation, st.sampled_from(["+", "-", "*"]), inner, inner, st.just(0))
        | st.builds(lambda value: Call("floor", (value,), 0), inner)
        | st.builds(lambda a, b: Call("min", (a, b), 0), inner, inner)
    ),
    max_leaves=12,
)


def written(tree: Node) -> str:
    if isinstance(tree, Number):
        return str(Decimal(tree.value.numerator) / Decimal(tree.value.denominator))
    if isinstance(tree, Name):
        return tree.name
    if isinstance(tree, Call):
        return f"{tree.function}({', '.join(map(written, tree.values))})"
    return f"({written(tree.left)} {tree.sign} {written(tree.right)})"


def plainly(tree: Node) -> Fraction:
    """The value of a tree without roots, said the simplest way."""
    if isinstance(tree, Number):
        return tree.value
    if isinstance(tree, Name):
        return VALUES[tree.name]
    if isinstance(tree, Call):
        values = [plainly(value) for value in tree.values]
        return Fraction(floor(values[0])) if tree.function == "floor" else min(values)
    one, other = plainly(tree.left), plainly(tree.right)
    return {"+": one + other, "-": one - other, "*": one * other}[tree.sign]


@given(trees)
def test_what_is_written_is_read_back_and_worked_out_exactly(tree: Node) -> None:
    text = written(tree)
    expected = plainly(tree)
    if len(text) <= LONGEST and abs(expected) <= 10**12:
        assert worth(text) == expected


@given(st.text(alphabet="0123456789.()+-*/, \tplacetmsfornudw_xª", max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    position = 1
    try:
        work_out(read_formula(text), VALUES)
    except FormulaError as refused:
        position = int(refused.facts["position"] or 0)
    assert 1 <= position <= len(text) + 1


def test_the_names_a_formula_uses_are_known() -> None:
    assert names_in(read_formula("max(place, 2) ** 0.5 - 1")) == {"place"}
    assert names_in(read_formula("floor(result * teams)")) == {"result", "teams"}
    assert names_in(read_formula("7")) == frozenset()
