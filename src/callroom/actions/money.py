"""What is done with money, each as the request it makes."""

from datetime import date

from callroom.actions.request import Request, propose
from callroom.journal.entries import money_bodies as bodies
from callroom.model.money import AnyDeed, Budget


def set_budget(budget: Budget, *, seen: int | None = None) -> Request:
    """Put this budget in place of the one before; with `seen`, only if that is still its entry."""
    basis = {} if seen is None else {"budget": seen}
    return propose(bodies.BudgetSet(budget=budget), basis=basis)


def book_money(deed: AnyDeed, *, seen: int | None = None) -> Request:
    """Book one deed; with `seen`, only if no money was booked after that entry.

    A count rests on what the book thought to be there when it was shown.
    """
    basis = {} if seen is None else {"money": seen}
    return propose(bodies.MoneyBooked(booked=deed), basis=basis)


def take_back(seq: int, day: date, reason: str) -> Request:
    """Reverse a booking by a line of its own."""
    return propose(bodies.MoneyReversed(seq=seq, day=day, reason=reason))


def correct(seq: int, day: date, reason: str, instead: AnyDeed) -> Request:
    """Reverse a booking and book it as it should have been, both or neither."""
    return propose(
        bodies.MoneyReversed(seq=seq, day=day, reason=reason), bodies.MoneyBooked(booked=instead)
    )


def note_promise(
    line: str, amount: int, *, giver: str = "", may_name: bool = False, what: str = ""
) -> Request:
    """Note that somebody said they would give `amount` [minor units]."""
    return propose(
        bodies.MoneyPromised(line=line, amount=amount, giver=giver, may_name=may_name, what=what)
    )


def end_promise(seq: int, reason: str) -> Request:
    """Expect nothing more of a promise."""
    return propose(bodies.PromiseEnded(seq=seq, reason=reason))


def keep_receipt(seq: int, receipt: str) -> Request:
    """Name the picture of a cost's receipt."""
    return propose(bodies.ReceiptKept(seq=seq, receipt=receipt))
