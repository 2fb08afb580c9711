"""Whatever is done with money, the account book balances, and so does the statement."""

from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from callroom.actions import money
from callroom.funds import Account, balances, payments, standing, transactions
from callroom.model import Refusal
from callroom.model.money import Received, Returned, Shifted, Spent
from tests.funds.building import BUDGET, DAY, Treasury, counted

AMOUNTS = st.integers(1, 500_00)
PLACES = st.sampled_from([place.id for place in BUDGET.places])
INCOME = st.sampled_from([one.id for one in BUDGET.lines if one.side == "income"])
COSTS = st.sampled_from([one.id for one in BUDGET.lines if one.side == "cost"])
TEAMS = st.sampled_from(["", "T1", "T2", "T3"])


class EveryDay(RuleBasedStateMachine):
    """Any sequence of what a treasurer can do."""

    def __init__(self) -> None:
        super().__init__()
        self.treasury = Treasury()
        self.by_hand = {place.id: 0 for place in BUDGET.places}

    def _try(self, deed: Any, **moved: int) -> None:
        self.treasury.book(deed)
        for place, amount in moved.items():
            self.by_hand[place] += amount

    @rule(line=INCOME, place=PLACES, amount=AMOUNTS, team=TEAMS)
    def receive(self, line: str, place: str, amount: int, team: str) -> None:
        deed = Received(day=DAY, line=line, place=place, amount=amount, team=team)
        self._try(deed, **{place: amount})

    @rule(line=COSTS, place=PLACES, amount=AMOUNTS)
    def spend(self, line: str, place: str, amount: int) -> None:
        self._try(Spent(day=DAY, line=line, place=place, amount=amount), **{place: -amount})

    @rule(line=COSTS, person=st.sampled_from(["p1a", "p2a"]), amount=AMOUNTS)
    def spend_from_own_pocket(self, line: str, person: str, amount: int) -> None:
        self._try(Spent(day=DAY, line=line, paid_by=person, amount=amount))

    @rule(place=PLACES, amount=AMOUNTS, sort=st.sampled_from(["lent", "owed", "cause"]))
    def give_away(self, place: str, amount: int, sort: Any) -> None:
        deed = Shifted(
            day=DAY, amount=amount, source_place=place, target=sort, person="p1a", target_place=""
        )
        self._try(deed, **{place: -amount})

    @rule(place=PLACES, amount=AMOUNTS)
    def lend(self, place: str, amount: int) -> None:
        deed = Shifted(day=DAY, amount=amount, source="lent", target_place=place)
        self._try(deed, **{place: amount})

    @rule(amount=AMOUNTS, share=st.integers(0, 100))
    def pay_out(self, amount: int, share: int) -> None:
        fee = amount * share // 100
        deed = Shifted(
            day=DAY,
            amount=amount,
            source_place="card",
            target_place="bank",
            fee=fee,
            fee_line="fees",
        )
        self._try(deed, card=-amount, bank=amount - fee)

    @rule(place=PLACES, more=st.integers(-50_00, 300_00), line=st.sampled_from(["cakes", "tills"]))
    def count(self, place: str, more: int, line: str) -> None:
        known = self.by_hand[place]
        if known + more >= 0:
            self._try(counted(place, known + more, more, line), **{place: more})

    @precondition(lambda self: bool(payments(self.treasury.bookings)))
    @rule(
        data=st.data(), place=PLACES, how=st.sampled_from(["refund", "gift", "move", "next_year"])
    )
    def give_back(self, data: st.DataObject, place: str, how: Any) -> None:
        open_ones = [one for one in payments(self.treasury.bookings).values() if one.left]
        if not open_ones:
            return
        payment = data.draw(st.sampled_from(open_ones))
        amount = data.draw(st.integers(1, payment.left))
        team = "T1" if payment.team != "T1" else "T2"
        self._try(
            Returned(
                day=DAY,
                of=payment.seq,
                how=how,
                amount=amount,
                place=place if how == "refund" else "",
                line="donations" if how == "gift" else "",
                team=team if how == "move" else "",
            ),
            **({place: -amount} if how == "refund" else {}),
        )

    @precondition(lambda self: bool(self.treasury.bookings))
    @rule(data=st.data())
    def correct(self, data: st.DataObject) -> None:
        booking = data.draw(st.sampled_from(self.treasury.bookings))
        before = balances(transactions(self.treasury.bookings))
        try:
            self.treasury.ask(money.take_back(booking.seq, DAY, "typed twice"))
        except Refusal:
            return
        now = balances(transactions(self.treasury.bookings))
        for place in self.by_hand:
            account = Account("place", place)
            self.by_hand[place] += now.get(account, 0) - before.get(account, 0)

    @invariant()
    def debits_are_credits(self) -> None:
        for line in transactions(self.treasury.bookings):
            assert sum(one.amount for one in line.postings) == 0
        assert sum(balances(transactions(self.treasury.bookings)).values()) == 0

    @invariant()
    def the_statement_balances(self) -> None:
        now = standing(BUDGET, transactions(self.treasury.bookings))
        assert now.balances
        assert now.income - now.costs == now.handed_over + now.held - now.not_ours
        assert dict(now.places) == self.by_hand

    @invariant()
    def no_payment_is_given_back_twice(self) -> None:
        for payment in payments(self.treasury.bookings).values():
            assert 0 <= payment.left <= payment.amount


