"""Plans, rota, kit, punctuality and repair in a real browser: live, accessible, fitting."""

import threading
from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, expect

from callroom.actions import planned
from callroom.bootstrap import repairing
from callroom.bootstrap.searches import Searches
from callroom.planner import PlanProgress
from callroom.web import app
from callroom.web.house import House
from tests.bootstrap.test_kit_making import KIT
from tests.web.building import DIRECTOR, served
from tests.web.test_browser import complaints, context_of
from tests.web.test_planning import book_with_draft
from tests.web.test_repair import late_book

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
PAGES = (
    "/director/plan",
    "/director/plan/1",
    "/director/plan/compare?before=0&after=1",
    "/director/rota",
    "/director/rota/ill?person=P2",
    "/my-day",
    "/my-day/P2",
    "/director/kit",
    "/director/punctuality",
    "/director/repair",
    "/changes",
)


def test_the_pages_fit_and_are_accessible(
    browser: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(repairing, "ask_apart", lambda *_: True)
    axe = (ROOT / "node_modules/axe-core/axe.min.js").read_text(encoding="utf-8")
    book = late_book()
    book.kept |= book_with_draft().kept
    book.state = replace(book.state, kit=KIT)
    book.do(DIRECTOR, planned.note_loss("lane", "a wet patch", floor="hall", lane=4))
    (proposal,) = repairing.proposals(book.state, book.now_ms())
    book.do(DIRECTOR, repairing.accepted(book.state, proposal, "a wet patch"))
    found: list[str] = []
    with served(book) as url, context_of(browser, url, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        for path in PAGES:
            page.goto(path)
            page.evaluate("document.querySelectorAll('main details').forEach(d => d.open = true)")
            for width in (1440, 360):
                page.set_viewport_size({"width": width, "height": 800})
                if page.evaluate("document.documentElement.scrollWidth") > width:
                    found.append(f"{path} is wider than {width}")
            page.evaluate(axe)
            result = page.evaluate(
                "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa'], resultTypes: ['violations']})"
            )
            found += [
                f"{path}: {fault['id']}: {node['html'][:120]}"
                for fault in result["violations"]
                for node in fault["nodes"]
            ]
    assert found == []
    assert heard == []


def test_a_search_shows_each_better_plan_as_it_is_met_and_is_stopped(
    browser: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    houses: list[House] = []

    class Watched(House):
        def __init__(self, *given: object) -> None:
            super().__init__(*given)  # type: ignore[arg-type]
            houses.append(self)

    monkeypatch.setattr(app, "House", Watched)
    book = book_with_draft()
    plan = book.state.plan
    assert plan is not None
    met = threading.Event()

    def work(searches: Searches, stop: threading.Event) -> None:
        met.wait(60)
        progress = PlanProgress(aim="finish", value_s=plan.finish_s, bound_s=60, plan=plan)
        searches.meet(progress)
        stop.wait(60)

    with served(book) as url, context_of(browser, url, "director") as context:
        searches = houses[0].searches
        searches.start("plan", 20, work)
        page = context.new_page()
        heard = complaints(page)
        with page.expect_response(lambda answer: "/live/director/search" in answer.url):
            page.goto("/director/plan")
        expect(page.get_by_role("heading", name="Looking for a plan")).to_be_visible()
        expect(page.locator(".search-best")).to_have_count(0)
        met.set()
        expect(page.locator(".search-best")).to_be_visible()
        stop = page.get_by_role("button", name="Stop, and keep the best so far")
        stop.focus()
        page.keyboard.press("Enter")
        expect(page.get_by_role("heading", name="No plan was found")).to_be_visible()
        assert heard == []
