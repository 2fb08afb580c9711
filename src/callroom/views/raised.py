"""The figure for the stage: what was raised so far, for everybody to see."""

import msgspec

from callroom.funds import payments, raised, standing, transactions
from callroom.model import State


class RaisedView(msgspec.Struct, frozen=True, kw_only=True):
    """What was raised so far [minor units of `currency`], with nobody's name.

    Attributes
    ----------
    amount, goal, percent
        How far it has come; without a goal `goal` and `percent` are 0.
    reached
        The same cut to a hundred, for drawing.
    after_costs
        Costs paid so far are taken off.
    payments
        How many payments stand.
    cause
        Whom it is for.
    """

    currency: str
    cause: str
    amount: int
    goal: int
    percent: int
    after_costs: bool
    payments: int

    @property
    def reached(self) -> int:
        """The share of the goal [%], at most 100."""
        return min(self.percent, 100)


def raised_view(state: State) -> RaisedView | None:
    """Return the figure, or None if the director shows none to the hall."""
    event, budget = state.event, state.budget
    if event is None or budget is None or not budget.on_screen:
        return None
    bookings = tuple(state.bookings.values())
    figure = raised(budget, standing(budget, transactions(bookings)))
    return RaisedView(
        currency=event.currency,
        cause=event.cause,
        amount=figure.amount,
        goal=figure.goal,
        percent=figure.percent,
        after_costs=figure.after_costs,
        payments=sum(1 for one in payments(bookings).values() if one.left),
    )
