"""The budget as pictures: income and costs over the number of teams, lines planned and actual.

Places are in thousandths of the picture's width and height, so that any screen draws the same.
"""

from datetime import date
from fractions import Fraction

import msgspec

from callroom.funds import Outlook, raised, rounded, standing, transactions
from callroom.model import State
from callroom.model.money import Budget, BudgetLine, Side
from callroom.views.money import LIKELY, MoneyView

WHOLE = 1000
MOST_TICKS = 6
_STEPS = (1, 2, 5)
_LEAST_DAYS = 2


class Tick(msgspec.Struct, frozen=True, kw_only=True):
    """A number on an axis, and where it stands."""

    value: int
    at: int


class Dot(msgspec.Struct, frozen=True, kw_only=True):
    """A scenario on the line of the result: its name, teams, result, and place."""

    name: str
    teams: int
    net: int
    x: int
    y: int


class Course(msgspec.Struct, frozen=True, kw_only=True):
    """The result over the number of teams, in the mix and with the fixed sums of one scenario.

    `zero` is the height of nought, `start` and `end` the heights of the line at the edges;
    heights count from above. `break_even` is where the line crosses nought, None if nowhere
    in the picture.
    """

    start: int
    end: int
    zero: int
    break_even: int | None
    dots: tuple[Dot, ...]
    teams: tuple[Tick, ...]
    amounts: tuple[Tick, ...]


class Bar(msgspec.Struct, frozen=True, kw_only=True):
    """A line with the lengths of its planned and actual sums."""

    line: BudgetLine
    planned: int
    actual: int
    planned_length: int
    actual_length: int


class Rise(msgspec.Struct, frozen=True, kw_only=True):
    """How the figure has risen: steps over the days it was booked on, and the goal's height.

    `points` are pairs of places, one for each day, where it begins; heights count from above.
    `goal` is None without one.
    """

    points: tuple[tuple[int, int], ...]
    goal: int | None
    first: date
    last: date


def rise(state: State, budget: Budget) -> Rise | None:
    """Return how the figure has risen day by day; None before two days have brought anything."""
    book = transactions(state.bookings.values())
    days = sorted({line.day for line in book})
    if len(days) < _LEAST_DAYS:
        return None
    figures = [
        raised(budget, standing(budget, (line for line in book if line.day <= day))).amount
        for day in days
    ]
    high = max(*figures, budget.goal, 1)
    # The last day is as wide as any other, or what it brought would not be seen.
    whole = (days[-1] - days[0]).days + 1
    return Rise(
        points=tuple(
            ((day - days[0]).days * WHOLE // whole, WHOLE - max(amount, 0) * WHOLE // high)
            for day, amount in zip(days, figures, strict=True)
        ),
        goal=WHOLE - budget.goal * WHOLE // high if budget.goal else None,
        first=days[0],
        last=days[-1],
    )


def course(view: MoneyView) -> Course | None:
    """Return the picture of the likely scenario; None where nothing is planned at all."""
    likely = view.outlooks[LIKELY]
    if not any(one.income or one.costs for one in view.outlooks):
        return None
    told = (*view.outlooks, view.entered)
    most_teams = max(*(one.teams for one in told), likely.break_even or 0, 4)
    most_teams += -(-most_teams // 6)
    nets = [likely.fixed, _net(likely, most_teams), 0, *(one.net for one in told)]
    low, high = min(nets), max(nets)
    height = max(high - low, 1)

    def y(amount: int) -> int:
        return WHOLE - round((amount - low) * WHOLE / height)

    def x(teams: int) -> int:
        return round(teams * WHOLE / most_teams)

    even = likely.break_even
    return Course(
        start=y(likely.fixed),
        end=y(_net(likely, most_teams)),
        zero=y(0),
        break_even=x(even) if even is not None and even <= most_teams else None,
        dots=tuple(
            Dot(name=one.scenario.name, teams=one.teams, net=one.net, x=x(one.teams), y=y(one.net))
            for one in told
        ),
        teams=tuple(Tick(value=value, at=x(value)) for value in _values(0, most_teams)),
        amounts=tuple(Tick(value=value, at=y(value)) for value in _values(low, high)),
    )


def bars(view: MoneyView, side: Side) -> tuple[Bar, ...]:
    """Return the lines of a side, planned (likely) and actual, on one scale for both sides."""
    longest = max(
        [max(row.planned[LIKELY], row.actual.amount) for row in view.rows if row.planned],
        default=0,
    )
    return tuple(
        Bar(
            line=row.line,
            planned=row.planned[LIKELY],
            actual=row.actual.amount,
            planned_length=_length(row.planned[LIKELY], longest),
            actual_length=_length(row.actual.amount, longest),
        )
        for row in view.side(side)
    )


def _net(likely: Outlook, teams: int) -> int:
    return likely.fixed + rounded(likely.per_team * teams)


def _length(amount: int, longest: int) -> int:
    return rounded(Fraction(max(amount, 0) * WHOLE, longest)) if longest > 0 else 0


def _values(low: int, high: int) -> tuple[int, ...]:
    """Return round numbers from `low` to `high`, nought among them if it lies between."""
    span, size = max(high - low, 1), 1
    while True:
        for step in _STEPS:
            if span <= size * step * MOST_TICKS:
                width = size * step
                return tuple(range(-(-low // width) * width, high + 1, width))
        size *= 10
