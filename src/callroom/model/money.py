"""Money: the plan for it, and what was done with it. Amounts are whole minor units.

No name of a person is in here: a giver, a counter or someone who paid from their own pocket
is an id, whose name is kept apart from the journal and can be erased.
"""

from collections.abc import Iterable
from datetime import date
from typing import Annotated, Literal, TypeVar

import msgspec

from callroom.model.currency import MOST_MINOR

Amount = Annotated[int, msgspec.Meta(ge=1, le=MOST_MINOR)]
AmountOrNone = Annotated[int, msgspec.Meta(ge=0, le=MOST_MINOR)]
Difference = Annotated[int, msgspec.Meta(ge=-MOST_MINOR, le=MOST_MINOR)]
Share = Annotated[int, msgspec.Meta(ge=0, le=1000)]

Side = Literal["income", "cost"]
LineSort = Literal[
    "entries",
    "sponsors",
    "stalls",
    "raffle",
    "donations",
    "shirts",
    "insurance",
    "hire",
    "prizes",
    "food",
    "fees",
    "difference",
    "other",
]
PlaceSort = Literal["cash", "bank", "card"]
Country = Literal["", "us", "ca", "gb"]

Named = TypeVar("Named", "Place", "BudgetLine")


class Place(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Where money is: a till, a bank account, or paid by card and not yet paid out."""

    id: str
    name: str
    sort: PlaceSort


class BudgetLine(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One line of the budget: what it is for, and what is planned [minor units].

    `fixed` comes once, `per_team` and `per_head` for every team and athlete of `division`
    (empty: of all). `benefit` is what each payment buys in return, in good faith (a team's
    lunch and shirts), for the letters to those who gave.
    """

    id: str
    name: str
    side: Side
    sort: LineSort
    division: str = ""
    fixed: AmountOrNone = 0
    per_team: AmountOrNone = 0
    per_head: AmountOrNone = 0
    benefit: AmountOrNone = 0

    @property
    def is_gift(self) -> bool:
        """Whether what comes in here is given, not paid for something."""
        return self.sort in {"donations", "sponsors"}


class TeamsOf(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How many teams of a division."""

    division: str
    count: Annotated[int, msgspec.Meta(ge=0, le=100_000)]


class Scenario(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How the year may turn out: teams by division, and the share of the fixed sums [%]."""

    id: str
    name: str
    teams: tuple[TeamsOf, ...] = ()
    income_percent: Share = 100
    cost_percent: Share = 100


class Budget(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The plan for the money.

    Attributes
    ----------
    lines, places, scenarios
        What it is for, where it is kept, how it may turn out; the second of three scenarios
        is the one that actuals are set against.
    goal
        What the day wants to raise [minor units]; 0: no goal.
    figure
        What the figure for the hall counts: all that came ``in``, or ``after_costs``.
    on_screen
        Whether anybody but the director may see that figure.
    country
        Whose published thresholds the letters to givers rest on; empty: ask an adviser.
    charity
        Who issues receipts, in words (name, registration number).
    """

    lines: tuple[BudgetLine, ...] = ()
    places: tuple[Place, ...] = ()
    scenarios: tuple[Scenario, ...] = ()
    goal: AmountOrNone = 0
    figure: Literal["in", "after_costs"] = "in"
    on_screen: bool = False
    country: Country = ""
    charity: str = ""

    def line(self, line_id: str) -> BudgetLine:
        """Return a line by id; KeyError if there is none."""
        return _named(self.lines, line_id)

    def place(self, place_id: str) -> Place:
        """Return a place by id; KeyError if there is none."""
        return _named(self.places, place_id)


def _named(things: tuple[Named, ...], wanted: str) -> Named:
    for thing in things:
        if thing.id == wanted:
            return thing
    raise KeyError(wanted)


class Deed(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, tag_field="deed"):
    """Root of what can be done with money, on a `day`; `what` says it without naming anybody."""

    day: date
    what: str = ""


class Received(Deed, frozen=True, tag="received"):
    """Money, or `goods` in words, that came in for a line.

    Attributes
    ----------
    amount
        May be 0 where only goods were given.
    giver, team
        Who gave, by an id; empty: anonymous. The team whose entry or payment it is.
    may_name
        The giver agreed to be thanked by name.
    benefit, benefit_what
        The good-faith value [minor units] of what the giver got in return, and what it was.
    promise
        The promise it keeps, wholly or in part, by the entry that made it.
    """

    line: str
    place: str = ""
    amount: AmountOrNone = 0
    goods: str = ""
    giver: str = ""
    team: str = ""
    may_name: bool = False
    benefit: AmountOrNone = 0
    benefit_what: str = ""
    promise: int | None = None


class Spent(Deed, frozen=True, tag="spent"):
    """A cost that was paid: from a place, or by a person (`paid_by`) who is owed it since.

    `receipt` is the id of its picture among the attachments; empty: none.
    """

    line: str
    amount: Amount
    place: str = ""
    paid_by: str = ""
    receipt: str = ""


ShiftEnd = Literal["place", "lent", "owed", "cause"]


class Shifted(Deed, frozen=True, tag="shifted"):
    """Money that changed its place and is neither income nor cost, save the `fee` kept back.

    `source` and `target` say what kind of end each is: a ``place``, money ``lent`` for the tills
    (a float), what is ``owed`` to the person `person`, or the ``cause``. A card payout
    goes from the card to the bank, `amount` before the `fee`, which is a cost on `fee_line`.
    """

    amount: Amount
    source: ShiftEnd = "place"
    source_place: str = ""
    target: ShiftEnd = "place"
    target_place: str = ""
    person: str = ""
    fee: AmountOrNone = 0
    fee_line: str = ""


class Returned(Deed, frozen=True, tag="returned"):
    """A payment settled otherwise than it was meant, wholly or in part.

    `of` is the entry that received (or moved) it. ``refund`` pays it back from `place`,
    ``gift`` turns it into one on `line`, ``move`` passes it to another `team`, ``next_year``
    keeps it for the next event.
    """

    of: int
    how: Literal["refund", "gift", "move", "next_year"]
    amount: Amount
    place: str = ""
    line: str = ""
    team: str = ""


class Pieces(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Notes or coins of one `value` [minor units]."""

    value: Amount
    count: Annotated[int, msgspec.Meta(ge=0, le=1_000_000)]


class Counted(Deed, frozen=True, tag="counted"):
    """What was found in a place when it was counted, and what of it is news to the book.

    `booked` is what was found less what the book knew to be there: takings of `line`, or a
    difference; 0 where all agreed. `counted_by` are the ids of those who counted.
    """

    place: str
    pieces: tuple[Pieces, ...] = ()
    counted_by: tuple[str, ...] = ()
    line: str = ""
    booked: Difference = 0

    @property
    def found(self) -> int:
        """What was in the place [minor units]."""
        return sum(one.value * one.count for one in self.pieces)


AnyDeed = Received | Spent | Shifted | Returned | Counted


class Booking(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A deed as booked by an entry; a correction reverses it by a line of its own."""

    seq: int
    at_ms: int
    deed: AnyDeed
    reversed_seq: int | None = None
    reversed_day: date | None = None
    reversed_for: str = ""

    @property
    def stands(self) -> bool:
        """Whether it was not reversed."""
        return self.reversed_seq is None


class Promise(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Money somebody said they would give; nothing was received by it."""

    seq: int
    at_ms: int
    line: str
    amount: Amount
    giver: str = ""
    may_name: bool = False
    what: str = ""
    ended_seq: int | None = None
    ended_for: str = ""

    def left(self, bookings: Iterable[Booking]) -> int:
        """Return what is still to come [minor units]; 0 once it was let go."""
        if self.ended_seq is not None:
            return 0
        kept = sum(
            one.deed.amount
            for one in bookings
            if one.stands and isinstance(one.deed, Received) and one.deed.promise == self.seq
        )
        return max(self.amount - kept, 0)
