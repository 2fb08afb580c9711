"""The plan under the hand in a real browser: by mouse, by keyboard alone, by finger."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Locator, Page, expect

from callroom.bootstrap import looking
from callroom.bootstrap.plan_drafts import draft_of, drafts_of
from callroom.bootstrap.planning import Searched
from callroom.planner import PlanReply, PlanRequest
from tests.web.building import served
from tests.web.test_browser import complaints, context_of
from tests.web.test_planning import book_with_draft

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
HERE = "/director/plan/1/touch"
TOLD = ".touch-side > .told"
PX = 5  # of a minute in the picture


def drag(page: Page, heat: Locator, minutes: int, aside: int = 0) -> None:
    heat.scroll_into_view_if_needed()
    box = heat.locator(".touch-box").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + 20
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + aside / 2, y + minutes * PX / 2)
    page.mouse.move(x + aside, y + minutes * PX)
    page.mouse.up()


def by_mouse_and_arrows(page: Page, heat: Locator) -> None:
    told, said = page.locator(TOLD), page.locator("[data-touch-said]")
    drag(page, heat, 5)
    expect(told).to_have_text("Heat 4 of Sandbag relay moved to 15:05.")
    expect(said).to_contain_text("moved to 15:05. Over at 15:22:10 instead of 15:17:10.")
    expect(page.locator(".touch-figures .differs").first).to_contain_text("15:22")

    heat.focus()
    expect(heat).to_be_focused()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(told).to_have_text("Heat 4 of Sandbag relay moved to 15:07.")
    expect(heat).to_be_focused()

    drag(page, heat, -20)
    expect(told).to_contain_text("Move one of the two.")
    expect(heat).to_have_attribute("data-start", f"{(7 * 60 + 7) * 60}")


def back_again_and_locked(page: Page, heat: Locator) -> None:
    told, said = page.locator(TOLD), page.locator("[data-touch-said]")
    heat.focus()
    expect(heat).to_be_focused()
    page.keyboard.press("Control+z")
    expect(told).to_have_text("Taken back: Heat 4 of Sandbag relay moved to 15:07.")
    page.reload()
    expect(page.locator(".touch-side")).to_contain_text("one change")
    heat.focus()
    expect(heat).to_be_focused()
    page.keyboard.press("Control+y")
    expect(told).to_have_text("Heat 4 of Sandbag relay moved to 15:07.")

    heat.focus()
    expect(heat).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#chosen")).to_be_focused()
    lock = page.get_by_role("button", name="Lock time and floor")
    lock.focus()
    expect(lock).to_be_focused()
    page.keyboard.press("Enter")
    expect(told).to_contain_text("locked in its time")
    page.keyboard.press("Escape")
    expect(heat).to_be_focused()
    page.keyboard.press("ArrowUp")
    expect(said).to_contain_text("is locked. Unlock it first.")


def test_a_plan_is_changed_by_hand_refused_solved_again_compared_and_published(
    browser: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = book_with_draft()

    def search(request: PlanRequest, *_: object) -> Searched:
        """Everything but the locked heat as it was: the search itself has tests of its own."""
        assert request.event.wishes.locks
        plan = draft_of(book, 1).plan
        first = replace(plan.heats[0], start_s=plan.heats[0].start_s - 60)
        heats = (replace(first, end_s=first.end_s - 60), *plan.heats[1:])
        found = replace(plan, heats=heats)
        return Searched(reply=PlanReply(status="solved", plan=found, certificate_s=found.finish_s))

    monkeypatch.setattr(looking, "search_apart", search)
    with served(book) as url, context_of(browser, url, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        page.set_viewport_size({"width": 1440, "height": 900})
        with page.expect_response(lambda answer: "/live/director/search" in answer.url):
            page.goto(HERE)
        heat = page.locator('[data-heat="w5-4"]')

        by_mouse_and_arrows(page, heat)
        back_again_and_locked(page, heat)

        page.get_by_role("button", name="Look for a plan").click()
        page.get_by_role("link", name="Side by side with draft 1").click()
        expect(page.get_by_role("heading", name="Two plans side by side")).to_be_visible()
        assert drafts_of(book)[0].event.wishes.locks == draft_of(book, 1).event.wishes.locks

        page.goto("/director/plan/2/touch")
        page.get_by_role("button", name="Publish it: everyone is told").click()
        expect(page.get_by_text("Revision 4")).to_be_visible()
        assert [one for one in heard if "409" not in one] == []
    assert book.state.plan is not None
    assert book.state.plan.heat("w5-4").start_s == (7 * 60 + 7) * 60


def test_a_finger_taps_and_presses_and_every_state_is_accessible(browser: Browser) -> None:
    axe = (ROOT / "node_modules/axe-core/axe.min.js").read_text(encoding="utf-8")
    book = book_with_draft()
    with served(book) as url, context_of(browser, url, "director", has_touch=True) as context:
        page = context.new_page()
        heard = complaints(page)
        page.set_viewport_size({"width": 360, "height": 740})
        page.goto(HERE)
        page.locator('[data-heat="w1-3"]').tap()
        expect(page.locator("#chosen")).to_have_text("Long haul, Heat 3")
        later = page.get_by_role("button", name="1 min later")
        expect(later).to_be_in_viewport()
        later.tap()
        told = page.locator(TOLD)
        expect(told).to_have_text("Heat 3 of Long haul moved to 09:37.")
        expect(told).to_be_in_viewport()
        page.evaluate("document.querySelectorAll('main details').forEach(d => d.open = true)")
        for width in (1440, 360):
            page.set_viewport_size({"width": width, "height": 800})
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            page.evaluate(axe)
            result = page.evaluate(
                "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa'], resultTypes: ['violations']})"
            )
            assert [
                f"{fault['id']}: {node['html'][:160]}"
                for fault in result["violations"]
                for node in fault["nodes"]
            ] == []
        assert heard == []
