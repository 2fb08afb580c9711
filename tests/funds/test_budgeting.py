"""What a budget comes to, and how many teams carry it, against trying every number."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.funds import outlook, planned
from callroom.model.money import Budget, TeamsOf
from tests.funds.building import BUDGET, line, scenario

HEADS = {"pairs": 2}


def test_the_scenarios_worked_by_hand() -> None:
    careful, likely, full = (outlook(BUDGET, one, HEADS) for one in BUDGET.scenarios)
    # Four pairs: 480 in entries and 60 % of 680; the hall and eight lunches.
    assert (careful.income, careful.costs, careful.net) == (888_00, 1_260_00, -372_00)
    assert (likely.income, likely.costs, likely.net) == (1_640_00, 1_320_00, 320_00)
    assert (full.income, full.costs, full.net) == (2_256_00, 1_380_00, 876_00)
    # A pair brings 120 less two lunches of 7.50: 105.
    assert (likely.fixed, likely.per_team) == (-520_00, Fraction(105_00))
    assert (careful.break_even, likely.break_even, full.break_even) == (8, 5, 4)
    # All that comes in reaches 1 000 with three entries; after costs it takes fifteen.
    assert likely.for_goal == 3
    after_costs = replace(BUDGET, figure="after_costs")
    assert outlook(after_costs, BUDGET.scenarios[1], HEADS).for_goal == 15


def test_a_line_of_one_division_counts_its_teams_only() -> None:
    mixed = replace(
        BUDGET.scenarios[1],
        teams=(TeamsOf(division="pairs", count=3), TeamsOf(division="fours", count=5)),
    )
    heads = {"pairs": 2, "fours": 4}
    assert planned(line("fee", division="fours", per_team=200_00), mixed, heads) == 1_000_00
    assert planned(line("shirts", "cost", per_head=9_00), mixed, heads) == (6 + 20) * 9_00
    budget = Budget(lines=(line("fee", division="fours", per_team=200_00),))
    assert outlook(budget, mixed, heads).per_team == Fraction(5 * 200_00, 8)


def test_a_share_of_a_fixed_sum_is_rounded_once_to_the_nearest_unit() -> None:
    half = scenario("half", 0, income_percent=50)
    assert planned(line("gift", fixed=1_01), half, {}) == 51
    assert planned(line("gift", fixed=1_01), replace(half, income_percent=150), {}) == 1_52


@given(
    fixed_in=st.integers(0, 900),
    fixed_out=st.integers(0, 900),
    fee=st.integers(0, 60),
    lunch=st.integers(0, 40),
    goal=st.integers(0, 500),
)
def test_the_least_number_of_teams_is_the_first_that_does(
    fixed_in: int, fixed_out: int, fee: int, lunch: int, goal: int
) -> None:
    budget = Budget(
        lines=(
            line("gift", fixed=fixed_in),
            line("fee", per_team=fee),
            line("hall", "cost", fixed=fixed_out),
            line("lunch", "cost", per_head=lunch),
        ),
        goal=goal,
    )

    def first(fixed: int, each: int, target: int) -> int | None:
        # 1400 teams at a margin of 1 reach any target there can be here.
        return next((n for n in range(1401) if fixed + n * each >= target), None)

    told = outlook(budget, scenario("likely", 5), HEADS)
    margin = fee - 2 * lunch
    assert told.break_even == first(fixed_in - fixed_out, margin, 0)
    assert told.for_goal == first(fixed_in, fee, goal)
    after_costs = outlook(replace(budget, figure="after_costs"), scenario("likely", 5), HEADS)
    assert after_costs.for_goal == first(fixed_in - fixed_out, margin, goal)
    assert told.net == fixed_in - fixed_out + 5 * (fee - 2 * lunch)


def test_nothing_planned_breaks_even_at_no_team() -> None:
    told = outlook(Budget(), scenario("none", 0), {})
    assert (told.net, told.break_even, told.teams) == (0, 0, 0)
