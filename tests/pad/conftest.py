"""A judge's phone: a real browser at a real server with the demonstration's day."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.clocks import FastClock
from callroom.bootstrap.demonstration import make_demo_book
from callroom.cli.rehearsal import Stage
from callroom.model import Heat, Result, SheetRef, milliseconds

if TYPE_CHECKING:
    from callroom.bootstrap.open_book import OpenBook


@pytest.fixture(scope="session")
def demo_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.book"
    make_demo_book(path)
    return path


class Hall:
    """One served book that can be stopped and started again on its port."""

    def __init__(self, path: Path, clock: FastClock | None = None, port: int = 0) -> None:
        start_ms = milliseconds(open_book(path, writing=False).state.event.starts_at)  # type: ignore[union-attr]
        self.clock = clock or FastClock(start_ms + 25 * 60_000, 1)
        self.path = path
        self.book: OpenBook = open_book(path, clock=self.clock)
        self.stage = Stage(self.book, port=port)
        self.stage.__enter__()

    @property
    def url(self) -> str:
        return self.stage.url

    def stop(self) -> None:
        """The server is gone, as after a power cut."""
        self.stage.__exit__(None, None, None)
        self.book.close()

    def start(self) -> None:
        """It comes back where it was."""
        self.book = open_book(self.path, clock=self.clock)
        self.stage = Stage(self.book, port=self.stage.port)
        self.stage.__enter__()

    def first_heat(self, workout: str) -> Heat:
        assert self.book.state.plan is not None
        return next(heat for heat in self.book.state.plan.heats if heat.workout == workout)

    def begin(self, heat: Heat, *, ago_s: int = 5) -> None:
        """Start a heat's clock, everybody being there."""
        for team in heat.teams:
            self.book.ask_now(
                AT_THE_KEYBOARD, ask.mark_arrived(heat.id, team), key=f"here-{heat.id}-{team}"
            )
        at_ms = self.clock.now_ms() - ago_s * 1000
        self.book.ask_now(AT_THE_KEYBOARD, ask.start_heat(heat.id, at_ms), key=f"go-{heat.id}")

    def results(self, ref: SheetRef) -> list[Result]:
        """Every result reported for a lane, in order."""
        sheet = self.book.state.sheets.get(ref.key)
        return [kept.report.result for kept in sheet.reports] if sheet is not None else []


@pytest.fixture
def hall(demo_book: Path, tmp_path: Path) -> Iterator[Hall]:
    path = tmp_path / "day.book"
    shutil.copy(demo_book, path)
    hall = Hall(path)
    yield hall
    hall.stop()


@pytest.fixture
def phone(browser: Browser, hall: Hall) -> Iterator[BrowserContext]:
    """A phone that joined as a judge."""
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, has_touch=True, base_url=hall.url
    )
    context.set_default_timeout(8_000)
    code = hall.book.doors.make_code("judge", "lane")
    page = context.new_page()
    page.goto(f"/join/{code}")
    page.click("main button")
    page.wait_for_url("**/pad")
    page.close()
    yield context
    context.close()


class Pad:
    """The pad of one lane, with the moves of a judge."""

    def __init__(self, page: Page, heat: Heat, place: int = 0) -> None:
        self.page = page
        self.heat = heat
        self.lane = heat.lanes[place].lane
        self.team = heat.lanes[place].team
        page.goto(f"/pad/{heat.id}/{self.lane}")
        page.wait_for_selector(".pad-head")

    def ref(self, part: str = "a") -> SheetRef:
        return SheetRef(workout=self.heat.workout, part=part, team=self.team)

    def press(self, text: str) -> None:
        self.page.get_by_role("button", name=text, exact=True).first.click()

    def count(self, times: int = 1) -> None:
        for _ in range(times):
            self.page.click(".pad-count")

    def shown(self) -> tuple[int, int]:
        """What the count key shows: of this set, and in all."""
        here = self.page.text_content(".pad-here") or ""
        total = self.page.text_content(".pad-total") or ""
        digits = [word for word in total.split() if word.isdigit()]
        return (int(here) if here.isdigit() else -1, int(digits[0]))

    def hand_in(self) -> None:
        self.press("Hand in")
        self.page.check(".pad-sign input")
        self.press("Hand in")

    def waiting(self) -> str:
        return self.page.text_content(".pad-kept") or ""

    def until(self, selector: str, text: str) -> None:
        """Wait until an element shows a text."""
        self.page.wait_for_selector(f"{selector}:has-text('{text}')")

    def until_delivered(self) -> None:
        self.page.wait_for_selector(".pad-sent li.delivered", timeout=25_000)
        self.page.wait_for_selector(".pad-kept:not(.some)", timeout=25_000)
