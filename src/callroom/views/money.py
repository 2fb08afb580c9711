"""The money at a glance: every line planned and actual, where the money is, what is open."""

from collections.abc import Mapping
from fractions import Fraction

import msgspec

from callroom.funds import (
    LineActual,
    Outlook,
    Raised,
    Standing,
    open_points,
    outlook,
    planned,
    raised,
    rounded,
    standing,
    transactions,
)
from callroom.model import Finding, NotFound, State
from callroom.model.money import BudgetLine, Counted, Place, Scenario, Side, TeamsOf

LIKELY = 1
"""Which of the three scenarios actuals are set against."""


class LineRow(msgspec.Struct, frozen=True, kw_only=True):
    """A line: planned in each scenario, planned for the teams entered, actual, promised."""

    line: BudgetLine
    planned: tuple[int, ...]
    entered: int
    actual: LineActual
    promised: int


class PlaceRow(msgspec.Struct, frozen=True, kw_only=True):
    """A place: what should be in it, and when it was last counted (None: never)."""

    place: Place
    amount: int
    counted: Counted | None


class MoneyView(msgspec.Struct, frozen=True, kw_only=True):
    """The money of a book [minor units of `currency`].

    Attributes
    ----------
    outlooks, entered
        The three scenarios worked out, and the same for the teams entered so far.
    promised
        What is still to come by promises; in no other sum.
    per_head
        What each athlete entered has brought the cause; None without athletes.
    findings
        What is odd or still open.
    """

    currency: str
    rows: tuple[LineRow, ...]
    places: tuple[PlaceRow, ...]
    outlooks: tuple[Outlook, ...]
    entered: Outlook
    now: Standing
    raised: Raised
    promised: int
    per_head: int | None
    findings: tuple[Finding, ...]

    def side(self, side: Side) -> tuple[LineRow, ...]:
        """Return the rows of one side."""
        return tuple(row for row in self.rows if row.line.side == side)


def money_view(state: State) -> MoneyView:
    """Return the money as it stands.

    Raises
    ------
    NotFound
        Without an event or a budget.
    """
    event, budget = state.event, state.budget
    if event is None:
        raise NotFound("book.no_event")
    if budget is None:
        raise NotFound("money.no_budget")
    bookings, promises = tuple(state.bookings.values()), tuple(state.promises.values())
    now = standing(budget, transactions(bookings))
    heads, entered = team_sizes(state), as_entered(state)
    promised = {line.id: 0 for line in budget.lines}
    for promise in promises:
        promised[promise.line] += promise.left(bookings)
    athletes = sum(one.count * heads[one.division] for one in entered.teams)
    return MoneyView(
        currency=event.currency,
        rows=tuple(
            LineRow(
                line=actual.line,
                planned=tuple(planned(actual.line, one, heads) for one in budget.scenarios),
                entered=planned(actual.line, entered, heads),
                actual=actual,
                promised=promised[actual.line.id],
            )
            for actual in now.lines
        ),
        places=tuple(
            PlaceRow(place=place, amount=now.places[place.id], counted=_last_count(state, place))
            for place in budget.places
        ),
        outlooks=tuple(outlook(budget, one, heads) for one in budget.scenarios),
        entered=outlook(budget, entered, heads),
        now=now,
        raised=raised(budget, now),
        promised=sum(promised.values()),
        per_head=rounded(Fraction(now.net, athletes)) if athletes else None,
        findings=open_points(budget, bookings, promises),
    )


def team_sizes(state: State) -> Mapping[str, int]:
    """Return the athletes of a team by division."""
    divisions = state.event.divisions if state.event is not None else ()
    return {division.id: division.team_size for division in divisions}


def as_entered(state: State) -> Scenario:
    """Return the scenario that the teams in the book make, fixed sums as planned."""
    counts = dict.fromkeys(team_sizes(state), 0)
    for team in state.teams.values():
        if team.id not in state.team_status and team.division in counts:
            counts[team.division] += 1
    teams = tuple(TeamsOf(division=name, count=count) for name, count in counts.items())
    return Scenario(id="entered", name="", teams=teams)


def _last_count(state: State, place: Place) -> Counted | None:
    counts = [
        booking.deed
        for booking in state.bookings.values()
        if booking.stands and isinstance(booking.deed, Counted) and booking.deed.place == place.id
    ]
    return counts[-1] if counts else None
