"""What the entries about money carry; see `callroom.model.money`."""

from datetime import date

from callroom.journal.entries.bodies import Body
from callroom.model.money import Amount, AnyDeed, Budget


class BudgetSet(Body, frozen=True):
    """The whole budget as it now stands."""

    budget: Budget


class MoneyBooked(Body, frozen=True):
    """Money came in, went out, changed its place or its meaning, or was counted."""

    booked: AnyDeed


class MoneyReversed(Body, frozen=True):
    """A booking undone by a line of its own, for a reason; it stays in the account book."""

    seq: int
    day: date
    reason: str


class MoneyPromised(Body, frozen=True):
    """Somebody said they would give; `giver` is an id."""

    line: str
    amount: Amount
    giver: str = ""
    may_name: bool = False
    what: str = ""


class PromiseEnded(Body, frozen=True):
    """A promise of which nothing more is to be expected."""

    seq: int
    reason: str


class ReceiptKept(Body, frozen=True):
    """The receipt of a cost, found or photographed later; `receipt` names the picture."""

    seq: int
    receipt: str
