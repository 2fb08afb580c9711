"""A small invented budget, and money asked for by the real rules."""

from datetime import date
from typing import Any

from callroom.actions import money
from callroom.actions.request import Request
from callroom.model.money import (
    AnyDeed,
    Booking,
    Budget,
    BudgetLine,
    Counted,
    Pieces,
    Place,
    Scenario,
    TeamsOf,
)
from tests.actions.day_building import DIRECTOR, loaded_day

DAY = date(2027, 5, 8)


def line(line_id: str, side: str = "income", sort: str = "other", **more: Any) -> BudgetLine:
    given: dict[str, Any] = {"side": side, "sort": sort} | more
    return BudgetLine(id=line_id, name=line_id.title(), **given)


def scenario(name: str, teams: int, **more: Any) -> Scenario:
    return Scenario(id=name, name=name, teams=(TeamsOf(division="pairs", count=teams),), **more)


BUDGET = Budget(
    lines=(
        line("entries", sort="entries", per_team=120_00, benefit=20_00),
        line("sponsors", sort="sponsors", fixed=500_00),
        line("donations", sort="donations", fixed=100_00),
        line("cakes", sort="stalls", fixed=80_00),
        line("hall", "cost", "hire", fixed=1_200_00),
        line("lunch", "cost", "food", per_head=7_50),
        line("fees", "cost", "fees"),
        line("tills", "cost", "difference"),
    ),
    places=(
        Place(id="box", name="Cash box", sort="cash"),
        Place(id="bank", name="Bank", sort="bank"),
        Place(id="card", name="Card reader", sort="card"),
    ),
    scenarios=(
        scenario("careful", 4, income_percent=60),
        scenario("likely", 8),
        scenario("full", 12, income_percent=120),
    ),
    goal=1_000_00,
)


class Treasury:
    """A day that money is asked of: everything goes through the real rules and fold."""

    def __init__(self, budget: Budget | None = BUDGET) -> None:
        self.day = loaded_day()
        if budget is not None:
            self.ask(money.set_budget(budget))

    def ask(self, request: Request) -> int:
        """Decide and fold a request; returns the entry that its last part made."""
        self.day.ask(DIRECTOR, request)
        return self.day.state.seq

    def book(self, deed: AnyDeed) -> int:
        return self.ask(money.book_money(deed))

    @property
    def bookings(self) -> tuple[Booking, ...]:
        return tuple(self.day.state.bookings.values())


def counted(place: str, found: int, booked: int, line: str = "", **more: Any) -> Counted:
    """A count of `found` in single cents, by two people."""
    pieces = (Pieces(value=1, count=found),) if found else ()
    given: dict[str, Any] = {"counted_by": ("p1a", "p2a")} | more
    return Counted(day=DAY, place=place, pieces=pieces, booked=booked, line=line, **given)
