"""The check-in adds up whoever notes it first, takes a fee once, and a book away takes nothing."""

from datetime import date

import pytest

from callroom.actions import check_in as ask
from callroom.actions import day
from callroom.actions.money import book_money, set_budget
from callroom.journal.entries import bodies
from callroom.model import Actor, NotAllowed, Refusal
from callroom.model.money import AnyDeed, Budget, BudgetLine, Place, Received, Scenario, Spent
from tests.actions.day_building import DIRECTOR, EVENT, Day, loaded_day

DESK = Actor(role="desk", device="laptop", name="desk")
HELPER = Actor(role="crew", device="phone", name="crew")
SQUAD = tuple(one.person for one in loaded_day().state.teams["T1"].athletes)
FEE = 12_000


def day_with_fees() -> Day:
    made = loaded_day()
    budget = Budget(
        lines=(
            BudgetLine(id="fees", name="Fees", side="income", sort="entries", per_head=FEE // 2),
            BudgetLine(id="hall", name="Hall", side="cost", sort="hire", fixed=1),
        ),
        places=(
            Place(id="till", name="Till", sort="cash"),
            Place(id="bank", name="Bank", sort="bank"),
        ),
        scenarios=tuple(Scenario(id=name, name=name) for name in ("few", "some", "many")),
    )
    made.ask(DIRECTOR, set_budget(budget))
    return made


def cash(amount: int = FEE, place: str = "till") -> Received:
    return Received(day=date(2027, 5, 8), line="fees", place=place, amount=amount, team="T1")


def test_two_devices_that_note_one_team_agree_in_either_order() -> None:
    one, other = loaded_day(), loaded_day()
    parts = (
        (DESK, ask.note_here("T1", SQUAD[:1])),
        (HELPER, ask.check_in_whole("T1", SQUAD)),
    )
    for made, order in ((one, parts), (other, parts[::-1])):
        for actor, request in order:
            made.ask(actor, request)
    assert {frozenset(made.state.check_ins["T1"].here) for made in (one, other)} == {
        frozenset(SQUAD)
    }
    assert len(one.state.check_ins["T1"].here) == len(SQUAD)
    one.ask(HELPER, ask.note_here("T1", SQUAD[:1], here=False))
    assert one.state.check_ins["T1"].here == SQUAD[1:]
    assert one.state.check_ins["T1"].pack_seq is not None


def test_a_pack_given_twice_counts_from_the_first_time_and_can_be_taken_back() -> None:
    made = loaded_day()
    made.ask(DESK, ask.give_pack("T1"))
    first = made.state.check_ins["T1"].pack_seq
    made.ask(HELPER, ask.give_pack("T1"))
    assert made.state.check_ins["T1"].pack_seq == first
    made.ask(HELPER, ask.give_pack("T1", given=False))
    assert made.state.check_ins["T1"].pack_seq is None


def test_only_the_squad_of_a_team_that_is_in_is_checked_in() -> None:
    made = loaded_day()
    with pytest.raises(Refusal, match=r"line_up\.not_of_squad"):
        made.ask(DESK, ask.note_here("T1", ("a stranger",)))
    made.ask(DIRECTOR, day.withdraw_team("T1", "ill"))
    with pytest.raises(Refusal, match=r"team\.left_already"):
        made.ask(DESK, ask.give_pack("T1"))


def test_a_helper_signs_nobody_in_on_paper() -> None:
    made = loaded_day()
    with pytest.raises(NotAllowed):
        made.ask(HELPER, ask.sign_paper("T1", SQUAD[0], "self"))
    made.ask(DESK, ask.sign_paper("T1", SQUAD[0], "guardian"))
    assert made.state.signed[SQUAD[0]].by == "guardian"
    made.ask(DESK, ask.sign_paper("T1", SQUAD[0], "guardian", signed=False))
    assert SQUAD[0] not in made.state.signed


def test_a_fee_is_taken_once_whoever_takes_it() -> None:
    made = day_with_fees()
    made.ask(DESK, ask.take_fee(cash(FEE - 2_000)))
    with pytest.raises(Refusal, match=r"check_in\.paid_already"):
        made.ask(DESK, ask.take_fee(cash()))
    made.ask(DESK, ask.take_fee(cash(2_000)))
    with pytest.raises(Refusal, match=r"check_in\.paid_already"):
        made.ask(DESK, ask.take_fee(cash(1)))


@pytest.mark.parametrize(
    "deed",
    [
        Spent(day=date(2027, 5, 8), line="hall", place="till", amount=1),
        cash(place="bank"),
        Received(day=date(2027, 5, 8), line="fees", place="till", amount=1),
        Received(day=date(2027, 5, 8), line="hall", place="till", amount=1, team="T1"),
    ],
)
def test_the_desk_books_nothing_but_cash_for_a_fee(deed: AnyDeed) -> None:
    made = day_with_fees()
    with pytest.raises(NotAllowed):
        made.ask(DESK, book_money(deed))


def test_a_go_has_nothing_open_and_a_no_go_has_a_reason() -> None:
    made = loaded_day()
    with pytest.raises(Refusal, match=r"go\.points_open"):
        made.ask(DIRECTOR, ask.decide_go("go", "", ("exits",)))
    with pytest.raises(Refusal, match=r"decision\.no_reason"):
        made.ask(DIRECTOR, ask.decide_go("no_go", " ", ("exits",)))
    made.ask(DIRECTOR, ask.decide_go("no_go", "thunder", ("weather",)))
    made.ask(DIRECTOR, ask.decide_go("go_with_open", "", ("exits",)))
    assert [one.verdict for one in made.state.go_decisions] == ["no_go", "go_with_open"]


def test_a_book_that_went_to_the_hall_takes_nothing_until_it_goes_on() -> None:
    made = loaded_day()
    made.ask(DIRECTOR, ask.take_book())
    for request in (ask.give_pack("T1"), day.mark_arrived("w1-1", "T1"), ask.take_book()):
        with pytest.raises(Refusal, match=r"book\.away"):
            made.ask(DIRECTOR, request)
    made.ask(DIRECTOR, day.carry_book_on(2, made.state.seq))
    assert made.state.away is None
    made.ask(DIRECTOR, ask.give_pack("T1"))
    with pytest.raises(Refusal, match=r"book\.is_here"):
        made.ask(DIRECTOR, ask.keep_book())
    made.tell(DIRECTOR, bodies.EventSet(event=EVENT))
