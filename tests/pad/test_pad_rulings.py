"""A ruling appears on a running pad, goes once it was read, and is acknowledged later if need be."""

import pytest
from playwright.sync_api import BrowserContext, expect

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD
from tests.pad.conftest import Hall, Pad

pytestmark = pytest.mark.browser


def test_a_running_pad_shows_a_ruling_until_it_was_read(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    pad.count(3)
    pad.until(".pad-here", "3")
    # News that come while a finger is on the key do not take the touch away.
    pad.page.hover(".pad-count")
    pad.page.mouse.down()
    with pad.page.expect_response(lambda said: "/now" in said.url and "At any" in said.text()):
        hall.book.ask_now(
            AT_THE_KEYBOARD, ask.make_ruling("May we swap sides?", "At any time."), key="rule"
        )
    expect(pad.page.locator(".pad-ruling")).to_have_count(0)
    pad.page.mouse.up()
    pad.until(".pad-answer", "At any time.")
    pad.until(".pad-here", "4")
    pad.until(".pad-total", "4")
    hall.stop()
    pad.press("Understood")
    expect(pad.page.locator(".pad-ruling")).to_have_count(0)
    pad.page.wait_for_selector(".pad-kept.some")
    hall.start()
    pad.until_delivered()
    (seen,) = hall.book.state.acknowledged.values()
    assert seen == {"1": hall.book.state.rulings["1"].seq}
    pad.page.reload()
    pad.page.wait_for_selector(".pad-head")
    expect(pad.page.locator(".pad-ruling")).to_have_count(0)
