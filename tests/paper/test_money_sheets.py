"""Sheets about money compile whatever the names are, and say what the views say."""

from datetime import UTC, datetime

from msgspec.structs import replace

from callroom.actions import money
from callroom.model.money import Received, Spent
from callroom.paper.giving_letters import count_sheets_pdf, letters_pdf, thanks_pdf
from callroom.paper.statements import statement_pdf
from callroom.views.count_sheet import count_sheet
from callroom.views.letters import letters, thanks
from callroom.views.statement import statement
from callroom.views.wording import ENGLISH
from tests.funds.building import BUDGET, DAY, Treasury, counted
from tests.paper.reading import count_pages, pages_of
from tests.paper.test_hostile_names import HOSTILE

AT = datetime(2027, 5, 8, 18, tzinfo=UTC)


def test_the_statement_says_the_sums_and_has_places_to_sign() -> None:
    treasury = Treasury()
    treasury.book(Received(day=DAY, line="donations", place="bank", amount=1_234_50))
    treasury.book(Spent(day=DAY, line="hall", place="bank", amount=200_00))
    treasury.book(counted("box", 43_50, 43_50, "cakes"))
    view = statement(treasury.day.state)
    pdf = statement_pdf(view, size="a4", at=AT, words=ENGLISH)
    (text,) = pages_of(pdf)
    plain = text.replace("\u202f", " ").replace("\u00a0", " ")
    for said in ("1 278.00", "200.00", "1 078.00 EUR", "43.50 EUR found by 2 people", "Both sides"):
        assert said in plain, said
    assert text.count("Name, date, signature") == 3
    assert pdf == statement_pdf(view, size="a4", at=AT, words=ENGLISH)


def test_hostile_names_break_no_sheet_and_do_nothing() -> None:
    names = {f"g{number}": name for number, name in enumerate(HOSTILE)}
    lines = tuple(
        replace(line, name=name) for line, name in zip(BUDGET.lines, HOSTILE, strict=False)
    )
    places = tuple(replace(one, name=HOSTILE[6]) for one in BUDGET.places)
    treasury = Treasury(replace(BUDGET, lines=lines, places=places, charity=HOSTILE[0]))
    for giver, name in names.items():
        gift = Received(
            day=DAY,
            line="sponsors",
            place="box",
            amount=5_00,
            goods=name[:200],
            giver=giver,
            may_name=True,
        )
        treasury.book(gift)
    event = treasury.day.state.event
    assert event is not None
    hostile = replace(event, name=HOSTILE[1], venue=HOSTILE[2], cause=HOSTILE[7])
    state = replace(treasury.day.state, event=hostile)
    told = letters(state, names)
    for size in ("a4", "us-letter"):
        assert count_pages(letters_pdf(told, size=size, at=AT, words=ENGLISH)) >= len(told.letters)
    assert count_pages(statement_pdf(statement(state), size="a4", at=AT, words=ENGLISH))
    assert count_pages(thanks_pdf(thanks(state, names), size="a4", at=AT, words=ENGLISH))
    assert count_pages(count_sheets_pdf(count_sheet(state), size="a4", at=AT, words=ENGLISH)) == 1


def test_without_givers_there_is_a_page_that_says_so() -> None:
    treasury = Treasury()
    treasury.ask(money.set_budget(BUDGET))
    told = letters(treasury.day.state, {})
    (text,) = pages_of(letters_pdf(told, size="a4", at=AT, words=ENGLISH))
    assert "no team has paid yet" in text
