"""Go or no-go: each point green or not with what mends it, and the decision kept with its time."""

import string
from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions.ground import tick_check
from callroom.model import Duty, Rota, Shift, State, milliseconds
from callroom.model.money import Booking, Budget, Counted, Place
from callroom.model.safety import Weather
from callroom.views.check_in import check_in_desk
from callroom.views.go import GoPage, SeenNow, go_page, sheets_check
from callroom.views.sentences import SENTENCES
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token
from tests.web.test_check_in import book_to_check_in

GOOD: dict[str, Any] = {
    "kit_short": 0,
    "address": "http://10.0.0.2:8000",
    "phone_ms": 0,
    "copy_ms": 0,
    "disk_mb": 50_000,
}


def points_of(state: State, **seen: Any) -> GoPage:
    assert state.event is not None
    now_ms = milliseconds(state.event.starts_at) - 3_600_000
    known = GOOD | {"phone_ms": now_ms, "copy_ms": now_ms - 5_000} | seen
    return go_page(state, check_in_desk(state, {}), SeenNow(now_ms=now_ms, **known))


def rules(page: GoPage) -> set[str]:
    return {one.said.rule.removeprefix("go.") for one in page.points}


def test_every_point_says_its_sentence_with_the_facts_it_gives() -> None:
    state = example_book().state
    for changes in (
        {},
        {"plan": None},
        {"rota": Rota(plan_revision=1, shifts=(), duties=())},
        {"weather": {"1": Weather(floor="hall", at_ms=0, thunder=True)}},
    ):
        other = {"address": "", "copy_ms": None, "clocks_off": 2, "disk_mb": 3, "kit_short": None}
        for seen in ({}, other):
            for one in points_of(replace(state, **changes), **seen).points:
                template = SENTENCES[one.said.rule]
                asked = {name for _, name, _, _ in string.Formatter().parse(template) if name}
                assert asked <= set(one.said.facts), one.said.rule


def test_lanes_without_a_judge_are_counted_and_an_old_rota_is_told() -> None:
    state = example_book().state
    assert state.plan is not None
    shifts = tuple(
        Shift(id=f"s{lane}", post="judge", start_s=0, end_s=900, heat="w1-1", lane=lane)
        for lane in (1, 2, 3)
    )
    rota = Rota(
        plan_revision=state.plan.revision,
        shifts=shifts,
        duties=(Duty(shift="s1", person="p1"),),
    )
    (judges,) = (one for one in points_of(replace(state, rota=rota)).points if one.id == "judges")
    assert (judges.green, judges.said.facts["count"]) == (False, 2)
    old = replace(rota, plan_revision=0)
    assert "rota_old" in rules(points_of(replace(state, rota=old)))


def test_the_phone_must_have_come_this_morning_and_the_copy_be_fresh() -> None:
    state = example_book().state
    assert {"phone_ok", "copy_ok"} <= rules(points_of(state))
    assert {"phone", "copy_old"} <= rules(points_of(state, phone_ms=0, copy_ms=0))
    assert {"phone", "copy_none"} <= rules(points_of(state, phone_ms=None, copy_ms=None))
    assert "copy_failing" in rules(points_of(state, copy_failing="no stick"))


def test_sheets_that_were_right_are_stale_after_a_new_plan() -> None:
    book = example_book()
    book.do(DIRECTOR, tick_check(sheets_check(book.state)))
    assert "sheets_ok" in rules(points_of(book.state))
    plan = book.state.plan
    assert plan is not None
    later = replace(book.state, plan=replace(plan, revision=plan.revision + 1))
    assert "sheets" in rules(points_of(later))


def test_floats_are_counted_on_the_day_itself() -> None:
    state = example_book().state
    assert state.event is not None
    budget = Budget(places=(Place(id="till", name="Till", sort="cash"),))

    def counted(day: date) -> State:
        deed = Counted(day=day, place="till", counted_by=("a", "b"))
        booking = Booking(seq=1, at_ms=0, deed=deed)
        return replace(state, budget=budget, bookings={"1": booking})

    assert "floats_ok" in rules(points_of(counted(state.event.day)))
    assert "floats" in rules(points_of(counted(date(2020, 1, 1))))


def press(book: FakeBook, do: str, **fields: str) -> Any:
    form = {"form_token": form_token("director"), "do": do, **fields}
    with client_of(book, "director") as client:
        return client.post("/director/go", data=form)


def test_the_director_looks_decides_and_it_is_kept() -> None:
    book = book_to_check_in()
    with client_of(book, "director") as client:
        page = client.get("/director/go").text
        assert "Teams that have not paid: 16" in page
        assert "Signatures of athletes or guardians missing: 1" in page
        assert 'href="/director/money/entries"' in page
    assert "First aid is there." in press(book, "looked:go/first-aid").text
    assert press(book, "decide:go").status_code == 422
    assert press(book, "decide:no_go").status_code == 422
    shown = press(book, "decide:go_with_open", reason="They pay <at> the door")
    assert "They pay &lt;at&gt; the door" in shown.text
    (decision,) = book.state.go_decisions
    assert "payments" in decision.open
    assert "Is first aid there?" in press(book, "not_looked:go/first-aid").text


@pytest.mark.parametrize("do", ["", "looked:other", "decide:maybe"])
def test_what_no_button_asks_changes_nothing(do: str) -> None:
    book = example_book()
    assert press(book, do).status_code == 422
    assert not book.entries
