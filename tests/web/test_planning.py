"""The page of plans: a search watched and stopped, drafts compared, published, frozen."""

import itertools
import re
import threading
from typing import Any

import msgspec
import pytest
from msgspec.structs import replace

from callroom.bootstrap.plan_drafts import drafts_of, keep_option, keep_searched
from callroom.bootstrap.planning import Searched
from callroom.bootstrap.searches import Searches
from callroom.model import Finding, PlanTold
from callroom.planner import PlanProgress, PlanReply
from callroom.planner.prices import Option, Price
from callroom.planner.why_not import Line
from callroom.web import app
from callroom.web.house import House
from tests.web.building import FakeBook, client_of, example_book, form_token

KEYS = itertools.count()
BECAUSE = Finding("certificate.choice", "note", "day", {"finish_at_s": 20_000})


def wait_for_stop(_searches: Searches, stop: threading.Event) -> None:
    stop.wait()


def book_with_draft() -> FakeBook:
    book = example_book()
    plan = book.state.plan
    assert plan is not None
    told = PlanTold(seq=1, at_ms=book.now_ms())
    book.state = replace(book.state, plan_told=told)
    first = plan.heats[0]
    later = replace(first, start_s=first.start_s + 120, end_s=first.end_s + 120)
    reply = PlanReply(
        status="solved",
        plan=replace(plan, heats=(later, *plan.heats[1:])),
        certificate_s=plan.finish_s - 300,
    )
    keep_searched(book, book.state, Searched(reply=reply, because=(BECAUSE,)), book.now_ms())
    return book


def post(client: Any, path: str, **fields: str) -> Any:
    data = {"form_token": form_token("director"), "key": f"k{next(KEYS)}"} | fields
    return client.post(path, data=data, follow_redirects=True)


def test_a_draft_is_drawn_proven_compared_and_published() -> None:
    book = book_with_draft()
    with client_of(book, "director") as client:
        assert 'href="/director/plan/1"' in client.get("/director/plan").text
        page = client.get("/director/plan/1").text
        assert "at most 5:00 could still be gained" in page
        assert "nothing is over before" in page
        assert page.count('class="heat-box') == len(book.state.plan.heats)  # type: ignore[union-attr]
        assert len(re.findall(r'class="pair-box moved after"', page)) == 1
        beside = client.get("/director/plan/compare?before=0&after=1").text
        assert "1 heats with" in beside
        after = post(client, "/director/plan/1", do="publish")
        assert "Revision 4" in after.text
    assert book.state.plan is not None
    assert book.state.plan.revision == 4
    assert drafts_of(book) == ()


def test_a_draft_of_older_data_or_beside_a_frozen_plan_cannot_be_published() -> None:
    book = book_with_draft()
    with client_of(book, "director") as client:
        post(client, "/director/plan", do="freeze", revision="3")
        page = client.get("/director/plan/1").text
        assert "is frozen" in page
        assert 'value="publish"' not in page
        assert "frozen" in client.get("/director/plan").text
        post(client, "/director/plan", do="thaw", revision="3", reason="late entries")
        book.state = replace(book.state, kit=())
        page = client.get("/director/plan/1").text
        assert "have changed since" in page
        assert post(client, "/director/plan/1", do="publish").status_code == 409
        assert post(client, "/director/plan/1", do="discard").status_code == 200
        assert client.get("/director/plan/1").status_code == 404


def test_a_plan_to_choose_of_another_day_brings_its_wishes() -> None:
    book = example_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    calm = replace(event, wishes=replace(event.wishes, finish_by_s=36_000))
    option = Option(
        name="calm", finish_s=plan.finish_s, longest_wait_s=60, spare_lanes=1, plan=plan, event=calm
    )
    keep_option(book, book.state, option, book.now_ms())
    with client_of(book, "director") as client:
        assert "changes the event’s wishes too" in client.get("/director/plan/1").text
        assert post(client, "/director/plan/1", do="publish").status_code == 200
    assert book.state.event == calm
    assert book.state.plan is not None
    assert book.state.plan.revision == 4


