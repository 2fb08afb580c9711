"""The statement for the cause: what came, what it cost, what is left, and how it was counted."""

from datetime import date

import msgspec

from callroom.model import State
from callroom.model.money import Counted
from callroom.views.money import LineRow, MoneyView, money_view
from callroom.views.page_head import PageHead, page_head


class CountLine(msgspec.Struct, frozen=True, kw_only=True):
    """A count: when, which place, what was found, what of it was news, by how many people."""

    day: date
    place: str
    found: int
    booked: int
    line: str
    people: int


class Statement(msgspec.Struct, frozen=True, kw_only=True):
    """Everything the cause is told [minor units], with nobody's name.

    `seq` and `at_ms` say which entry it was made after.
    """

    head: PageHead
    seq: int
    at_ms: int
    charity: str
    money: MoneyView
    income: tuple[LineRow, ...]
    costs: tuple[LineRow, ...]
    counts: tuple[CountLine, ...]


def statement(state: State) -> Statement:
    """Return the statement as the book stands; NotFound without an event or a budget."""
    money = money_view(state)
    return Statement(
        head=page_head(state),
        seq=state.seq,
        at_ms=state.at_ms,
        charity=state.budget.charity if state.budget is not None else "",
        money=money,
        income=tuple(row for row in money.side("income") if _told(row)),
        costs=tuple(row for row in money.side("cost") if _told(row)),
        counts=_counts(state),
    )


def _told(row: LineRow) -> bool:
    return bool(row.actual.came or row.actual.returned)


def _counts(state: State) -> tuple[CountLine, ...]:
    budget = state.budget
    if budget is None:
        return ()
    lines = {line.id: line.name for line in budget.lines}
    return tuple(
        CountLine(
            day=booking.deed.day,
            place=budget.place(booking.deed.place).name,
            found=booking.deed.found,
            booked=booking.deed.booked,
            line=lines.get(booking.deed.line, "") if booking.deed.booked else "",
            people=len(booking.deed.counted_by),
        )
        for booking in state.bookings.values()
        if booking.stands and isinstance(booking.deed, Counted)
    )
