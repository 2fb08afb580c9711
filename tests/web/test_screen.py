"""The hall screen: open to all, set by the director, followed live."""

import pytest
from playwright.sync_api import Browser, expect

from callroom.actions import day
from callroom.actions.invent_budget import invented_budget
from callroom.actions.money import set_budget
from callroom.model import Screen
from tests.web.building import (
    DIRECTOR,
    client_of,
    example_book,
    form_token,
    played_book,
    served,
)


def test_the_director_sets_what_is_shown_and_everybody_sees_it() -> None:
    book = played_book(4)
    typed = {
        "form_token": form_token("director"),
        "key": "one",
        "show-floor": "yes",
        "show-thanks": "yes",
        "thanks": "The bakery\n\n The rowing club ",
        "each_s": "20",
        "message": "Soup at <noon>",
    }
    with client_of(book, "director") as client:
        done = client.post("/director/screen", data=typed, follow_redirects=False)
        assert done.status_code == 303
        assert "The hall screen shows it now." in client.get(done.headers["location"]).text
    assert book.state.screen.parts == ("floor", "thanks")
    assert book.state.screen.each_s == 20
    assert book.state.screen.thanks == ("The bakery", "The rowing club")
    with client_of(book) as client:
        text = client.get("/screen").text
    assert "Soup at &lt;noon&gt;" in text
    assert 'data-part="floor"' in text
    assert 'data-part="standings"' not in text


def test_a_turn_nobody_can_read_is_refused_with_the_limits() -> None:
    with client_of(example_book(), "director") as client:
        typed = {"form_token": form_token("director"), "show-floor": "yes", "each_s": "1"}
        refused = client.post("/director/screen", data=typed)
    assert refused.status_code == 409
    assert "4 to 120 seconds, not 1" in refused.text


@pytest.mark.browser
def test_one_turn_at_a_time_that_follows_the_book(browser: Browser) -> None:
    book = played_book(6)
    book.do(DIRECTOR, day.set_screen(Screen(thanks=("The bakery",))))
    assert book.state.event is not None
    book.do(DIRECTOR, set_budget(invented_budget(book.state.event)))
    with served(book) as url:
        page = browser.new_page(viewport={"width": 1440, "height": 810})
        page.goto(f"{url}/screen#thanks,floor")
        turn = page.locator("[data-turn]:visible")
        expect(turn).to_have_count(1)
        expect(turn).to_contain_text("On the floor")
        expect(page.locator("[data-wall]")).to_have_text("10:47")
        page.keyboard.press(" ")
        page.keyboard.press("ArrowRight")
        expect(turn).to_contain_text("The bakery")
        book.do(DIRECTOR, day.set_screen(Screen(thanks=("The bakery", "The rowing club"))))
        expect(turn).to_contain_text("The rowing club")
        # Without names behind the address every part has its turn, each alone in sight.
        page.goto(f"{url}/screen#")
        page.reload()
        expect(turn).to_have_count(1)
        page.keyboard.press(" ")
        seen = set()
        for _ in range(page.locator("[data-turn]").count()):
            name = turn.get_attribute("data-turn") or ""
            seen.add(turn.get_attribute("data-part"))
            page.keyboard.press("ArrowRight")
            expect(page.locator(f'[data-turn="{name}"]')).to_be_hidden()
            expect(turn).to_have_count(1)
        assert seen == {"floor", "next", "standings", "raised", "programme", "thanks"}
        page.close()
