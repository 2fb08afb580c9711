"""The money as shown: statement, letters, figure, pictures; and a rehearsed day's own money."""

from datetime import date, timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day, money
from callroom.actions.decide import decide
from callroom.actions.invent_money import GIVERS, money_cues
from callroom.bootstrap.money_files import money_files
from callroom.model import CrewMember, State
from callroom.model.currency import exact_amount
from callroom.model.money import Budget, Received, Returned
from callroom.paper.giving_letters import letters_payload
from callroom.paper.statements import statement_payload
from callroom.views.account_book import account_book, people_in
from callroom.views.count_sheet import pieces
from callroom.views.entry_fees import entry_fees
from callroom.views.letters import letters, thanks
from callroom.views.money import money_view
from callroom.views.money_picture import bars, course, rise
from callroom.views.money_wording import amount, whole_money
from callroom.views.money_wording import money as said
from callroom.views.raised import raised_view
from callroom.views.statement import statement
from callroom.views.wording import ENGLISH
from tests.exchange.test_account_out import accepted
from tests.funds.building import BUDGET, DAY, Treasury, counted
from tests.views.building import example_state
from tests.web.building import DIRECTOR, FakeBook

NAMES = {"g1": "Ada Okoro", "g2": "Bakers"}


def given(amount: int, **more: object) -> Received:
    fields = {"line": "donations", "place": "bank"} | more
    return Received(day=DAY, amount=amount, **fields)  # type: ignore[arg-type]


def rehearsed(seed: int, budget: Budget | None = None) -> State:
    """The example day with the money of a rehearsal, every cue through the real rules."""
    state = replace(example_state(), budget=budget)
    crew = {one: CrewMember(person=one, posts=("desk",)) for one in ("c1", "c2")}
    book = FakeBook(replace(state, crew=crew))
    for cue in money_cues(book.state, seed):
        book.do(DIRECTOR, cue.request)
    return book.state


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_rehearsed_day_has_money_and_its_statement_balances_to_the_cent(seed: int) -> None:
    state = rehearsed(seed)
    told = statement(state)
    now = told.money.now
    assert now.balances
    assert now.net == now.income - now.costs == now.to_hand_over + now.handed_over
    assert now.net == sum(row.actual.amount for row in told.income) - sum(
        row.actual.amount for row in told.costs
    )
    assert (now.lent, dict(now.owed)) == (0, {})
    assert [one.place for one in told.counts] == ["Stall till", "Cash box"]
    assert {one.rule for one in told.money.findings} == {
        "money.no_receipt",
        "money.promises_open",
    }
    # What is drawn adds up as drawn.
    drawn: Any = statement_payload(told, ENGLISH)
    assert drawn["net"] == said(now.net, "EUR")
    assert drawn["where"][-1]["amount"] == amount(now.net, "EUR")


PLACES = {place.sort: place for place in BUDGET.places}
OWN_BUDGETS = {
    "of the director": BUDGET,
    "without a line": replace(BUDGET, lines=()),
    "without tills": replace(BUDGET, places=(PLACES["bank"],)),
    "of one till": replace(BUDGET, places=(PLACES["cash"],)),
    "without a bank": replace(BUDGET, places=(PLACES["cash"], PLACES["card"])),
    "without a place": replace(BUDGET, places=()),
}


@pytest.mark.parametrize("name", OWN_BUDGETS)
def test_a_book_with_its_own_budget_is_rehearsed_on_it(name: str) -> None:
    budget = OWN_BUDGETS[name]
    budget = replace(
        budget,
        lines=tuple(replace(one, division="", per_team=120_00) for one in budget.lines[:1])
        + budget.lines[1:],
    )
    state = rehearsed(1, budget)
    assert state.budget == budget
    now = statement(state).money.now
    assert now.balances
    assert (now.lent, dict(now.owed)) == (0, {})
    assert (now.income > 0) == bool(budget.lines and budget.places)


def test_the_rehearsals_ledger_is_accepted_and_names_nobody() -> None:
    files = money_files(rehearsed(1), ENGLISH)
    accepted(files["ledger.beancount"])
    for content in files.values():
        assert not any(name.encode() in content for name in GIVERS.values())


def test_money_that_is_real_is_not_mixed_with_invented_money() -> None:
    state = rehearsed(1)
    assert money_cues(state, 1) == ()
    assert money_cues(replace(example_state(), plan=None), 1) == ()


def test_the_first_cue_is_decided_for_nobody_but_the_director() -> None:
    state = example_state()
    cue = money_cues(state, 1)[0]
    judge = replace(DIRECTOR, role="judge")
    with pytest.raises(Exception, match="not_allowed"):
        decide(state, judge, cue.request, cue.at_ms)


