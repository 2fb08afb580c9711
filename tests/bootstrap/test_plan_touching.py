"""A draft changed by hand: kept at once, taken back and done again, looked for again."""

from decimal import Decimal

import msgspec
import pytest
from msgspec.structs import replace

from callroom.bootstrap import looking
from callroom.bootstrap.plan_drafts import PlanDraft, draft_of, drafts_of, need_fresh
from callroom.bootstrap.plan_touching import (
    draft_in_force,
    effects_of,
    redo,
    step_of,
    touch_draft,
    undo,
)
from callroom.bootstrap.planning import Searched
from callroom.bootstrap.searches import Searches
from callroom.model import KitItem, Mass, NotFound, Refusal, Stale
from callroom.planner import PlanReply, PlanRequest
from callroom.planner.touch import Impossible, Move, SetLock
from tests.web.building import FakeBook, example_book

LATER = Move(heat="w5-4", by_s=300)


def begun() -> tuple[FakeBook, PlanDraft]:
    book = example_book()
    return book, draft_in_force(book, book.state, book.now_ms())


def test_every_change_is_kept_and_can_be_taken_back_and_done_again() -> None:
    book, draft = begun()
    for turn in range(3):
        touch_draft(book, book.state, 1, turn, LATER)
    kept = draft_of(book, 1)
    assert kept.plan.heat("w5-4").start_s == draft.plan.heat("w5-4").start_s + 900
    assert kept.hand is not None
    assert kept.hand.steps == (LATER,) * 3
    undo(book, book.state, 1, 3)
    undone = undo(book, book.state, 1, 4)
    assert undone.plan.heat("w5-4").start_s == draft.plan.heat("w5-4").start_s + 300
    assert redo(book, book.state, 1, 5).plan.heat("w5-4") != undone.plan.heat("w5-4")
    redo(book, book.state, 1, 6)
    again = draft_of(book, 1)
    assert (again.plan, again.event, again.findings) == (kept.plan, kept.event, kept.findings)
    with pytest.raises(Refusal, match="nothing_to_redo"):
        redo(book, book.state, 1, 7)


def test_taken_back_to_the_beginning_it_is_the_draft_as_it_was_found() -> None:
    book, draft = begun()
    proven = replace(draft, certificate_s=4242)
    book.keep_draft("plan/1", msgspec.msgpack.encode(proven))
    touched = touch_draft(book, book.state, 1, 0, SetLock(heat="w1-1", on=True))
    assert touched.certificate_s == 0
    assert touched.event.wishes.locks
    back = undo(book, book.state, 1, 1)
    assert (back.plan, back.event, back.certificate_s) == (draft.plan, draft.event, 4242)
    with pytest.raises(Refusal, match="nothing_to_undo"):
        undo(book, book.state, 1, 2)


def test_who_saw_another_turn_is_told_so_and_nothing_impossible_is_kept() -> None:
    book, draft = begun()
    touch_draft(book, book.state, 1, 0, LATER)
    with pytest.raises(Stale):
        touch_draft(book, book.state, 1, 0, LATER)
    on_another = Move(heat="w5-4", by_s=-25 * 60)
    with pytest.raises(Impossible):
        touch_draft(book, book.state, 1, 1, on_another)
    hand = draft_of(book, 1).hand
    assert hand is not None
    assert (hand.turn, hand.steps) == (1, (LATER,))
    with pytest.raises(NotFound):
        touch_draft(book, book.state, draft.number + 1, 0, LATER)


def test_what_was_done_last_and_what_comes_of_it_is_told() -> None:
    book, draft = begun()
    assert effects_of(book.state, draft).changed == frozenset()
    assert step_of(book.state, draft).last is None
    touched = touch_draft(book, book.state, 1, 0, LATER)
    assert effects_of(book.state, touched).changed == {"w5-4"}
    step = step_of(book.state, touched)
    assert step.last is not None
    assert step.last.facts["start_at_s"] == touched.plan.heat("w5-4").start_s
    undone = undo(book, book.state, 1, 1)
    assert step_of(book.state, undone).again == step.last


def test_a_plan_is_looked_for_around_what_is_locked(monkeypatch: pytest.MonkeyPatch) -> None:
    book, _ = begun()
    draft = touch_draft(book, book.state, 1, 0, SetLock(heat="w1-1", on=True))
    asked: list[PlanRequest] = []

    def search(request: PlanRequest, *_: object) -> Searched:
        asked.append(request)
        return Searched(reply=PlanReply(status="solved", plan=draft.plan, certificate_s=60))

    monkeypatch.setattr(looking, "search_apart", search)
    searches = Searches(book)
    searches.start("plan", 20, looking.look_again(book, book.state, draft, 20, book.now_ms()))
    searches.wait(20)
    assert asked[0].event.wishes.locks == draft.event.wishes.locks != ()
    found = drafts_of(book)[0]
    assert searches.now is not None
    assert (searches.now.of_draft, searches.now.draft) == (1, found.number)
    assert found.event == draft.event
    assert found.certificate_s == 60
    assert need_fresh(book.state, found) == book.state.event


def test_kit_that_two_floors_now_want_at_once_is_told() -> None:
    book, draft = begun()
    bells = tuple(
        KitItem(
            id=f"k{mass}",
            name="Kettlebell",
            kind="kettlebell",
            count=6,
            mass=Mass(amount=Decimal(mass)),
        )
        for mass in (16, 24)
    )
    book.state = replace(book.state, kit=bells)
    one, other = draft.plan.heat("w2-1"), draft.plan.heat("w2-2")
    beside = Move(heat=one.id, by_s=other.start_s - one.start_s, floor="yard")
    touched = touch_draft(book, book.state, 1, 0, beside)
    told = [item for item in effects_of(book.state, touched).new if item.rule == "kit.short"]
    assert [item.facts["item"] for item in told] == ["kettlebell"]
    undone = undo(book, book.state, 1, 1)
    assert effects_of(book.state, undone).new == ()
