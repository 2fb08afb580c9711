"""The verb about money, on a day that was rehearsed."""

from pathlib import Path

import pytest

from callroom.bootstrap.books import open_book
from callroom.journal import PEOPLE
from tests.bootstrap.day_books import day_book
from tests.cli.running import callroom

pytestmark = pytest.mark.store


def test_a_rehearsed_day_ends_with_a_statement_that_balances(tmp_path: Path) -> None:
    book = tmp_path / "small.book"
    day_book(book).close()
    assert callroom("money", book).code == 2  # no budget yet
    ran = callroom("rehearse", book, "--seed", "5", "--json")
    assert ran.code == 0, ran.err
    copy = Path(ran.answer["book"])
    out = tmp_path / "money"
    told = callroom("money", copy, "--out", out, "--json")
    assert told.code == 0, told.err
    answer = told.answer
    assert answer["balances"]
    assert answer["income"] - answer["costs"] == answer["net"] == answer["to_hand_over"]
    assert answer["net"] > 0
    lines = {row["id"]: row["actual"] for row in answer["lines"]}
    assert (
        sum(lines[row["id"]] for row in answer["lines"] if row["side"] == "income")
        == (answer["income"])
    )
    assert sorted(path.name for path in out.iterdir()) == [
        "account.csv",
        "count-sheets.pdf",
        "ledger.beancount",
        "statement.pdf",
    ]
    assert "For the cause" in callroom("money", copy).out
    files = tmp_path / "files"
    assert callroom("export", copy, "--out", files).code == 0
    assert (files / "money" / "account.csv").read_bytes() == (out / "account.csv").read_bytes()
    opened = open_book(copy, writing=False)
    names = {one: person.name for one, person in opened.store.side(PEOPLE).all("invented").items()}
    opened.close()
    assert len(names) == 3
    assert not any(
        name.encode() in (out / "ledger.beancount").read_bytes() for name in names.values()
    )
