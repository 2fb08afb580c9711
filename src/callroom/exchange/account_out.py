"""The account book for an accountant: a CSV table, and a plain-text double-entry ledger.

The ledger is in the syntax of Beancount 3 (beancount.github.io/docs/beancount_language_syntax):
accounts are opened, every transaction comes to nought, and the balances are asserted at the end.
"""

import unicodedata
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Literal

import msgspec

from callroom.exchange.csv_out import CsvValue, csv_bytes
from callroom.exchange.results_out import Say
from callroom.model.currency import exact_amount
from callroom.model.words import N_

Root = Literal["Assets", "Liabilities", "Equity", "Income", "Expenses"]


class LedgerAccount(msgspec.Struct, frozen=True, kw_only=True):
    """An account: what sort of thing it is, an id that is its own, and its name for people."""

    root: Root
    id: str
    name: str


class LedgerPosting(msgspec.Struct, frozen=True, kw_only=True):
    """What one account takes in (above nought) or gives [minor units]; `team` by its id."""

    account: LedgerAccount
    amount: int
    team: str = ""


class LedgerLine(msgspec.Struct, frozen=True, kw_only=True):
    """A transaction; `reverses` is the number of the line it undoes."""

    number: int
    day: date
    happened: str
    what: str
    postings: tuple[LedgerPosting, ...]
    receipt: bool = False
    reverses: int | None = None


class AccountBook(msgspec.Struct, frozen=True, kw_only=True):
    """A whole account book, with what must be said of it."""

    title: str
    currency: str
    lines: tuple[LedgerLine, ...]
    rehearsal: bool = False
    invented: bool = False


def account_csv(book: AccountBook, say: Say = str) -> bytes:
    """Return one row for each posting; texts can be no formulas, amounts are numbers."""
    headings = (
        N_("Number"),
        N_("Day"),
        N_("What"),
        N_("Remark"),
        N_("Account"),
        N_("Kind"),
        N_("Team id"),
        N_("Debit"),
        N_("Credit"),
        N_("Currency"),
        N_("Receipt"),
        N_("Takes back"),
    )
    note = " ".join(_warnings(book, say))
    heads: list[CsvValue] = [say(one) for one in headings]
    rows = [
        [*_cells(book, line, posting, say), *([note] if note else [])]
        for line in book.lines
        for posting in line.postings
    ]
    return csv_bytes([[*heads, *([say(N_("Note"))] if note else [])], *rows])


def account_ledger(book: AccountBook) -> bytes:
    """Return the book as a ledger in UTF-8."""
    return "\n".join(_ledger(book)).encode() + b"\n"


def _cells(book: AccountBook, line: LedgerLine, posting: LedgerPosting, say: Say) -> list[CsvValue]:
    size = exact_amount(abs(posting.amount), book.currency)
    return [
        line.number,
        line.day.isoformat(),
        line.happened,
        line.what,
        posting.account.name,
        posting.account.root,
        posting.team,
        size if posting.amount > 0 else None,
        size if posting.amount < 0 else None,
        book.currency,
        say(N_("yes")) if line.receipt else "",
        line.reverses,
    ]


def _ledger(book: AccountBook) -> Iterator[str]:
    yield f'option "title" {_quoted(book.title)}'
    yield f'option "operating_currency" "{book.currency}"'
    for warning in _warnings(book, str):
        yield f"; {warning}"
    yield ""
    if not book.lines:
        return
    first = min(line.day for line in book.lines)
    last = max(line.day for line in book.lines)
    accounts = sorted(
        {posting.account for line in book.lines for posting in line.postings},
        key=lambda one: (one.root, one.id),
    )
    for account in accounts:
        yield f"{first} open {_name(account)} {book.currency}"
        yield f"  name: {_quoted(account.name)}"
    for line in sorted(book.lines, key=lambda one: (one.day, one.number)):
        yield ""
        yield from _transaction(book, line)
    yield ""
    # An assertion holds at the beginning of its day.
    for account in accounts:
        total = _total(book.lines, account)
        end = last + timedelta(days=1)
        yield f"{end} balance {_name(account)} {_amount(total, book.currency)}"


def _transaction(book: AccountBook, line: LedgerLine) -> Iterator[str]:
    yield f"{line.day} * {_quoted(line.happened)} {_quoted(line.what)}"
    yield f"  number: {line.number}"
    if line.reverses is not None:
        yield f"  takes_back: {line.reverses}"
    for posting in line.postings:
        yield f"  {_name(posting.account)}  {_amount(posting.amount, book.currency)}"
        if posting.team:
            yield f"    team: {_quoted(posting.team)}"


def _total(lines: Iterable[LedgerLine], account: LedgerAccount) -> int:
    return sum(
        posting.amount for line in lines for posting in line.postings if posting.account == account
    )


def _amount(minor: int, currency: str) -> str:
    return f"{exact_amount(minor, currency):f} {currency}"


def _name(account: LedgerAccount) -> str:
    """Return a name in the ledger's form: parts of letters, digits and hyphens, capital first."""
    parts = [
        "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in part).strip("-")
        for part in account.id.split(":")
    ]
    return ":".join([account.root, *(f"{part[:1].upper()}{part[1:]}" for part in parts if part)])


def _quoted(text: str) -> str:
    seen = "".join(
        " " if unicodedata.category(sign) in {"Cc", "Zl", "Zp"} else sign for sign in text
    )
    return '"' + seen.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _warnings(book: AccountBook, say: Say) -> list[str]:
    warnings = []
    if book.rehearsal:
        warnings.append(say(N_("REHEARSAL: no real money.")))
    if book.invented:
        warnings.append(say(N_("Everything in this event is invented.")))
    return warnings
