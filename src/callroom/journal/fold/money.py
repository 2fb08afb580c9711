"""Folding of money: bookings are kept as they were made, balances are derived elsewhere."""

from msgspec.structs import replace

from callroom.journal.entries import money_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.money import Booking, Promise, Spent


def budget_set(build: Builder, _entry: Entry, body: bodies.BudgetSet) -> None:
    """Put the budget in place of the one before."""
    build.budget = body.budget
    build.touch("budget")


def money_booked(build: Builder, entry: Entry, body: bodies.MoneyBooked) -> None:
    """Add a booking."""
    build.bookings.put(str(entry.seq), Booking(seq=entry.seq, at_ms=entry.at_ms, deed=body.booked))
    build.touch("money", f"booking:{entry.seq}")


def money_reversed(build: Builder, entry: Entry, body: bodies.MoneyReversed) -> None:
    """Mark a booking as reversed; the reversal is a line of its own in the account book."""
    booking = build.bookings.get(str(body.seq))
    if booking is not None and booking.stands:
        undone = replace(
            booking,
            reversed_seq=entry.seq,
            reversed_day=body.day,
            reversed_for=body.reason,
        )
        build.bookings.put(str(body.seq), undone)
        build.touch("money", f"booking:{body.seq}")


def money_promised(build: Builder, entry: Entry, body: bodies.MoneyPromised) -> None:
    """Note a promise."""
    promise = Promise(
        seq=entry.seq,
        at_ms=entry.at_ms,
        line=body.line,
        amount=body.amount,
        giver=body.giver,
        may_name=body.may_name,
        what=body.what,
    )
    build.promises.put(str(entry.seq), promise)
    build.touch("money", f"promise:{entry.seq}")


def promise_ended(build: Builder, entry: Entry, body: bodies.PromiseEnded) -> None:
    """Expect nothing more of a promise."""
    promise = build.promises.get(str(body.seq))
    if promise is not None and promise.ended_seq is None:
        ended = replace(promise, ended_seq=entry.seq, ended_for=body.reason)
        build.promises.put(str(body.seq), ended)
        build.touch("money", f"promise:{body.seq}")


def receipt_kept(build: Builder, _entry: Entry, body: bodies.ReceiptKept) -> None:
    """Name the receipt of a cost; nothing else of it changes."""
    booking = build.bookings.get(str(body.seq))
    if booking is not None and isinstance(booking.deed, Spent):
        named = replace(booking, deed=replace(booking.deed, receipt=body.receipt))
        build.bookings.put(str(body.seq), named)
        build.touch("money", f"booking:{body.seq}")