def test_a_letter_goes_to_everyone_named_and_to_each_team_that_paid() -> None:
    treasury = Treasury()
    treasury.book(given(300_00, giver="g1", benefit=20_00, benefit_what="a dinner"))
    treasury.book(given(0, line="sponsors", place="", goods="forty loaves", giver="g2"))
    treasury.book(given(10_00))
    treasury.book(given(5_00, giver="erased"))
    paid = treasury.book(given(120_00, line="entries", team="T1", benefit=20_00))
    treasury.book(given(120_00, line="entries", team="T2"))
    back = treasury.book(given(120_00, line="entries", team="T3"))
    treasury.book(Returned(day=DAY, of=paid, how="refund", amount=20_00, place="bank"))
    treasury.book(Returned(day=DAY, of=back, how="refund", amount=120_00, place="bank"))
    told = letters(treasury.day.state, NAMES)
    assert [(one.to, one.is_team, one.paid) for one in told.letters] == [
        ("Ada Okoro", False, 300_00),
        ("Bakers", False, 0),
        ("Team 1", True, 100_00),
        ("Team 2", True, 120_00),
    ]
    drawn: Any = letters_payload(told, ENGLISH)["letters"]
    ada, bakers, team, _ = drawn
    assert (ada["rows"][0]["benefit"], ada["rows"][0]["gift"]) == ("20.00", "280.00")
    assert "ask the charity or an adviser" in ada["notes"][0]
    assert (bakers["rows"], bakers["goods"][0][:21]) == ([], "In kind: forty loaves")
    assert team["greeting"] == "Dear team Team 1,"
    # 100 less the 20 in return, between two.
    assert team["notes"][0] == "If the 2 of you shared alike, each gave 40.00 EUR."


def test_two_givers_of_one_name_have_a_letter_each() -> None:
    treasury = Treasury()
    treasury.book(given(5_00, giver="g1"))
    treasury.book(given(7_00, giver="g2"))
    told = letters(treasury.day.state, {"g1": "Sam", "g2": "Sam"})
    assert [(one.to, one.paid) for one in told.letters] == [("Sam", 5_00), ("Sam", 7_00)]


def test_letters_say_what_the_country_asks() -> None:
    treasury = Treasury(replace(BUDGET, country="us", charity="Kitchen, no. 7"))
    event = treasury.day.state.event
    assert event is not None
    treasury.book(given(250_00, giver="g1"))
    treasury.book(given(60_00, giver="g2", benefit=10_00))
    treasury.book(given(80_00, line="sponsors", giver="g2", benefit=10_00))
    treasury.book(given(40_00, line="sponsors", giver="g2"))
    treasury.book(given(100_00, line="entries", team="T1", benefit=40_00))
    state = replace(treasury.day.state, event=replace(event, currency="USD"))
    drawn: Any = letters_payload(letters(state, NAMES), ENGLISH)["letters"]
    ada, bakers, team = drawn
    # Several payments: each sentence says of which it is true.
    assert [note.partition(":")[0] for note in bakers["notes"][1:]] == [
        "Sponsors, 80.00\u00a0USD",
        "Sponsors, 40.00\u00a0USD",
    ]
    assert "10.00\u00a0USD" in bakers["notes"][1]
    assert bakers["notes"][2].endswith("Nothing was given in return.")
    assert any("From 250 USD" in note for note in ada["notes"])
    assert any("40.00\u00a0USD" in note and "60.00\u00a0USD" in note for note in team["notes"])
    assert ada["charity"] == "Receipts are issued by: Kitchen, no. 7"


def test_every_team_owes_what_the_budget_asks_until_it_has_paid() -> None:
    treasury = Treasury()
    paid = treasury.book(given(50_00, line="entries", team="T1"))
    treasury.book(given(120_00, line="entries", team="T2"))
    treasury.book(given(30_00, team="T3"))  # a gift is no entry
    treasury.day.ask(DIRECTOR, day.withdraw_team("T2", "ill"))
    treasury.day.ask(DIRECTOR, day.withdraw_team("T4", "ill"))
    fees = {fee.team: fee for fee in entry_fees(treasury.day.state)}
    assert [(fees[one].missing, fees[one].to_settle) for one in ("T1", "T2", "T3", "T4")] == [
        (70_00, False),
        (0, True),
        (120_00, False),
        (0, False),
    ]
    assert fees["T1"].bookings == (paid,)
    moved = treasury.book(Returned(day=DAY, of=paid, how="move", amount=50_00, team="T3"))
    fees = {fee.team: fee for fee in entry_fees(treasury.day.state)}
    assert (fees["T1"].missing, fees["T3"].missing) == (120_00, 70_00)
    assert fees["T3"].bookings == (moved,)


