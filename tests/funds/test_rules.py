"""What is refused about money, and what a float, a promise and a payout do to the income."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import money
from callroom.actions.request import propose
from callroom.funds import open_points, raised, standing, transactions
from callroom.journal.entries import bodies
from callroom.model import BadInput, Refusal, Stale
from callroom.model.money import Budget, Received, Returned, Shifted, Spent
from tests.actions.day_building import EVENT
from tests.funds.building import BUDGET, DAY, Treasury, counted


def received(amount: int = 10_00, **more: Any) -> Received:
    given: dict[str, Any] = {"line": "cakes", "place": "box"} | more
    return Received(day=DAY, amount=amount, **given)


@pytest.mark.parametrize(
    ("deed", "rule"),
    [
        (received(line="hall"), "money.other_side"),
        (received(line="none"), "money.line_unknown"),
        (received(place=""), "money.place_unknown"),
        (received(0), "money.nothing_given"),
        (received(team="T9"), "team.unknown"),
        (received(promise=1), "money.promise_unknown"),
        (Spent(day=DAY, line="cakes", amount=1, place="box"), "money.other_side"),
        (Spent(day=DAY, line="hall", amount=1), "money.who_paid"),
        (Spent(day=DAY, line="hall", amount=1, place="box", paid_by="p1"), "money.who_paid"),
        (Shifted(day=DAY, amount=5, source_place="box", target_place="box"), "money.same_place"),
        (Shifted(day=DAY, amount=5, source="lent", target="cause"), "money.place_unknown"),
        (Shifted(day=DAY, amount=5, source_place="box", target="owed"), "money.nobody_owed"),
        (
            Shifted(
                day=DAY,
                amount=5,
                source_place="card",
                target_place="bank",
                fee=6,
                fee_line="fees",
            ),
            "money.fee_above",
        ),
        (Returned(day=DAY, of=1, how="refund", amount=1, place="box"), "money.no_payment"),
        (counted("box", 5, 5, "cakes", counted_by=("p1", "p1")), "money.counted_by_two"),
        (counted("box", 5, 5, "none"), "money.line_unknown"),
        (counted("box", 5, 5), "money.count_differs"),
    ],
)
def test_what_fits_nowhere_is_refused(deed: Any, rule: str) -> None:
    treasury = Treasury()
    with pytest.raises(Refusal) as refused:
        treasury.book(deed)
    assert refused.value.rule == rule
    assert not treasury.bookings


def test_nothing_is_booked_without_a_budget() -> None:
    with pytest.raises(Refusal, match=r"money\.no_budget"):
        Treasury(None).book(received())


def test_a_payment_is_not_returned_above_what_is_left_of_it() -> None:
    treasury = Treasury()
    paid = treasury.book(received(100_00, line="entries", team="T1"))
    treasury.book(Returned(day=DAY, of=paid, how="refund", amount=60_00, place="box"))
    with pytest.raises(Refusal, match=r"money\.above_left"):
        treasury.book(Returned(day=DAY, of=paid, how="refund", amount=41_00, place="box"))
    with pytest.raises(Refusal, match=r"money\.no_gift_line"):
        treasury.book(Returned(day=DAY, of=paid, how="gift", amount=1, line="cakes"))
    with pytest.raises(Refusal, match=r"money\.same_team"):
        treasury.book(Returned(day=DAY, of=paid, how="move", amount=1, team="T1"))


def test_a_float_is_no_income_and_the_rest_of_the_till_is() -> None:
    treasury = Treasury()
    treasury.book(Shifted(day=DAY, amount=50_00, source="lent", target_place="box"))
    assert standing(BUDGET, transactions(treasury.bookings)).income == 0
    treasury.book(counted("box", 173_40, 123_40, "cakes"))
    now = standing(BUDGET, transactions(treasury.bookings))
    assert (now.income, now.places["box"], now.lent) == (123_40, 173_40, 50_00)
    assert now.to_hand_over == 123_40
    treasury.book(Shifted(day=DAY, amount=50_00, source_place="box", target="lent"))
    now = standing(BUDGET, transactions(treasury.bookings))
    assert (now.lent, now.income, now.to_hand_over) == (0, 123_40, 123_40)


def test_a_count_made_while_money_moved_is_counted_again() -> None:
    treasury = Treasury()
    treasury.book(received(5_00))
    with pytest.raises(Stale, match=r"money\.moved_since"):
        treasury.book(counted("box", 20_00, 20_00, "cakes"))
    treasury.book(counted("box", 4_00, -1_00, "tills"))
    now = standing(BUDGET, transactions(treasury.bookings))
    assert (now.places["box"], now.costs, now.net) == (4_00, 1_00, 4_00)


def test_what_is_promised_is_not_received() -> None:
    treasury = Treasury()
    promise = treasury.ask(money.note_promise("sponsors", 300_00, giver="p9"))
    kept = treasury.day.state.promises[str(promise)]
    assert standing(BUDGET, transactions(treasury.bookings)).income == 0
    assert kept.left(treasury.bookings) == 300_00
    part = treasury.book(received(100_00, line="sponsors", promise=promise))
    assert kept.left(treasury.bookings) == 200_00
    treasury.ask(money.take_back(part, DAY, "bounced"))
    assert kept.left(treasury.bookings) == 300_00
    treasury.ask(money.end_promise(promise, "closed down"))
    assert treasury.day.state.promises[str(promise)].left(treasury.bookings) == 0
    with pytest.raises(Refusal, match=r"money\.promise_unknown"):
        treasury.ask(money.end_promise(promise, "again"))


def test_a_card_payout_comes_later_and_less_its_fee() -> None:
    treasury = Treasury()
    treasury.book(received(200_00, place="card"))
    before = standing(BUDGET, transactions(treasury.bookings))
    assert (before.places["card"], before.places["bank"], before.net) == (200_00, 0, 200_00)
    treasury.book(
        Shifted(
            day=DAY,
            amount=200_00,
            source_place="card",
            target_place="bank",
            fee=3_40,
            fee_line="fees",
        )
    )
    after = standing(BUDGET, transactions(treasury.bookings))
    assert (after.places["card"], after.places["bank"]) == (0, 196_60)
    assert (after.income, after.costs, after.net) == (200_00, 3_40, 196_60)


def test_goods_that_were_given_are_kept_and_move_no_money() -> None:
    treasury = Treasury()
    treasury.book(Received(day=DAY, line="sponsors", goods="two crates of apples", giver="p9"))
    assert transactions(treasury.bookings) == ()
    assert len(treasury.bookings) == 1


def test_the_figure_for_the_stage_counts_as_the_budget_says() -> None:
    treasury = Treasury()
    treasury.book(received(600_00))
    treasury.book(Spent(day=DAY, line="hall", place="box", amount=150_00))
    now = standing(BUDGET, transactions(treasury.bookings))
    assert (raised(BUDGET, now).amount, raised(BUDGET, now).percent) == (600_00, 60)
    after = raised(replace(BUDGET, figure="after_costs"), now)
    assert (after.amount, after.percent) == (450_00, 45)
    assert raised(replace(BUDGET, goal=0), now).percent == 0


def test_what_money_is_on_stays_in_the_budget() -> None:
    treasury = Treasury()
    treasury.book(received())
    lines = tuple(one for one in BUDGET.lines if one.id != "cakes")
    with pytest.raises(BadInput) as refused:
        treasury.ask(money.set_budget(replace(BUDGET, lines=lines, places=BUDGET.places[1:])))
    assert [one.rule for one in refused.value.findings] == ["money.line_used", "money.place_used"]
    renamed = tuple(replace(one, name="Cake and coffee") for one in BUDGET.lines)
    treasury.ask(money.set_budget(replace(BUDGET, lines=renamed)))


def test_a_receipt_may_come_later_but_only_for_a_cost_that_stands() -> None:
    treasury = Treasury()
    cost = treasury.book(Spent(day=DAY, line="hall", place="bank", amount=80_00))
    gift = treasury.book(received(1_00))
    treasury.ask(money.keep_receipt(cost, "receipt/1"))
    kept = treasury.day.state.bookings[str(cost)].deed
    assert isinstance(kept, Spent)
    assert (kept.receipt, kept.amount) == ("receipt/1", 80_00)
    treasury.ask(money.take_back(cost, DAY, "the hall was given"))
    for seq in (gift, cost):
        with pytest.raises(Refusal, match=r"money\.no_cost"):
            treasury.ask(money.keep_receipt(seq, "receipt/2"))


def test_every_fault_of_a_budget_is_told_at_once() -> None:
    faulty = Budget(
        lines=(
            replace(BUDGET.lines[0], division="nobody"),
            replace(BUDGET.lines[0], name=" "),
        ),
        scenarios=BUDGET.scenarios[:2],
    )
    with pytest.raises(BadInput) as refused:
        Treasury(faulty)
    assert [one.rule for one in refused.value.findings] == [
        "money.twice",
        "money.nameless",
        "money.scenarios",
        "money.division",
    ]


def test_the_currency_stays_once_money_is_booked() -> None:
    treasury = Treasury()
    other = propose(bodies.EventSet(event=replace(EVENT, currency="JPY")))
    treasury.book(received())
    with pytest.raises(Refusal, match=r"money\.currency_used"):
        treasury.ask(other)


def test_what_is_still_open_is_told() -> None:
    treasury = Treasury()
    treasury.book(Shifted(day=DAY, amount=50_00, source="lent", target_place="box"))
    treasury.book(Spent(day=DAY, line="hall", place="box", amount=80_00))
    treasury.book(Spent(day=DAY, line="lunch", paid_by="p9", amount=5_00, receipt="r1"))
    treasury.book(received(9_00, place="card"))
    treasury.ask(money.note_promise("sponsors", 100_00))
    found = open_points(BUDGET, treasury.bookings, tuple(treasury.day.state.promises.values()))
    assert [one.rule for one in found] == [
        "money.cash_below",
        "money.not_counted",
        "money.card_waits",
        "money.float_out",
        "money.owed",
        "money.no_receipt",
        "money.promises_open",
    ]
    treasury.book(received(30_00))
    treasury.book(counted("box", 0, 0))
    found = open_points(BUDGET, treasury.bookings, ())
    assert {"money.cash_below", "money.not_counted"}.isdisjoint(one.rule for one in found)
