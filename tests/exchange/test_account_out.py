"""The account book for others: no text of it computes anything, and a ledger that is accepted."""

import csv
import io
from datetime import date

import pytest
from beancount import loader
from beancount.core import data, inventory
from beancount.core.amount import Amount
from beancount.core.number import D
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.exchange.account_out import (
    AccountBook,
    LedgerAccount,
    LedgerLine,
    LedgerPosting,
    account_csv,
    account_ledger,
)

DAY = date(2027, 5, 8)
BOX = LedgerAccount(root="Assets", id="box", name="Cash box")
GIFTS = LedgerAccount(root="Income", id="gifts_2", name="Gifts")
FEES = LedgerAccount(root="Expenses", id="fees", name="Card fees")
OWED = LedgerAccount(root="Liabilities", id="owed:p-12 ü", name="owed to p-12")


def line(number: int, *postings: tuple[LedgerAccount, int], what: str = "") -> LedgerLine:
    return LedgerLine(
        number=number,
        day=DAY,
        happened="received",
        what=what,
        postings=tuple(LedgerPosting(account=one, amount=amount) for one, amount in postings),
    )


def book(*lines: LedgerLine, currency: str = "EUR") -> AccountBook:
    return AccountBook(title='The "long" day', currency=currency, lines=lines, invented=True)


def accepted(ledger: bytes) -> list[data.Directive]:
    """What a general accounting library reads in a ledger, which it finds nothing wrong with."""
    entries, errors, _ = loader.load_string(ledger.decode())
    assert errors == []
    return list(entries)


def transactions_of(entries: list[data.Directive]) -> list[data.Transaction]:
    return [one for one in entries if isinstance(one, data.Transaction)]


def test_the_ledger_is_accepted_with_its_balances() -> None:
    entries = accepted(
        account_ledger(
            book(
                line(1, (BOX, 12_50), (GIFTS, -12_50), what='a "gift" \\ of\nsorts'),
                line(2, (BOX, 97_00), (FEES, 3_00), (OWED, -100_00)),
            )
        )
    )
    held = inventory.Inventory()
    for posting in (one for entry in transactions_of(entries) for one in entry.postings):
        if posting.account == "Assets:Box":
            held.add_position(posting)
    assert held == inventory.from_string("109.50 EUR")
    transactions = transactions_of(entries)
    assert [len(one.postings) for one in transactions] == [2, 3]
    assert transactions[0].narration == 'a "gift" \\ of sorts'


@pytest.mark.parametrize(
    ("currency", "text"), [("JPY", "1250"), ("EUR", "12.50"), ("KWD", "1.250")]
)
def test_amounts_have_the_digits_of_their_currency(currency: str, text: str) -> None:
    made = book(line(1, (BOX, 1250), (GIFTS, -1250)), currency=currency)
    (one,) = transactions_of(accepted(account_ledger(made)))
    assert [posting.units for posting in one.postings] == [
        Amount(D(text), currency),
        Amount(-D(text), currency),
    ]
    assert text in account_csv(made).decode("utf-8-sig")


def test_an_empty_book_is_a_ledger_too() -> None:
    assert accepted(account_ledger(book())) == []


@settings(max_examples=40)
@given(what=st.text(max_size=40), amounts=st.lists(st.integers(-(10**9), 10**9), max_size=6))
def test_any_text_and_any_sums_make_a_ledger_that_is_accepted(
    what: str, amounts: list[int]
) -> None:
    lines = [
        line(number, (BOX, amount), (GIFTS, -amount), what=what)
        for number, amount in enumerate(amounts, start=1)
    ]
    accepted(account_ledger(book(*lines)))


HOSTILE = ("=1+1", "+SUM(A1)", "-cmd|' /C calc'!A0", "@x", "\t=1", "\r=1", "\uff1d1+1")


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_of_the_table_is_a_formula(text: str) -> None:
    account = LedgerAccount(root="Income", id="gifts", name=text)
    made = book(line(1, (BOX, 5), (account, -5), what=text))
    rows = list(csv.reader(io.StringIO(account_csv(made).decode("utf-8-sig"), newline="")))
    assert all(cell[:1] not in {*"=+-@", "\t", "\r"} for row in rows for cell in row)
    assert rows[2][4] == f"'{text}" or rows[2][4].startswith("'")


def test_the_table_has_debit_and_credit_apart_and_says_what_it_is() -> None:
    rows = list(
        csv.DictReader(
            io.StringIO(
                account_csv(book(line(1, (BOX, 5_00), (GIFTS, -5_00)))).decode("utf-8-sig"),
                newline="",
            )
        )
    )
    assert [(row["Account"], row["Debit"], row["Credit"]) for row in rows] == [
        ("Cash box", "5.00", ""),
        ("Gifts", "", "5.00"),
    ]
    assert {row["Note"] for row in rows} == {"Everything in this event is invented."}
