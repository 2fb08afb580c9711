"""The account book as files for an accountant."""

from gettext import NullTranslations

from callroom.exchange.account_out import (
    AccountBook,
    LedgerAccount,
    LedgerLine,
    LedgerPosting,
    account_csv,
    account_ledger,
)
from callroom.funds import Account, Transaction, transactions
from callroom.model import NotFound, State
from callroom.model.money import Budget, Spent
from callroom.views.money_wording import DEEDS, account


def money_files(state: State, words: NullTranslations) -> dict[str, bytes]:
    """Return the files by name; nobody's name is in them, only ids.

    Raises
    ------
    NotFound
        Without an event or a budget.
    """
    book = _account_book(state, words)
    return {
        "account.csv": account_csv(book, words.gettext),
        "ledger.beancount": account_ledger(book),
    }


def _account_book(state: State, words: NullTranslations) -> AccountBook:
    event, budget = state.event, state.budget
    if event is None:
        raise NotFound("book.no_event")
    if budget is None:
        raise NotFound("money.no_budget")
    with_receipt = {
        booking.seq
        for booking in state.bookings.values()
        if isinstance(booking.deed, Spent) and booking.deed.receipt
    }
    return AccountBook(
        title=event.name,
        currency=event.currency,
        lines=tuple(
            _line(line, budget, words, receipt=line.seq in with_receipt)
            for line in transactions(state.bookings.values())
        ),
        rehearsal=state.rehearsal,
        invented=event.invented,
    )


def _line(
    line: Transaction, budget: Budget, words: NullTranslations, *, receipt: bool
) -> LedgerLine:
    return LedgerLine(
        number=line.seq,
        day=line.day,
        happened=words.gettext(DEEDS["reversed" if line.reverses is not None else line.happened]),
        what=line.what,
        postings=tuple(
            LedgerPosting(
                account=_account(one.account, budget, words), amount=one.amount, team=one.team
            )
            for one in line.postings
        ),
        receipt=receipt,
        reverses=line.reverses,
    )


def _account(value: Account, budget: Budget, words: NullTranslations) -> LedgerAccount:
    name = account(value, budget, {value.id: value.id}, words)
    if value.sort == "place":
        return LedgerAccount(root="Assets", id=value.id, name=name)
    if value.sort == "line":
        income = budget.line(value.id).side == "income"
        return LedgerAccount(root="Income" if income else "Expenses", id=value.id, name=name)
    if value.sort == "cause":
        return LedgerAccount(root="Equity", id="handed-over", name=name)
    sort = {"lent": "lent", "owed": f"owed:{value.id}", "next_year": "next-year"}[value.sort]
    return LedgerAccount(root="Liabilities", id=sort, name=name)
