"""What a treasurer has yet to do before the statement is worth signing, as findings."""

from collections.abc import Iterator

from callroom.funds.account import Standing, standing
from callroom.funds.ledger import Account, transactions
from callroom.model.finding import Finding, Severity
from callroom.model.money import Booking, Budget, Counted, Promise, Spent


def open_points(
    budget: Budget, bookings: tuple[Booking, ...], promises: tuple[Promise, ...]
) -> tuple[Finding, ...]:
    """Return what is odd or still open, the grave first."""
    now = standing(budget, transactions(bookings))
    return (
        *_places(budget, now, bookings),
        *_people(now),
        *_receipts(budget, bookings),
        *_promised(bookings, promises),
    )


def _places(budget: Budget, now: Standing, bookings: tuple[Booking, ...]) -> Iterator[Finding]:
    for place in budget.places:
        amount = now.places[place.id]
        if place.sort == "cash" and amount < 0:
            yield _found("money.cash_below", "error", place=place.name)
        # An empty till need not be counted again after its count.
        if place.sort == "cash" and amount and _uncounted(place.id, bookings):
            yield _found("money.not_counted", "warning", place=place.name)
        if place.sort == "card" and amount:
            yield _found("money.card_waits", "note", place=place.name)


def _uncounted(place: str, bookings: tuple[Booking, ...]) -> bool:
    """Whether money moved in a place after its last count, or was never counted."""
    moved = [
        line.seq
        for line in transactions(bookings)
        if any(one.account == Account("place", place) for one in line.postings)
    ]
    counted = [
        one.seq
        for one in bookings
        if one.stands and isinstance(one.deed, Counted) and one.deed.place == place
    ]
    return bool(moved) and max(moved) > max(counted, default=0)


def _people(now: Standing) -> Iterator[Finding]:
    if now.lent:
        yield _found("money.float_out", "warning")
    for _ in now.owed:
        yield _found("money.owed", "warning")


def _receipts(budget: Budget, bookings: tuple[Booking, ...]) -> Iterator[Finding]:
    names = {line.id: line.name for line in budget.lines}
    without = [
        names.get(booking.deed.line, booking.deed.line)
        for booking in bookings
        if booking.stands and isinstance(booking.deed, Spent) and not booking.deed.receipt
    ]
    if without:
        lines = ", ".join(dict.fromkeys(without))
        yield _found("money.no_receipt", "note", count=len(without), lines=lines)


def _promised(bookings: tuple[Booking, ...], promises: tuple[Promise, ...]) -> Iterator[Finding]:
    waiting = [one for one in promises if one.left(bookings)]
    if waiting:
        yield _found("money.promises_open", "note", count=len(waiting))


def _found(rule: str, severity: Severity, **facts: str | int) -> Finding:
    return Finding(rule=rule, severity=severity, subject="money", facts=facts)