def test_only_those_who_agreed_are_thanked_by_name() -> None:
    treasury = Treasury()
    treasury.book(given(5_00, giver="g1", may_name=True))
    treasury.book(given(50_00, line="sponsors", giver="g2", may_name=True))
    treasury.book(given(5_00, giver="g3"))
    treasury.book(given(5_00))
    treasury.book(given(120_00, line="entries", team="T1"))
    told = thanks(treasury.day.state, NAMES | {"g3": "Shy"})
    assert (told.sponsors, told.givers, told.others) == (("Bakers",), ("Ada Okoro",), 2)


def test_the_figure_names_nobody_and_waits_for_the_director() -> None:
    treasury = Treasury()
    treasury.book(given(600_00, giver="g1"))
    assert raised_view(treasury.day.state) is None
    treasury.ask(money.set_budget(replace(BUDGET, on_screen=True)))
    shown = raised_view(treasury.day.state)
    assert shown is not None
    assert (shown.amount, shown.percent, shown.reached, shown.payments) == (600_00, 60, 60, 1)
    treasury.book(given(900_00))
    shown = raised_view(treasury.day.state)
    assert shown is not None
    assert (shown.percent, shown.reached) == (150, 100)


def test_the_account_book_lists_a_reversal_by_itself() -> None:
    treasury = Treasury()
    seq = treasury.book(given(5_00, giver="g1"))
    treasury.book(counted("box", 0, 0))
    treasury.ask(money.take_back(seq, date(2027, 5, 9), "bounced"))
    lines = account_book(treasury.day.state)
    assert [(one.happened, one.stands, one.reverses) for one in lines] == [
        ("received", False, None),
        ("counted", True, None),
        ("reversed", False, seq),
    ]
    assert people_in(treasury.day.state) == {"g1", "p1a", "p2a"}


def test_the_picture_crosses_nought_where_the_teams_carry_the_day() -> None:
    view = money_view(Treasury().day.state)
    drawn = course(view)
    assert drawn is not None
    assert drawn.break_even is not None
    assert [dot.teams for dot in drawn.dots] == [4, 8, 12, 4]
    # More teams, further to the right; more money, further up.
    assert drawn.dots[0].x < drawn.dots[1].x < drawn.dots[2].x
    assert drawn.dots[0].y > drawn.zero > drawn.dots[2].y
    assert drawn.start > drawn.zero > drawn.end
    # Straight, so the line is at nought near the crossing.
    at_even = drawn.start + (drawn.end - drawn.start) * drawn.break_even // 1000
    assert abs(at_even - drawn.zero) < 1000 // 14
    assert max(bar.planned_length for bar in (*bars(view, "income"), *bars(view, "cost"))) == 1000
    assert course(money_view(_nothing_planned())) is None


def test_the_figure_is_drawn_day_by_day_against_the_goal() -> None:
    treasury = Treasury()
    assert rise(treasury.day.state, BUDGET) is None
    for days, gift in ((0, 100_00), (10, 150_00), (20, 250_00)):
        treasury.book(replace(given(gift), day=DAY + timedelta(days=days)))
    drawn = rise(treasury.day.state, BUDGET)
    assert drawn is not None
    # 100, 250 and 500 of a goal of 1000, on the first, the eleventh and the last of 21 days.
    assert drawn.points == ((0, 900), (476, 750), (952, 500))
    assert (drawn.goal, drawn.first, drawn.last) == (0, DAY, DAY + timedelta(days=20))
    treasury.book(replace(given(1_500_00), day=DAY + timedelta(days=20)))
    drawn = rise(treasury.day.state, BUDGET)
    assert drawn is not None
    assert (drawn.points[-1], drawn.goal) == ((952, 0), 500)


def _nothing_planned() -> State:
    lines = tuple(replace(one, fixed=0, per_team=0, per_head=0, benefit=0) for one in BUDGET.lines)
    return Treasury(replace(BUDGET, lines=lines)).day.state


def test_amounts_are_written_with_blanks_that_do_not_break() -> None:
    assert said(1_234_567_89, "EUR") == "1\u202f234\u202f567.89\u00a0EUR"
    assert amount(-5, "EUR") == "\u22120.05"
    assert whole_money(1_234_99, "EUR") == "1\u202f234\u00a0EUR"
    assert whole_money(-99, "EUR") == "0\u00a0EUR"
    assert said(1234, "JPY") == "1\u202f234\u00a0JPY"


@pytest.mark.parametrize("currency", ["EUR", "JPY", "KWD", "SEK", "ISK"])
def test_any_sum_can_be_counted_in_pieces(currency: str) -> None:
    values = pieces(currency)
    assert values[-1] == 1
    assert list(values) == sorted(set(values), reverse=True)
    assert exact_amount(values[0], currency) >= 50