@pytest.fixture
def houses(monkeypatch: pytest.MonkeyPatch) -> list[House]:
    """The houses that are built, so that a test can have something looked for in them."""
    built: list[House] = []

    class Watched(House):
        def __init__(self, *given: Any) -> None:
            super().__init__(*given)
            built.append(self)

    monkeypatch.setattr(app, "House", Watched)
    return built


def test_a_search_is_shown_with_its_steps_and_can_be_stopped(houses: list[House]) -> None:
    book = example_book()
    plan = book.state.plan
    assert plan is not None
    with client_of(book, "director") as client:
        searches = houses[0].searches
        searches.start("plan", 20, wait_for_stop)
        met = PlanProgress(aim="finish", value_s=plan.finish_s, bound_s=plan.finish_s, plan=plan)
        searches.meet(met)
        page = client.get("/director/plan").text
        assert "Best so far" in page
        assert "No plan that keeps the wishes is over earlier" in page
        assert page.count('class="heat-box') == len(plan.heats)
        assert post(client, "/director/plan", do="plan", seconds="20").status_code == 409
        post(client, "/director/plan", do="stop")
        searches.wait()
        assert searches.now is not None
        assert searches.now.ended
        assert "Stop, and keep" not in client.get("/director/plan").text


def test_of_several_days_it_is_said_which_is_looked_at(houses: list[House]) -> None:
    book = example_book()
    plan = book.state.plan
    assert plan is not None
    with client_of(book, "director") as client:
        searches = houses[0].searches
        searches.start("plan", 20, wait_for_stop)
        met = PlanProgress(aim="finish", value_s=60, bound_s=60, plan=plan, day=1)
        searches.meet(met)
        page = client.get("/director/plan").text
        assert "Every day of it has a plan; now day 1 is made better." in page
        assert "Stop, and keep the best so far" in page
        post(client, "/director/plan", do="stop")
        searches.wait()


def test_the_menu_and_the_prices_can_be_taken(houses: list[House]) -> None:
    book = example_book()
    change = Finding("what_if.rest_less", "note", "day", {"rest_s": 1500, "by_s": 300})
    outcome = Finding("why_not.possible", "note", "day", {"finish_at_s": 30_000})
    line = Line(
        kinds=("rest_less",),
        subjects=("",),
        levels=(300,),
        status="does",
        finish_s=30_000,
        changes=(change,),
        outcome=outcome,
    )
    vain = replace(line, status="in_vain", outcome=Finding("why_not.in_vain", "note", "day"))
    price = Price(
        kind="rest_less", subject="", level=300, by_s=-600, proven=True, change=change,
        outcome=outcome,
    )  # fmt: skip
    with client_of(book, "director") as client:
        searches = houses[0].searches
        searches.start("plan", 20, lambda _mine, _stop: None)
        searches.wait()
        searches.add_line(line)
        searches.add_line(vain)
        searches.add_price(price)
        page = client.get("/director/plan").text
        takes = re.findall(r'name="do" value="take ([^"]+)"', page)
        assert len(takes) == 2
        assert "That alone does not make the day possible" in page
        basis = str(book.state.subjects.get("event", 0))
        told = msgspec.json.encode([{"kind": "rest_less", "subject": "", "level": 300}]).decode()
        assert post(client, "/director/plan", do=f"take {told}", basis=basis).status_code == 200
        assert post(client, "/director/plan", do="take nonsense").status_code == 422
    assert book.state.event is not None
    assert book.state.event.wishes.rest_s == 1500


def test_only_the_director_at_the_machine_hears_of_a_search() -> None:
    for role in (None, "judge", "head_judge"):
        with client_of(example_book(), role) as client:
            assert client.get("/live/director/search").status_code == 401
            assert client.get("/director/plan").status_code in {401, 403}
