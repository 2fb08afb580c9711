"""A director who has never used it, from the list of books to a published plan, in a browser.

Every field filled in, every choice and every button and link pressed is one. Fields that are
left as they are offered count nothing.
"""

import socket
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import uvicorn
from playwright.sync_api import Locator, Page, expect

from callroom.bootstrap.books import new_book
from callroom.bootstrap.serving_apart import Servers
from callroom.web.shelf import ShelfPorts, make_shelf

FOUND_WITHIN_MS = 90_000
PASSPHRASE = "seven green bottles"  # noqa: S105 - of a book that lives for a minute


class Hand:
    """Does what a person does, and counts it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.count = 0

    def press(self, what: Locator) -> None:
        """Press one button or link."""
        self.count += 1
        what.click()

    def fill(self, label: str, text: str) -> None:
        """Fill in one field."""
        self.count += 1
        self.page.get_by_label(label, exact=True).fill(text)

    def choose(self, label: str, value: str) -> None:
        """Choose from a list."""
        self.count += 1
        self.page.get_by_label(label, exact=True).select_option(value)

    def button(self, name: str) -> None:
        """Press the button of this name."""
        self.press(self.page.get_by_role("button", name=name, exact=True))

    def link(self, name: str) -> None:
        """Follow the first link of this name."""
        self.press(self.page.get_by_role("link", name=name, exact=True).first)


@contextmanager
def shelf_of(folder: Path) -> Iterator[str]:
    """Serve a list of books in `folder`; give its address."""
    with closing(Servers()) as servers, socket.socket() as listening:
        ports = ShelfPorts(
            folder=folder, make=new_book, make_demo=new_book, serve=servers.address_of
        )
        listening.bind(("127.0.0.1", 0))
        listening.listen()  # who comes before the server answers waits for it
        config = uvicorn.Config(make_shelf(ports), log_level="warning", timeout_graceful_shutdown=1)
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{listening.getsockname()[1]}/"
        finally:
            server.should_exit = True
            thread.join(timeout=10)


def first_plan(page: Page, url: str, teams: int) -> Hand:
    """Go from the list of books at `url` to a published plan; return the hand that counted."""
    hand = Hand(page)
    page.goto(url)
    hand.fill("Name of the event", "Harbour day")
    hand.button("Begin")
    expect(page.get_by_role("heading", name="Choose a passphrase")).to_be_visible()
    hand.fill("Passphrase", PASSPHRASE)
    hand.fill("The same again", PASSPHRASE)
    hand.button("Set it and go on")
    _answer(hand, teams)
    expect(page.get_by_text("Try a plan now")).to_be_visible()
    hand.link("Plan the day")
    expect(page.get_by_role("heading", name="Look for a plan", exact=True)).to_be_visible()
    hand.button("Look for a plan")
    found = page.get_by_role("link", name="Look at draft 1")
    expect(found).to_be_visible(timeout=FOUND_WITHIN_MS)
    hand.press(found)
    expect(page.get_by_role("heading", name="Draft 1")).to_be_visible()
    hand.button("Publish it: everyone is told")
    expect(page.get_by_text("Revision 1")).to_be_visible()
    return hand


def _answer(hand: Hand, teams: int) -> None:
    """Answer the first questions, all that a careful person would."""
    page = hand.page
    expect(page.get_by_role("heading", name="Begin the event")).to_be_visible()
    hand.fill("Day", "2027-05-15")
    hand.choose("Time zone", "Europe/Madrid")
    hand.fill("Venue", "Hall 3, Harbour Road")
    hand.fill("About how many teams", str(teams))
    hand.fill("Lanes on the main floor", "8")
    hand.press(page.get_by_label("Mixed pairs", exact=True))
    hand.fill("Who gets the money", "The harbour kitchen")
    hand.button("Begin")
