"""The account book as read: every deed in order, with what may still be done about it."""

from collections.abc import Iterator, Mapping
from datetime import date

import msgspec

from callroom.funds import Account, Payment, Posting, payments, transactions
from callroom.model import State
from callroom.model.money import (
    AnyDeed,
    Booking,
    Counted,
    Promise,
    Received,
    Returned,
    Shifted,
    Spent,
)

__all__ = [
    "Account",
    "BookLine",
    "account_book",
    "booking_line",
    "open_promises",
    "people_in",
]


class BookLine(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the account book.

    Attributes
    ----------
    happened
        The deed's name; for a return how it was returned.
    amount
        What it was about [minor units].
    postings
        What it did to the accounts; none for goods, and for a count that agreed.
    giver, team, goods, receipt
        As booked; empty where there is none.
    left
        What is left of a payment to be returned; None where it is none.
    stands
        Whether it was not reversed. A reversal is a line of its own, with what it `reverses`.
    """

    seq: int
    day: date
    happened: str
    what: str
    amount: int
    postings: tuple[Posting, ...]
    giver: str = ""
    team: str = ""
    goods: str = ""
    receipt: str = ""
    left: int | None = None
    stands: bool = True
    reverses: int | None = None


def account_book(state: State) -> tuple[BookLine, ...]:
    """Return every line in the order written, reversals among them."""
    bookings = tuple(state.bookings.values())
    known = payments(bookings)
    posted = {line.seq: line.postings for line in transactions(bookings)}
    lines = [line for booking in bookings for line in _lines(booking, posted, known)]
    return tuple(sorted(lines, key=lambda line: line.seq))


def booking_line(state: State, seq: int) -> BookLine | None:
    """Return the line of one booking, or None if there is none."""
    return next((line for line in account_book(state) if line.seq == seq), None)


def open_promises(state: State) -> tuple[tuple[Promise, int], ...]:
    """Return the promises of which something is to come, with how much [minor units]."""
    bookings = tuple(state.bookings.values())
    told = ((promise, promise.left(bookings)) for promise in state.promises.values())
    return tuple((promise, left) for promise, left in told if left)


def people_in(state: State) -> frozenset[str]:
    """Return the ids of everybody that the money names: givers, lenders, who paid, who counted."""
    found = {one.giver for one in state.promises.values()}
    for booking in state.bookings.values():
        found |= set(_named(booking.deed))
    return frozenset(found - {""})


def _named(deed: AnyDeed) -> tuple[str, ...]:
    match deed:
        case Received():
            return (deed.giver,)
        case Spent():
            return (deed.paid_by,)
        case Shifted():
            return (deed.person,)
        case Counted():
            return deed.counted_by
        case _:
            return ()


def _lines(
    booking: Booking, posted: Mapping[int, tuple[Posting, ...]], known: Mapping[int, Payment]
) -> Iterator[BookLine]:
    deed = booking.deed
    payment = known.get(booking.seq)
    yield BookLine(
        seq=booking.seq,
        day=deed.day,
        happened=deed.how if isinstance(deed, Returned) else _NAMES[type(deed)],
        what=deed.what,
        amount=_amount(deed),
        postings=posted.get(booking.seq, ()),
        giver=deed.giver if isinstance(deed, Received) else "",
        team=deed.team if isinstance(deed, Received | Returned) else "",
        goods=deed.goods if isinstance(deed, Received) else "",
        receipt=deed.receipt if isinstance(deed, Spent) else "",
        left=payment.left if payment is not None else None,
        stands=booking.stands,
    )
    if booking.reversed_seq is not None:
        yield BookLine(
            seq=booking.reversed_seq,
            day=booking.reversed_day or deed.day,
            happened="reversed",
            what=booking.reversed_for,
            amount=_amount(deed),
            postings=posted.get(booking.reversed_seq, ()),
            stands=False,
            reverses=booking.seq,
        )


def _amount(deed: AnyDeed) -> int:
    return deed.found if isinstance(deed, Counted) else deed.amount


_NAMES: Mapping[type, str] = {
    Received: "received",
    Spent: "spent",
    Shifted: "shifted",
    Counted: "counted",
}
