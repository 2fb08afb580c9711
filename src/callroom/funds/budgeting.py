"""What a budget comes to: each line in a scenario, the result, and how many teams carry it."""

from collections.abc import Mapping
from fractions import Fraction

import msgspec

from callroom.funds.exact import rounded
from callroom.model.money import Budget, BudgetLine, Scenario


class LinePlan(msgspec.Struct, frozen=True, kw_only=True):
    """A line with what is planned for it [minor units]."""

    line: BudgetLine
    amount: int


class Outlook(msgspec.Struct, frozen=True, kw_only=True):
    """A scenario worked out [minor units].

    Attributes
    ----------
    lines
        Every line of the budget, in its order.
    income, costs, teams
        Sums over it.
    break_even
        The least number of teams, in the scenario's mix of divisions, with which nothing is
        lost; None: no number of teams does it.
    for_goal
        The same for the event's goal, which is for the figure that the budget shows: all that
        comes in, or what is left after costs.
    fixed, per_team
        The result is ``fixed + teams × per_team``, the second exact.
    """

    scenario: Scenario
    lines: tuple[LinePlan, ...]
    income: int
    costs: int
    teams: int
    break_even: int | None
    for_goal: int | None
    fixed: int
    per_team: Fraction

    @property
    def net(self) -> int:
        """What is left for the cause; below nought: what is lost."""
        return self.income - self.costs


def outlook(budget: Budget, scenario: Scenario, heads: Mapping[str, int]) -> Outlook:
    """Return what `budget` comes to in `scenario`; `heads` are the athletes of a team by division."""
    lines = tuple(
        LinePlan(line=line, amount=planned(line, scenario, heads)) for line in budget.lines
    )
    income = sum(one.amount for one in lines if one.line.side == "income")
    costs = sum(one.amount for one in lines if one.line.side == "cost")
    fixed, per_team = _course(budget.lines, scenario, heads)
    counted = tuple(one for one in budget.lines if one.side == "income")
    to_goal = (
        (fixed, per_team) if budget.figure == "after_costs" else _course(counted, scenario, heads)
    )
    return Outlook(
        scenario=scenario,
        lines=lines,
        income=income,
        costs=costs,
        teams=sum(one.count for one in scenario.teams),
        break_even=_least_teams(fixed, per_team, 0),
        for_goal=_least_teams(*to_goal, budget.goal),
        fixed=fixed,
        per_team=per_team,
    )


def planned(line: BudgetLine, scenario: Scenario, heads: Mapping[str, int]) -> int:
    """Return what is planned for a line [minor units]."""
    by_teams = sum(
        one.count * _each(line, one.division, heads)
        for one in scenario.teams
        if line.division in {"", one.division}
    )
    return _fixed(line, scenario) + by_teams


def _fixed(line: BudgetLine, scenario: Scenario) -> int:
    income = line.side == "income"
    percent = scenario.income_percent if income else scenario.cost_percent
    return rounded(Fraction(line.fixed * percent, 100))


def _each(line: BudgetLine, division: str, heads: Mapping[str, int]) -> int:
    return line.per_team + line.per_head * heads.get(division, 0)


def _signed(line: BudgetLine, amount: int) -> int:
    return amount if line.side == "income" else -amount


def _course(
    lines: tuple[BudgetLine, ...], scenario: Scenario, heads: Mapping[str, int]
) -> tuple[int, Fraction]:
    """Return what `lines` come to without teams, and what one more team adds, exact.

    A team is the average over the scenario's mix of divisions; where no team is planned every
    division counts alike.
    """
    fixed = sum(_signed(line, _fixed(line, scenario)) for line in lines)
    weights = {one.division: one.count for one in scenario.teams}
    if not any(weights.values()):
        weights = dict.fromkeys(heads, 1)
    total = sum(weights.values())
    if not total:
        return fixed, Fraction(0)
    whole = sum(
        weight * _signed(line, _each(line, division, heads))
        for line in lines
        for division, weight in weights.items()
        if line.division in {"", division}
    )
    return fixed, Fraction(whole, total)


def _least_teams(fixed: int, per_team: Fraction, target: int) -> int | None:
    if fixed >= target:
        return 0
    if per_team <= 0:
        return None
    return -int((fixed - target) // per_team)
