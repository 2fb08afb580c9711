"""A team enters on a phone, from nothing to accepted, and the pages are accessible at both widths."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from callroom.actions import money
from callroom.model.money import Budget, BudgetLine, Place, Scenario
from callroom.model.paying import PayTo
from tests.actions.test_entering import open_book
from tests.bootstrap.test_post_office import server_at
from tests.web.building import DIRECTOR, FakeBook, served
from tests.web.test_browser import complaints, context_of

pytestmark = pytest.mark.browser

AXE = Path(__file__).resolve().parents[2] / "node_modules/axe-core/axe.min.js"
PHONE: Any = {"width": 360, "height": 740}


def faults_of(page: Page, where: str) -> list[str]:
    """What is wrong with a page for who cannot see it well, and where it is too wide."""
    found = []
    for width in (1440, 360):
        page.set_viewport_size({"width": width, "height": 740})
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{where} is wider than {width}")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    result = page.evaluate(
        "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag22aa'], resultTypes: ['violations']})"
    )
    page.set_viewport_size(PHONE)
    return found + [
        f"{where}: {fault['id']}: {node['html'][:120]}"
        for fault in result["violations"]
        for node in fault["nodes"]
    ]


def book_that_asks() -> FakeBook:
    """Entering is open, each team is accepted by the director, everything is asked, a fee is due."""
    book = open_book(
        accept_each=True,
        consent="We keep a list of names until 90 days after the day.",
        waiver="I take part at my own risk, as far as the law allows.",
        shirt_sizes=("S", "M"),
        ages_in=("pairs",),
    )
    line = BudgetLine(id="fee", name="Fee", side="income", sort="entries", per_team=80_00)
    scenarios = tuple(Scenario(id=one, name=one) for one in ("careful", "likely", "full"))
    bank = Place(id="bank", name="Bank", sort="bank")
    book.do(DIRECTOR, money.set_budget(Budget(lines=(line,), places=(bank,), scenarios=scenarios)))
    book.paying.put(PayTo(name="Harbour Gym", iban="BE72000000001616"))
    return book


def enter_on_a_phone(page: Page) -> Iterator[str]:
    """Enter a team with faults at first; stop at each page, to be looked at, by its name."""
    page.goto("/")
    page.get_by_role("link", name="Enter a team").click()
    expect(page.get_by_role("heading", name="Enter a team", level=1)).to_be_visible()
    yield "/enter"
    page.get_by_role("link", name="Pairs").click()
    expect(page.get_by_role("heading", name="Your team")).to_be_visible()
    page.get_by_label("Team name").fill("Late Risers")
    page.get_by_label("The captain's e-mail").fill("kim at home")
    first, second = (page.get_by_role("group", name=f"Athlete {at} ·") for at in "AB")
    first.get_by_role("textbox", name="Name").fill("Kim Sample")
    first.get_by_label("Emergency contact").fill("Lou, 0170 1")
    first.get_by_label("Shirt size").select_option("M")
    second.get_by_role("textbox", name="Name").fill("Ada Young")
    second.get_by_label("Date of birth").fill("2010-03-01")
    second.get_by_label("has read the texts").check()
    page.get_by_role("button", name="Enter the team").click()
    expect(page.get_by_role("heading", name="Nothing is stored yet")).to_be_visible()
    # Each fault stands beside its field, and what was typed is there.
    for name in ("email", "agree-A", "guardian-B"):
        expect(page.locator(f"#{name}-fault")).to_be_visible()
    expect(first.get_by_role("textbox", name="Name")).to_have_value("Kim Sample")
    yield "the form with faults"
    page.get_by_label("The captain's e-mail").fill("kim@example.org")
    first.get_by_label("has read the texts").check()
    second.get_by_role("textbox", name="Guardian").fill("Jo Young, 0170 2")
    page.get_by_role("button", name="Enter the team").click()
    expect(page.get_by_text("It waits for a place or for the director")).to_be_visible()
    yield "/enter/team"


def accept_and_look(page: Page) -> Iterator[str]:
    """Accept the team as the director, then go through the pages of teams, letters, settings."""
    page.goto("/director/teams")
    accept = page.get_by_role("button", name="Accept Late Risers")
    accept.click()
    expect(accept).to_have_count(0)
    yield "/director/teams"
    page.get_by_role("link", name="Late Risers").click()
    expect(page.get_by_role("heading", name="Late Risers", level=1)).to_be_visible()
    yield "/director/teams/T17"
    for path, title in (
        ("/director/letters?kind=confirmation", "Letters to captains"),
        ("/director/letters/server", "Mail server"),
        ("/director/entering", "How teams enter"),
    ):
        page.goto(path)
        expect(page.get_by_role("heading", name=title, level=1)).to_be_visible()
        yield path


def test_a_team_enters_on_a_phone_and_the_director_accepts_it(browser: Browser) -> None:
    book = book_that_asks()
    book.post.set_server(server_at(2525))
    faults: list[str] = []
    with served(book) as url:
        with context_of(browser, url, None) as context:
            page = context.new_page()
            heard = complaints(page)
            page.set_viewport_size(PHONE)
            for where in enter_on_a_phone(page):
                faults += faults_of(page, where)
            own = page.url.split("?")[0]
        with context_of(browser, url, "director") as context:
            page = context.new_page()
            heard += complaints(page)
            for where in accept_and_look(page):
                faults += faults_of(page, where)
        with context_of(browser, url, None) as context:
            page = context.new_page()
            page.set_viewport_size(PHONE)
            page.goto(own)
            expect(page.locator(".lede")).to_have_text("Pairs · in the event")
            expect(page.locator(".pay-code svg")).to_be_visible()
    assert faults == []
    # That a form was not taken is no fault of the page.
    assert [text for text in heard if "422" not in text] == []
