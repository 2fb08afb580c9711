"""A team is checked in by its QR address on a phone, another by keyboard alone; nothing bars anyone."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.web.building import served
from tests.web.test_browser import complaints, context_of
from tests.web.test_check_in import book_to_check_in

pytestmark = pytest.mark.browser

AXE = Path(__file__).resolve().parents[2] / "node_modules/axe-core/axe.min.js"
PHONE: Any = {"width": 360, "height": 740}
LAPTOP: Any = {"width": 1440, "height": 900}
OTHERS = ("/director/go", "/director/devices", "/director/hosting")


def need_no_barrier(page: Page) -> None:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    result = page.evaluate("axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']})")
    found = [(one["id"], [node["html"] for node in one["nodes"]]) for one in result["violations"]]
    assert found == [], json.dumps(found, indent=1)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_teams_are_checked_in_by_code_and_by_name(browser: Browser) -> None:
    book = book_to_check_in()
    event = book.state.event
    assert event is not None
    with served(book) as url:
        with context_of(browser, url, "crew", viewport=PHONE) as helper:
            page = helper.new_page()
            heard = complaints(page)
            page.goto("/check-in/T13")
            expect(page.get_by_text("Before they start:")).to_be_visible()
            need_no_barrier(page)
            page.get_by_role("button", name="All 2 are here, pack given").click()
            expect(page.get_by_text("all here, pack given.")).to_be_visible()
            need_no_barrier(page)
            assert heard == []
        with context_of(browser, url, None, viewport=PHONE) as guest:
            page = guest.new_page()
            page.goto("/check-in/T13")
            expect(page).to_have_url(f"{url}/team/T13")
        with context_of(browser, url, "desk", viewport=LAPTOP) as desk:
            page = desk.new_page()
            page.goto("/check-in")
            expect(page.get_by_role("searchbox", name="Team")).to_be_focused()
            page.keyboard.type("salt")
            page.keyboard.press("Enter")
            whole = page.get_by_role("button", name="All 2 are here, pack given")
            expect(whole).to_be_focused()
            need_no_barrier(page)
            page.keyboard.press("Enter")
            expect(page.get_by_text("all here, pack given.")).to_be_visible()
            expect(page.get_by_role("searchbox", name="Team")).to_be_focused()
            need_no_barrier(page)
        for size in (PHONE, LAPTOP):
            with context_of(browser, url, "director", viewport=size) as director:
                page = director.new_page()
                for path in OTHERS:
                    page.goto(path)
                    need_no_barrier(page)
    checked = [team for team, one in book.state.check_ins.items() if one.pack_seq is not None]
    assert len(checked) == 2
