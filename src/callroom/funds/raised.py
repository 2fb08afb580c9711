"""The figure for the stage: what was raised so far. The statement replaces it."""

import msgspec

from callroom.funds.account import Standing
from callroom.model.money import Budget


class Raised(msgspec.Struct, frozen=True, kw_only=True):
    """What was raised so far, and the goal [minor units]; `percent` of it, cut off."""

    amount: int
    goal: int
    after_costs: bool

    @property
    def percent(self) -> int:
        """How much of the goal is reached [%], never below 0; 0 without a goal."""
        return max(self.amount, 0) * 100 // self.goal if self.goal else 0


def raised(budget: Budget, now: Standing) -> Raised:
    """Return the figure; floats, promises and money kept for next year are not in it."""
    after_costs = budget.figure == "after_costs"
    return Raised(
        amount=now.net if after_costs else now.income,
        goal=budget.goal,
        after_costs=after_costs,
    )
