"""Entry fees: what the budget asks of a team, and what is there of it."""

from collections.abc import Iterable

from callroom.funds.payments import payments
from callroom.model.money import Booking, Budget


def asked_of(budget: Budget, division: str, team_size: int) -> int:
    """Return what the lines of entries ask of a team of `team_size` [minor units]."""
    return sum(
        line.per_team + line.per_head * team_size
        for line in budget.lines
        if line.sort == "entries" and line.division in {"", division}
    )


def paid_by(budget: Budget, bookings: Iterable[Booking], team: str) -> int:
    """Return what is there of a team's payments on lines of entries [minor units]."""
    lines = {line.id for line in budget.lines if line.sort == "entries"}
    return sum(
        payment.left
        for payment in payments(bookings).values()
        if payment.team == team and payment.line in lines
    )
