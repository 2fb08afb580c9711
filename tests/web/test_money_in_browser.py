"""Money in a real browser: the figure rises by itself, and the pages fit and are accessible."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, expect

from callroom.actions import money
from callroom.actions.invent_money import money_cues
from callroom.model import CrewMember
from callroom.model.money import Received
from tests.views.building import example_state
from tests.web.building import DIRECTOR, FakeBook, served
from tests.web.test_browser import complaints, context_of

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]


def busy_book() -> FakeBook:
    """The example event at the end of its day's money, with a long line and an own pocket."""
    crew = {one: CrewMember(person=one, posts=("desk",)) for one in ("c1", "c2")}
    book = FakeBook(replace(example_state(), crew=crew))
    for cue in money_cues(book.state, 1):
        book.do(DIRECTOR, cue.request)
    return book


def test_the_figure_rises_on_a_page_that_is_left_alone(browser: Browser) -> None:
    book = busy_book()
    day = book.state.event.day if book.state.event is not None else None
    assert day is not None
    with served(book) as url, context_of(browser, url, None) as context:
        page = context.new_page()
        heard = complaints(page)
        page.goto("/raised")
        figure = page.locator(".raised-figure")
        stood = int(figure.get_attribute("data-rise") or "0")
        with page.expect_response(lambda answer: "/live/raised" in answer.url):
            page.reload()
        gift = Received(day=day, line="donations", place="box", amount=1_000_00)
        book.do(DIRECTOR, money.book_money(gift))
        expect(figure).to_have_attribute("data-rise", str(stood + 1_000_00))
        # The count-up ends on the figure as the server wrote it.
        whole = f"{(stood + 1_000_00) // 100:,}".replace(",", "\u202f")
        expect(figure).to_have_text(f"{whole}\u00a0EUR")
        assert heard == []


def test_the_pages_fit_and_are_accessible(browser: Browser) -> None:
    axe = (ROOT / "node_modules/axe-core/axe.min.js").read_text(encoding="utf-8")
    book = busy_book()
    found: list[str] = []
    booking = min(book.state.bookings, key=int)
    paths = ["", "/budget", f"/booking/{booking}", "/book/counted"]
    with served(book) as url, context_of(browser, url, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        for path in [*(f"/director/money{one}" for one in paths), "/raised"]:
            page.goto(path)
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
