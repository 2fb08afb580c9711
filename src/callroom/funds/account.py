"""How the money stands: what came, what went, where it is and whose it is, all derived."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

import msgspec

from callroom.funds.ledger import Account, Transaction, balances
from callroom.model.money import Budget, BudgetLine


class LineActual(msgspec.Struct, frozen=True, kw_only=True):
    """A line with what was booked on it [minor units], on the line's own side.

    For income, `came` is what came in and `returned` what of it was refunded, kept for next
    year or moved off; for costs `came` is what was paid.
    """

    line: BudgetLine
    came: int
    returned: int

    @property
    def amount(self) -> int:
        """What the line comes to."""
        return self.came - self.returned


class Standing(msgspec.Struct, frozen=True, kw_only=True):
    """The whole account [minor units].

    Attributes
    ----------
    places
        What should be in each place.
    lent
        What was lent for the tills and is to be given back.
    owed
        What is owed to each person who paid from their own pocket, by id.
    handed_over
        What the cause has had.
    next_year
        What was kept for the next event.
    """

    lines: tuple[LineActual, ...]
    places: Mapping[str, int]
    lent: int
    owed: Mapping[str, int]
    handed_over: int
    next_year: int

    @property
    def income(self) -> int:
        """All that came in, less what was returned."""
        return sum(one.amount for one in self.lines if one.line.side == "income")

    @property
    def costs(self) -> int:
        """All that was spent."""
        return sum(one.amount for one in self.lines if one.line.side == "cost")

    @property
    def net(self) -> int:
        """What the day has brought for the cause."""
        return self.income - self.costs

    @property
    def held(self) -> int:
        """What is in all places together."""
        return sum(self.places.values())

    @property
    def not_ours(self) -> int:
        """What of it belongs to somebody else: lent, owed, kept for next year."""
        return self.lent + sum(self.owed.values()) + self.next_year

    @property
    def to_hand_over(self) -> int:
        """What the cause is still to have, as far as the places hold it."""
        return self.held - self.not_ours

    @property
    def balances(self) -> bool:
        """Whether where the money came from and where it is agree to the minor unit."""
        return self.net == self.handed_over + self.to_hand_over


def standing(budget: Budget, book: Iterable[Transaction]) -> Standing:
    """Return how the money stands after all of `book`."""
    kept = tuple(book)
    sums = balances(kept)
    return Standing(
        lines=tuple(_actual(line, kept) for line in budget.lines),
        places=MappingProxyType(
            {place.id: sums.get(Account("place", place.id), 0) for place in budget.places}
        ),
        lent=-sums.get(Account("lent"), 0),
        owed=MappingProxyType(
            {
                account.id: -amount
                for account, amount in sorted(sums.items())
                if account.sort == "owed" and amount
            }
        ),
        handed_over=sums.get(Account("cause"), 0),
        next_year=-sums.get(Account("next_year"), 0),
    )


def _actual(line: BudgetLine, book: tuple[Transaction, ...]) -> LineActual:
    """Sum the postings of a line; what a return took off an income line is told apart."""
    account, sign = Account("line", line.id), -1 if line.side == "income" else 1
    came = returned = 0
    for entry in book:
        amount = sign * sum(one.amount for one in entry.postings if one.account == account)
        # A return takes money off a line; its reversal puts it back.
        off = amount > 0 if entry.reverses is not None else amount < 0
        if entry.happened == "returned" and off:
            returned -= amount
        else:
            came += amount
    return LineActual(line=line, came=came, returned=returned)
