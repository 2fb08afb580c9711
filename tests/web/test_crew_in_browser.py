"""Somebody offers to help on a phone, without a script; the director takes them on and thanks."""

from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from callroom.actions import helping
from callroom.model import milliseconds
from callroom.model.helping import Helping
from tests.views.building import example_event
from tests.web.building import DIRECTOR, served
from tests.web.test_browser import complaints, context_of
from tests.web.test_check_in_in_browser import need_no_barrier
from tests.web.test_rota import no_search, with_rota

__all__ = ["no_search"]

pytestmark = pytest.mark.browser

PHONE: Any = {"width": 360, "height": 740}


def test_a_helper_offers_and_is_taken_on(browser: Browser) -> None:
    book = with_rota()
    book.set_now(milliseconds(example_event().starts_at) - 86_400_000)
    book.do(DIRECTOR, helping.set_helping(Helping(open=True)))
    with served(book) as url:
        with context_of(browser, url, None, viewport=PHONE, java_script_enabled=False) as phone:
            page = phone.new_page()
            page.goto("/help-out")
            page.get_by_label("Name").fill("Kim Sample")
            page.get_by_label("judge counts one lane").check()
            page.get_by_role("button", name="Offer to help").click()
            expect(page.get_by_role("heading", name="Nothing is stored yet")).to_be_visible()
            expect(page.get_by_label("Name")).to_have_value("Kim Sample")
            page.get_by_label("Phone").fill("0170 9")
            page.get_by_label("My details may be kept and").check()
            page.get_by_role("button", name="Offer to help").click()
            expect(page.get_by_text("Thank you! Your offer is with the director")).to_be_visible()
        with context_of(browser, url, "director", viewport=PHONE) as director:
            page = director.new_page()
            heard = complaints(page)
            for path in ("/help-out", "/director/crew/thanks"):
                page.goto(path)
                need_no_barrier(page)
            page.goto("/director/crew")
            need_no_barrier(page)
            page.get_by_role("button", name="Accept Kim Sample").click()
            expect(page.get_by_text("They are on the list now.")).to_be_visible()
            assert heard == []
    assert len(book.state.crew) == 13
