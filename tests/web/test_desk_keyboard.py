"""The desk by keyboard alone, in a real browser."""

import pytest
from playwright.sync_api import Browser, expect

from callroom.scoring.unlikely import Expected
from tests.web.building import example_book, served

pytestmark = pytest.mark.browser


class Foretold:
    """A forecast that is there at once."""

    def of(self, _event: object) -> object:
        return {("w1", "a", "pairs"): Expected(fastest_s=360)}


def test_cards_are_typed_one_after_the_other_and_what_is_odd_needs_two_keys_more(
    browser: Browser, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = example_book()
    monkeypatch.setattr("callroom.web.house.Expecting", Foretold)
    with served(book) as url:
        context = browser.new_context(base_url=url)
        port = url.rsplit(":", 1)[1]
        cookie = {"name": f"callroom-{port}", "value": "token-desk", "url": url}
        context.add_cookies([cookie])  # type: ignore[list-item]
        page = context.new_page()
        page.goto("/desk/card/w1/T13/1")
        time = page.get_by_label("Finish time")
        expect(time).to_be_focused()
        page.keyboard.type("732")
        page.keyboard.press("Enter")
        expect(page.get_by_text("Saved: lane 1, Two Left Feet: 7:32")).to_be_visible()

        expect(time).to_be_focused()
        page.keyboard.type("12")
        page.keyboard.press("Enter")
        asked = page.get_by_role("region", name="Look at the card again")
        expect(asked).to_be_focused()
        expect(asked).to_contain_text("far faster than any team was forecast to be, 6:00")
        expect(time).to_have_value("12")
        # Whoever types on without looking changes nothing.
        page.keyboard.type("805")
        page.keyboard.press("Enter")
        expect(asked).to_be_visible()
        expect(time).to_have_value("12")
        page.keyboard.press("Tab")
        expect(page.get_by_role("button", name="The card says so: keep it")).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.get_by_text("Saved: lane 2, Salt Sisters: 0:12")).to_be_visible()
        expect(time).to_be_focused()
        expect(time).to_have_value("")
        context.close()
    assert len(book.state.sheets) == 2
