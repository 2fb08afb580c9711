"""What the templates of the money pages are given as ``page``."""

from collections.abc import Mapping
from typing import ClassVar

from callroom.model import Finding
from callroom.model.money import Budget, Promise
from callroom.views.account_book import BookLine
from callroom.views.entry_fees import EntryFee
from callroom.views.money import MoneyView
from callroom.views.money_picture import Bar, Course, Rise
from callroom.web.live_text import LiveText
from callroom.web.money.budget_form import BudgetForm
from callroom.web.pages import Page
from callroom.web.voice import Told


class MoneyPage(Page, frozen=True, kw_only=True):
    """``/director/money``: planned and actual, where the money is, what is open.

    `money` is None before there is a budget; `rise` before two days have brought money; `latest` are the last lines of the account book,
    `people` the names of those it is about, by id.
    """

    template: ClassVar[str] = "money.html"
    money: MoneyView | None
    rise: Rise | None
    income: tuple[Bar, ...]
    costs: tuple[Bar, ...]
    latest: tuple[BookLine, ...]
    promises: tuple[tuple[Promise, int], ...]
    people: Mapping[str, str]
    told: Told | None
    key: str


class BudgetPage(Page, frozen=True, kw_only=True):
    """``/director/money/budget``: the budget to edit; `faults` are what keeps it from being saved.

    `divisions` are names by id. `course` is drawn from the budget as saved by the entry `seen`,
    as is `money`.
    """

    template: ClassVar[str] = "money_budget.html"
    form: BudgetForm
    divisions: Mapping[str, str]
    money: MoneyView | None
    course: Course | None
    seen: int
    faults: tuple[Finding, ...]
    told: Told | None
    key: str


class AccountPage(Page, frozen=True, kw_only=True):
    """``/director/money/account``: every line of the account book, the last first."""

    template: ClassVar[str] = "money_account.html"
    lines: tuple[BookLine, ...]
    people: Mapping[str, str]


class EntriesPage(Page, frozen=True, kw_only=True):
    """``/director/money/entries``: who has paid, who has not, and who left and did."""

    template: ClassVar[str] = "money_entries.html"
    fees: tuple[EntryFee, ...]


class DeedPage(Page, frozen=True, kw_only=True):
    """``/director/money/book/<deed>``: the form for one kind of deed.

    `given` is what was typed before, by field; `teams`, `names` (of people) are to choose from;
    `values` are the pieces cash comes in [minor units], for a count; `known` is what the book
    thinks is in each place after the entry `seen`.
    """

    template: ClassVar[str] = "money_deed.html"
    deed: str
    budget: Budget
    given: Mapping[str, str]
    teams: Mapping[str, str]
    names: tuple[str, ...]
    promises: tuple[tuple[Promise, int], ...]
    people: Mapping[str, str]
    values: tuple[int, ...]
    known: Mapping[str, int]
    seen: int
    faults: tuple[Finding, ...]
    told: Told | None
    key: str


class BookingPage(Page, frozen=True, kw_only=True):
    """``/director/money/booking/<seq>``: one booking, to be taken back or partly returned."""

    template: ClassVar[str] = "money_booking.html"
    line: BookLine
    budget: Budget
    people: Mapping[str, str]
    teams: Mapping[str, str]
    faults: tuple[Finding, ...]
    key: str


class RaisedPage(Page, frozen=True, kw_only=True):
    """``/raised``: the figure for the stage, live, for everybody."""

    template: ClassVar[str] = "raised.html"
    figure: LiveText
