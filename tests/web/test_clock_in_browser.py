"""The heat clock in real browsers: screens agree whatever their own clocks say, and own up."""

import re
import time
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from callroom.actions import day
from tests.web.building import DIRECTOR, FakeBook, example_book, served

pytestmark = pytest.mark.browser

AGREE_MS = 50
HOURS_AHEAD = 2
# A device whose own clocks are ahead, and which notes when its digits turn.
DEVICE = """(() => {
  const ahead = %d, origin = performance.timeOrigin, wall = Date.now.bind(Date);
  Object.defineProperty(performance, "timeOrigin", { value: origin + ahead });
  Date.now = () => wall() + ahead;
  window.turns = {};
  addEventListener("DOMContentLoaded", () => new MutationObserver(() => {
    const digits = document.querySelector("[data-digits]")?.textContent ?? "";
    window.turns[digits] ??= origin + performance.now();
  }).observe(document.body, { subtree: true, childList: true, characterData: true }));
})()"""


class LiveBook(FakeBook):
    """The example day at a time that passes, a day ahead of this machine's."""

    ahead_ms = 24 * 3600 * 1000

    def now_ms(self) -> int:
        return time.time_ns() // 1_000_000 + self.ahead_ms


def counting_down(in_s: int) -> FakeBook:
    """The first heat in the hall, whose clock reaches nought in some seconds."""
    book = LiveBook(example_book().state)
    book.do(DIRECTOR, day.call_heat("w1-1"))
    book.do(DIRECTOR, day.start_heat("w1-1", book.now_ms() + in_s * 1000))
    return book


def screen(browser: Browser, url: str, ahead_ms: int) -> tuple[BrowserContext, Any]:
    context = browser.new_context(base_url=url)
    context.add_init_script(DEVICE % ahead_ms)
    page = context.new_page()
    page.goto("/clock/hall")
    return context, page


def test_two_screens_show_the_same_whatever_their_own_clocks_say(browser: Browser) -> None:
    book = counting_down(4)
    ahead_ms = HOURS_AHEAD * 3600 * 1000
    with served(book) as url:
        screens = [screen(browser, url, 0), screen(browser, url, ahead_ms)]
        told, turns = [], []
        for (_, page), own_ms in zip(screens, (0, ahead_ms), strict=True):
            # Each says how far it may be off: twenty milliseconds at most on this machine.
            expect(page.locator("html")).to_have_attribute(
                "data-clock-error", re.compile(r"^(1?\d|20)$"), timeout=20_000
            )
            expect(page.locator("[data-step]")).to_contain_text("In step with the server")
            told.append(float(page.get_attribute("html", "data-clock-offset")) + own_ms)
        for _, page in screens:
            expect(page.locator("[data-digits]")).to_have_text("0:02", timeout=15_000)
            turns.append(page.evaluate("window.turns"))
        for context, _ in screens:
            context.close()
    assert abs(told[0] - told[1]) <= AGREE_MS
    assert all(abs(offset_ms - LiveBook.ahead_ms) <= AGREE_MS for offset_ms in told)
    both = [digits for digits in turns[0] if digits in turns[1] and re.fullmatch(r"0:0\d", digits)]
    # A busy machine may hold up one turn of one screen; not all of them.
    assert min(abs(turns[0][digits] - turns[1][digits]) for digits in both) <= AGREE_MS


def test_a_screen_that_cannot_ask_the_time_says_so_and_shows_none(browser: Browser) -> None:
    with served(counting_down(-30)) as url:
        context = browser.new_context(base_url=url)
        context.route("**/time*", lambda route: route.abort())
        page = context.new_page()
        page.goto("/clock/hall")
        expect(page.locator("[data-step]")).to_contain_text("does not know the time yet")
        expect(page.locator("[data-digits]")).to_have_text(re.compile(r"^\d\d:\d\d$"))
        context.unroute("**/time*")
        expect(page.locator("[data-step]")).to_contain_text("In step", timeout=15_000)
        expect(page.locator("[data-digits]")).to_have_text(re.compile(r"^0:[345]\d$"))
        context.close()