EveryDay.TestCase.settings = settings(max_examples=30, stateful_step_count=20, deadline=None)
TestEveryDay = EveryDay.TestCase


def test_a_reversal_undoes_a_booking_wholly_and_stays_in_the_book() -> None:
    treasury = Treasury()
    seq = treasury.book(Received(day=DAY, line="cakes", place="box", amount=12_50))
    treasury.ask(money.take_back(seq, DAY, "was the raffle"))
    book = transactions(treasury.bookings)
    assert [line.reverses for line in book] == [None, seq]
    assert set(balances(book).values()) == {0}


def test_a_correction_is_both_or_neither() -> None:
    treasury = Treasury()
    seq = treasury.book(Received(day=DAY, line="cakes", place="box", amount=12_50))
    impossible = Received(day=DAY, line="no such line", place="box", amount=1)
    with pytest.raises(Refusal, match=r"money\.line_unknown"):
        treasury.ask(money.correct(seq, DAY, "wrong line", impossible))
    assert treasury.day.state.bookings[str(seq)].stands
    treasury.ask(
        money.correct(
            seq, DAY, "wrong amount", Received(day=DAY, line="cakes", place="box", amount=21_50)
        )
    )
    now = standing(BUDGET, transactions(treasury.bookings))
    assert (now.income, now.places["box"]) == (21_50, 21_50)


def test_a_moved_payment_is_the_other_teams_and_can_be_refunded_to_it() -> None:
    treasury = Treasury()
    paid = treasury.book(Received(day=DAY, line="entries", place="bank", amount=120_00, team="T1"))
    moved = treasury.book(Returned(day=DAY, of=paid, how="move", amount=100_00, team="T2"))
    known = payments(treasury.bookings)
    assert (known[paid].left, known[moved].left, known[moved].team) == (20_00, 100_00, "T2")
    treasury.book(Returned(day=DAY, of=moved, how="refund", amount=40_00, place="bank"))
    with pytest.raises(Refusal, match=r"money\.settled_since"):
        treasury.ask(money.take_back(moved, DAY, "after all not"))
    now = standing(BUDGET, transactions(treasury.bookings))
    assert (now.income, now.places["bank"]) == (80_00, 80_00)


def test_a_gift_made_of_an_entry_buys_nothing_in_return() -> None:
    treasury = Treasury()
    paid = treasury.book(
        Received(day=DAY, line="entries", place="bank", amount=120_00, team="T1", benefit=20_00)
    )
    given = treasury.book(Returned(day=DAY, of=paid, how="gift", amount=120_00, line="donations"))
    known = payments(treasury.bookings)
    assert (known[paid].left, known[paid].benefit) == (0, 0)
    assert (known[given].line, known[given].benefit) == ("donations", 0)
