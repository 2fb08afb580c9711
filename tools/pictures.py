"""Take the pictures of README and docs anew, from the demonstration: `make pictures`.

They show what the program shows, so that they never go stale by hand.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from playwright.sync_api import Browser, sync_playwright

from callroom.actions import day as ask
from callroom.actions.rehearsal import script
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.clocks import SteppedClock
from callroom.bootstrap.demonstration import make_demo_book
from callroom.bootstrap.rehearsals import rehearsal_of
from callroom.cli.rehearsal import Stage
from callroom.cli.rehearsal.hands import Hand
from callroom.cli.verbs.printing import write_pack
from callroom.model import milliseconds

if TYPE_CHECKING:
    from callroom.bootstrap.open_book import OpenBook

OUT = Path(__file__).resolve().parent.parent / "docs" / "pictures"
QUIET = ("--no-sandbox", "--disable-background-networking", "--no-first-run", "--disable-sync")
PAGES = {
    "standings": ("/standings/open", 1100, 760),
    "timetable": ("/timetable", 1100, 900),
    "board": ("/board", 1100, 760),
}
SEED = 3


def main() -> None:
    """Play the demonstration to the middle of its day and take the pictures."""
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.book"
        make_demo_book(path)
        copy = rehearsal_of(path, SEED)
        start_ms = _start_ms(copy)
        book = open_book(copy, clock=SteppedClock(start_ms))
        with Stage(book) as stage, sync_playwright() as playwright:
            _play(book, stage.url, start_ms + 2 * 3600_000 + 35 * 60_000)
            chromium = shutil.which("chromium") or shutil.which("google-chrome")
            browser = playwright.chromium.launch(executable_path=chromium, args=list(QUIET))
            _take_pages(browser, stage.url)
            _take_pad(browser, stage.url, book)
            browser.close()
        _take_card(book, Path(folder))
        book.close()


def _start_ms(path: Path) -> int:
    book = open_book(path, writing=False)
    event = book.state.event
    book.close()
    if event is None:
        raise SystemExit("the demonstration has no event")
    return milliseconds(event.starts_at)


def _play(book: OpenBook, url: str, until_ms: int) -> None:
    hands: dict[str, Hand] = {}
    for number, cue in enumerate(script(book.state, SEED, smooth=True)):
        if cue.at_ms > until_ms:
            break
        if cue.post not in hands:
            hands[cue.post] = Hand(url, book.doors.make_code(cue.role, cue.post), cue.post)
        book.clock.wait_until(cue.at_ms)
        hands[cue.post].send(cue.request, f"cue-{number}")
    for hand in hands.values():
        hand.close()


def _take_pages(browser: Browser, url: str) -> None:
    for name, (path, width, height) in PAGES.items():
        page = browser.new_page(viewport={"width": width, "height": height})
        page.goto(url + path)
        page.wait_for_load_state("networkidle")
        page.screenshot(path=OUT / f"{name}.png")
        page.close()


def _take_pad(browser: Browser, url: str, book: OpenBook) -> None:
    plan = book.state.plan
    if plan is None:
        raise SystemExit("the demonstration has no plan")
    heat = next(heat for heat in plan.heats if heat.workout == "w4")
    for team in heat.teams:
        book.ask_now(AT_THE_KEYBOARD, ask.mark_arrived(heat.id, team), key=f"here-{team}")
    at_ms = book.now_ms() - 194_000
    book.ask_now(AT_THE_KEYBOARD, ask.start_heat(heat.id, at_ms), key="start")
    context = browser.new_context(viewport={"width": 360, "height": 700}, base_url=url)
    page = context.new_page()
    page.goto(f"/join/{book.doors.make_code('judge', '')}")
    page.click("main button")
    page.wait_for_url("**/pad")
    page.goto(f"/pad/{heat.id}/{heat.lanes[0].lane}")
    page.wait_for_selector(".pad-clock:has-text(':')")
    page.get_by_role("button", name="Set done").click()
    for _ in range(3):
        page.click(".pad-count")
    page.get_by_role("button", name="No-rep").click()
    page.wait_for_timeout(300)
    page.screenshot(path=OUT / "pad.png")
    context.close()


def _take_card(book: OpenBook, folder: Path) -> None:
    files = write_pack(book.state, folder, "a4", 1)
    cards = next(path for path in files if path.name == "cards.pdf")
    command = ["pdftoppm", "-r", "80", "-png", "-f", "1", "-l", "1", "-singlefile"]
    subprocess.run([*command, str(cards), str(OUT / "card")], check=True)


if __name__ == "__main__":
    main()
