"""From an unmeasured hall to a run sheet, in a real browser and by keyboard where it counts."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.web.building import client_of, played_book, served
from tests.web.test_browser import complaints, context_of

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]


def faults_of(page: Page, axe: str) -> list[str]:
    """What is wider than a phone, or not accessible."""
    found = []
    for width in (1440, 360):
        page.set_viewport_size({"width": width, "height": 800})
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{page.url} is wider than {width}")
    page.evaluate(axe)
    result = page.evaluate("axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']})")
    return found + [
        f"{page.url}: {fault['id']}: {node['html'][:120]}"
        for fault in result["violations"]
        for node in fault["nodes"]
    ]


def put_on_cakes(page: Page) -> None:
    """Add a cake table at the desk."""
    page.goto("/director/side-programme")
    page.get_by_label("Name", exact=True).fill("Cake table")
    page.get_by_label("Kind").select_option("food")
    page.locator("#span-0-from").fill("10:00")
    page.locator("#span-0-until").fill("12:00")
    page.get_by_label("Where on the floor plan").select_option("desk")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("heading", name="Cake table", exact=True)).to_be_visible()


def test_a_hall_is_measured_moved_and_the_day_put_on_one_sheet(browser: Browser) -> None:
    axe = (ROOT / "node_modules/axe-core/axe.min.js").read_text(encoding="utf-8")
    book, found = played_book(), []
    with served(book) as url, context_of(browser, url, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        page.goto("/director/floor-plan")
        for side, size in (("length", "40"), ("width", "25"), ("height", "6")):
            page.locator(f"#hall-{side}").fill(size)
        if page.locator("#yard-length").count():
            page.locator("#yard-length").fill("40")
            page.locator("#yard-width").fill("30")
        page.get_by_role("button", name="Lay it out").click()
        expect(page.get_by_text("Laid out from your sizes")).to_be_visible()
        found += faults_of(page, axe)

        desk = page.locator('[data-thing="spot:desk"]')
        before = next(spot for spot in book.state.ground.spots if spot.id == "desk")
        expect(desk).to_have_attribute("role", "button")
        desk.focus()
        expect(desk).to_be_focused()
        page.keyboard.press("ArrowUp")
        page.keyboard.press("Shift+ArrowUp")
        expect(page.locator("[data-moved]")).to_contain_text("Not kept yet")
        page.get_by_role("button", name="Keep the plan").click()
        expect(page.get_by_text("The floor plan is kept.")).to_be_visible()
        after = next(spot for spot in book.state.ground.spots if spot.id == "desk")
        assert (after.x_mm, after.y_mm) == (before.x_mm, before.y_mm - 1_100)

        put_on_cakes(page)
        found += faults_of(page, axe)

        page.goto("/director/checklists")
        page.get_by_role("button", name="Done: Have allergens").click()
        expect(
            page.get_by_role("button", name="Not done after all: Have allergens")
        ).to_be_visible()
        found += faults_of(page, axe)

        page.clock.install()
        page.goto("/director/run-sheet")
        row = page.get_by_role("row", name="Cake table")
        expect(row).to_contain_text("Desk")
        found += faults_of(page, axe)
        shown = page.locator("[data-fresh] > p").first
        before_text = shown.inner_text()
        book.set_now(book.now_ms() + 600_000)
        page.clock.fast_forward(21_000)
        expect(shown).not_to_have_text(before_text)
        assert found == []
        assert heard == []
    with client_of(book) as stranger:
        assert "Cake table" in stranger.get("/programme").text
