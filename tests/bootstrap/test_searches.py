"""One search at a time: it tells how it stands, can be stopped, and leaves a draft."""

import threading

import pytest
from msgspec.structs import replace

from callroom.actions.digest import inputs_digest
from callroom.bootstrap.looking import look_for_plan
from callroom.bootstrap.plan_drafts import (
    MOST_KEPT,
    draft_of,
    drafts_of,
    drop_draft,
    keep_searched,
    need_fresh,
    numbered,
)
from callroom.bootstrap.planning import Searched
from callroom.bootstrap.searches import Searches
from callroom.model import EventDay, NotFound, Refusal, Stale, errors_among
from callroom.planner import PlanProgress, PlanReply
from tests.web.building import FakeBook, example_book


def wait_for_stop(_searches: Searches, stop: threading.Event) -> None:
    stop.wait()


def searched(book: FakeBook, stopped: bool = False) -> Searched:
    plan = book.state.plan
    assert plan is not None
    reply = PlanReply(status="solved", plan=plan, certificate_s=plan.finish_s)
    return Searched(reply=reply, stopped=stopped)


def progress(book: FakeBook) -> PlanProgress:
    plan = book.state.plan
    assert plan is not None
    return PlanProgress(aim="finish", value_s=plan.finish_s, bound_s=100, plan=plan)


@pytest.fixture
def book() -> FakeBook:
    return example_book()


def test_what_is_met_is_told_and_the_end_too(book: FakeBook) -> None:
    changes: list[int] = []
    searches = Searches(book, lambda: changes.append(1))

    def work(mine: Searches, _stop: threading.Event) -> None:
        mine.meet(progress(book))
        draft = keep_searched(book, book.state, searched(book), 5)
        assert draft is not None
        mine.tell(draft=draft.number)

    searches.start("plan", 20, work)
    searches.wait()
    now = searches.now
    assert now is not None
    assert (now.ended, now.draft, len(now.met)) == (True, 1, 1)
    assert now.best == progress(book)
    assert len(changes) == 4
    assert [draft.number for draft in searches.drafts()] == [1]


def test_a_second_search_waits_for_the_first_and_stopping_is_heard(book: FakeBook) -> None:
    searches = Searches(book)
    searches.start("prices", 0, wait_for_stop)
    with pytest.raises(Refusal):
        searches.start("plan", 20, lambda _mine, _stop: None)
    searches.stop()
    searches.wait()
    assert searches.now is not None
    assert searches.now.ended
    searches.start("plan", 20, lambda _mine, _stop: None)
    searches.wait()


def test_a_search_that_fails_says_so(book: FakeBook) -> None:
    searches = Searches(book)

    def fail(_mine: Searches, _stop: threading.Event) -> None:
        raise ZeroDivisionError

    searches.start("plan", 20, fail)
    searches.wait()
    assert searches.now is not None
    assert [one.rule for one in searches.now.findings] == ["search.failed"]
    assert searches.now.ended


def test_stopped_on_its_first_day_a_search_of_several_leaves_a_draft_of_all(book: FakeBook) -> None:
    event = book.state.event
    assert event is not None
    names = [workout.id for workout in event.workouts]
    days = tuple(
        EventDay(
            id=name,
            name=name,
            opens_s=opens_s,
            closes_s=opens_s + 86_000,
            workouts=tuple(names[half]),
        )
        for name, opens_s, half in (
            ("sat", 0, slice(None, len(names) // 2)),
            ("sun", 86_400, slice(len(names) // 2, None)),
        )
    )
    book.state = replace(
        book.state, event=replace(event, wishes=replace(event.wishes, days=days, pauses=()))
    )

    def stop_at_the_first() -> None:
        if searches.now is not None and searches.now.best is not None:
            searches.stop()

    searches = Searches(book)
    searches.on_change = lambda: stop_at_the_first() if not stopped(searches) else None
    searches.start("plan", 20, look_for_plan(book, book.state, 20, 5))
    searches.wait()
    assert searches.now is not None
    (draft,) = drafts_of(book)
    assert draft.number == searches.now.draft  # that it says "stopped" hangs on who is faster
    assert {heat.workout for heat in draft.plan.heats} == set(names)
    assert errors_among(draft.findings) == ()


def stopped(searches: Searches) -> bool:
    return searches.now is not None and searches.now.stopping


def test_drafts_are_numbered_kept_and_make_room(book: FakeBook) -> None:
    for _ in range(MOST_KEPT + 2):
        keep_searched(book, book.state, searched(book), 5)
    numbers = [draft.number for draft in drafts_of(book)]
    assert numbers == list(range(MOST_KEPT + 2, 2, -1))
    drop_draft(book, numbers[0])
    with pytest.raises(NotFound):
        draft_of(book, numbers[0])
    assert (
        keep_searched(book, book.state, Searched(reply=PlanReply(status="infeasible")), 5) is None
    )


def test_a_draft_is_published_as_the_next_revision_of_the_same_data(book: FakeBook) -> None:
    draft = keep_searched(book, book.state, searched(book), 5)
    assert draft is not None
    assert need_fresh(book.state, draft) == book.state.event
    plan = numbered(book.state, draft)
    assert book.state.plan is not None
    assert plan.revision == book.state.plan.revision + 1
    assert plan.inputs_digest == inputs_digest(book.state)
    with pytest.raises(Stale):
        need_fresh(replace(book.state, kit=()), draft)
