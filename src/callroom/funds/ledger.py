"""The account book: every deed as a transaction whose postings come to nought.

An amount above nought is what an account takes in (debit), below it what it gives (credit), in
whole minor units. Balances are sums over the book and are kept nowhere.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Literal

import msgspec

from callroom.funds.payments import Payment, origins
from callroom.model.money import (
    AnyDeed,
    Booking,
    Counted,
    Received,
    Returned,
    Shifted,
    ShiftEnd,
    Spent,
)

AccountSort = Literal["place", "line", "lent", "owed", "cause", "next_year"]
Happening = Literal["received", "spent", "shifted", "returned", "counted"]


class Account(msgspec.Struct, frozen=True, order=True):
    """One account: a place or line by its `id`, or what is owed to the person `id`.

    ``lent`` is money lent for the tills, ``cause`` what was handed over, ``next_year`` what
    is kept for the next event.
    """

    sort: AccountSort
    id: str = ""


class Posting(msgspec.Struct, frozen=True):
    """What one account takes in (above nought) or gives; for `team`, if it is a team's."""

    account: Account
    amount: int
    team: str = ""


class Transaction(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the account book; its postings come to nought.

    `seq` is the entry that made it; a reversal names in `reverses` what it undoes.
    """

    seq: int
    day: date
    happened: Happening
    what: str
    postings: tuple[Posting, ...]
    reverses: int | None = None


def transactions(bookings: Iterable[Booking]) -> tuple[Transaction, ...]:
    """Return the whole account book in the order in which it was written.

    What moved no money (goods that were given, a count that agreed) has no transaction.
    """
    kept = tuple(bookings)
    known = origins(kept)
    book = [line for booking in kept for line in _lines(booking, known)]
    return tuple(sorted(book, key=lambda line: line.seq))


def balances(book: Iterable[Transaction]) -> Mapping[Account, int]:
    """Return what every account has taken in less what it gave [minor units]."""
    sums: dict[Account, int] = {}
    for line in book:
        for posting in line.postings:
            sums[posting.account] = sums.get(posting.account, 0) + posting.amount
    return sums


def place_balance(bookings: Iterable[Booking], place: str) -> int:
    """Return what should be in a place [minor units]."""
    return balances(transactions(bookings)).get(Account("place", place), 0)


def postings(deed: AnyDeed, known: Mapping[int, Payment]) -> tuple[Posting, ...]:
    """Return what a deed does to the accounts; `known` are the payments a return may be of."""
    match deed:
        case Received():
            pair = _pair(_place(deed.place), _line(deed.line), deed.amount, team=deed.team)
        case Spent():
            payer = Account("owed", deed.paid_by) if deed.paid_by else _place(deed.place)
            pair = _pair(_line(deed.line), payer, deed.amount)
        case Counted():
            pair = _pair(_place(deed.place), _line(deed.line), deed.booked)
        case Shifted():
            pair = _shifted(deed)
        case _:
            pair = _returned(deed, known[deed.of]) if deed.of in known else ()
    return tuple(posting for posting in pair if posting.amount)


def _lines(booking: Booking, known: Mapping[int, Payment]) -> Iterator[Transaction]:
    made = postings(booking.deed, known)
    if not made:
        return
    happened: Happening = _HAPPENED[type(booking.deed)]
    deed = booking.deed
    yield Transaction(
        seq=booking.seq, day=deed.day, happened=happened, what=deed.what, postings=made
    )
    if booking.reversed_seq is not None:
        yield Transaction(
            seq=booking.reversed_seq,
            day=booking.reversed_day or deed.day,
            happened=happened,
            what=booking.reversed_for,
            postings=tuple(Posting(one.account, -one.amount, team=one.team) for one in made),
            reverses=booking.seq,
        )


_HAPPENED: Mapping[type, Happening] = {
    Received: "received",
    Spent: "spent",
    Shifted: "shifted",
    Returned: "returned",
    Counted: "counted",
}


def _pair(into: Account, out_of: Account, amount: int, team: str = "") -> tuple[Posting, ...]:
    return (Posting(into, amount, team=team), Posting(out_of, -amount, team=team))


def _place(place: str) -> Account:
    return Account("place", place)


def _line(line: str) -> Account:
    return Account("line", line)


def _shifted(deed: Shifted) -> tuple[Posting, ...]:
    return (
        Posting(_end(deed.target, deed.target_place, deed.person), deed.amount - deed.fee),
        Posting(_line(deed.fee_line), deed.fee),
        Posting(_end(deed.source, deed.source_place, deed.person), -deed.amount),
    )


def _end(sort: ShiftEnd, place: str, person: str) -> Account:
    if sort == "place":
        return _place(place)
    return Account(sort, person if sort == "owed" else "")


def _returned(deed: Returned, source: Payment) -> tuple[Posting, ...]:
    """Take money off the line and team it was on, to where it goes instead."""
    instead = {
        "refund": Posting(_place(deed.place), -deed.amount),
        "gift": Posting(_line(deed.line), -deed.amount, team=source.team),
        "move": Posting(_line(source.line), -deed.amount, team=deed.team),
        "next_year": Posting(Account("next_year"), -deed.amount),
    }
    return (Posting(_line(source.line), deed.amount, team=source.team), instead[deed.how])
