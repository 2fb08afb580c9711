"""Take the pictures of the handbook anew, from the demonstration: `make handbook`.

One book is taken through its year: looked at twelve days before, checked in on the morning, played
to the middle of the day and to its end. Each picture is one of `PICTURES`; the handbook may show no
other, which a test holds. They are small (a palette of 48 colours), so that they can be kept beside
the text.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from msgspec.structs import replace
from playwright.sync_api import BrowserContext, sync_playwright

from callroom.actions import day as ask
from callroom.actions.planned import publish_plan_with_rota
from callroom.actions.planning import plan_request
from callroom.actions.rehearsal import script
from callroom.bootstrap.books import AT_THE_KEYBOARD, new_book, open_book
from callroom.bootstrap.clocks import SteppedClock
from callroom.bootstrap.demonstration import load_demo
from callroom.bootstrap.planning import plan_apart, unheard
from callroom.bootstrap.rota_making import made_for
from callroom.cli.rehearsal import Stage
from callroom.cli.rehearsal.hands import Hand
from callroom.cli.verbs.printing import write_pack
from callroom.model import milliseconds
from callroom.planner import Limits
from pictures import QUIET, SEED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, FloatRect, ViewportSize

    from callroom.bootstrap.open_book import OpenBook
    from callroom.model import Event, Heat

OUT = Path(__file__).resolve().parent.parent / "docs" / "handbook" / "pictures"
ADDRESS = "http://192.168.1.20:8000"
WORDS = "seven painted green bottles"
COLOURS = "48"
HOUR_MS = 3600_000
DAY_MS = 24 * HOUR_MS
LAPTOP = (900, 560)
HEADROOM = 10
PHONE = (360, 620)


class Picture(NamedTuple):
    """A page at a time of the event: its name, its address, the size of the picture [px].

    `head`: with the head of every page; otherwise from `begin` on, an element of the page.
    """

    name: str
    path: str
    size: tuple[int, int] = LAPTOP
    head: bool = False
    begin: str = "main"


FIRST = (Picture("first-questions", "/director/event"),)
BEFORE = (
    Picture("director", "/director", (900, 1000), head=True),
    Picture("still-open", "/director/open"),
    Picture("event", "/director/event"),
    Picture("workout", "/director/workouts/w1", (900, 760)),
    Picture("entering", "/director/entering"),
    Picture("teams", "/director/teams"),
    Picture("load", "/director/load"),
    Picture("plan", "/director/plan"),
    Picture("timetable", "/timetable", (900, 760)),
    Picture("kit", "/director/kit"),
    Picture("rota", "/director/rota", (900, 760)),
    Picture("files", "/director/files"),
    Picture("devices", "/director/devices"),
    Picture("standby", "/director/standby"),
    Picture("checklists", "/director/checklists"),
)
MORNING = (
    Picture("go", "/director/go", (900, 760)),
    Picture("check-in", "/check-in", PHONE),
)
MIDDAY = (
    Picture("board", "/board"),
    Picture("floor", "/floor/{floor}", PHONE),
    Picture("desk", "/desk"),
    Picture("head-judge", "/judge"),
    Picture("standings", "/standings/open"),
    Picture("repair", "/director/repair"),
    Picture("announcer", "/announcer"),
)
EVENING = (
    Picture("podium", "/judge/podium/open"),
    Picture("money", "/director/money"),
    Picture("results", "/director/results"),
    Picture("lessons", "/director/lessons", begin="h2 >> nth=1"),
)
PAD = "pad"
PAPERS = {"card": "cards", "heat-sheet": "heat-sheets", "role-card": "roles"}
PICTURES = (*(one.name for one in (*FIRST, *BEFORE, *MORNING, *MIDDAY, *EVENING)), PAD, *PAPERS)


def main() -> None:
    """Take every picture, or those named on the command line."""
    wanted = frozenset(sys.argv[1:] or PICTURES)
    if shutil.which("convert") is None or shutil.which("pdftoppm") is None:
        raise SystemExit("pictures need ImageMagick's convert and Poppler's pdftoppm")
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        chromium = shutil.which("chromium") or shutil.which("google-chrome")
        browser = playwright.chromium.launch(executable_path=chromium, args=list(QUIET))
        if wanted & {one.name for one in FIRST}:
            _take_first(browser, folder / "Long table day.book", wanted)
        _take_year(browser, folder, wanted)
        browser.close()


def _take_first(browser: Browser, path: Path, wanted: frozenset[str]) -> None:
    new_book(path)
    book = open_book(path)
    with Stage(book, address=ADDRESS) as stage:
        _take(_director(browser, stage.url), FIRST, wanted)
    book.close()


def _take_year(browser: Browser, folder: Path, wanted: frozenset[str]) -> None:
    path = folder / "demo.book"
    start_ms = _make_planned(path)
    if PAD in wanted:
        _take_pad(browser, path, start_ms)
    book = open_book(path, clock=SteppedClock(start_ms - 12 * DAY_MS))
    _take_papers(book, folder, wanted)
    with Stage(book, address=ADDRESS) as stage:
        context = _director(browser, stage.url)
        _take(context, BEFORE, wanted)
        book.clock.wait_until(start_ms - HOUR_MS)
        # Twelve days later the director has to say the passphrase again.
        context = _director(browser, stage.url)
        _take(context, MORNING, wanted)
        cues = _cues(book, stage.url)
        _play(cues, start_ms + 2 * HOUR_MS + 35 * 60_000)
        _take(context, _on(_floor_of(book), MIDDAY), wanted)
        if wanted & {one.name for one in EVENING}:
            _play(cues, start_ms + DAY_MS)
            _take(context, EVENING, wanted)
    book.close()


def _make_planned(path: Path) -> int:
    """Make the demonstration, planned a month before, and return its start [ms, UTC].

    The planner has one worker and no wall clock, so that every machine finds the same plan.
    """
    new_book(path)
    load_demo(path)
    start_ms = milliseconds(_event(path).starts_at)
    book = open_book(path, clock=SteppedClock(start_ms - 30 * DAY_MS))
    reply = plan_apart(plan_request(book.state, Limits(work=8)), unheard)
    if reply.plan is None:
        raise SystemExit("the demonstration cannot be planned")
    rota = made_for(book.state, reply.plan, search=False)
    asked = publish_plan_with_rota(reply.plan, rota, book.state.rota_rules)
    book.ask_now(AT_THE_KEYBOARD, asked, key="plan-1")
    book.close()
    return start_ms


def _event(path: Path) -> Event:
    book = open_book(path, writing=False)
    event = book.state.event
    book.close()
    if event is None:
        raise SystemExit("the demonstration has no event")
    return event


def _floor_of(book: OpenBook) -> str:
    """Return the floor of the heat that runs, or else the first floor."""
    event = book.state.event
    if event is None:
        raise SystemExit("the demonstration has no event")
    return event.floors[0].id


def _on(floor: str, pictures: tuple[Picture, ...]) -> tuple[Picture, ...]:
    return tuple(one._replace(path=one.path.format(floor=floor)) for one in pictures)


def _director(browser: Browser, url: str) -> BrowserContext:
    context = browser.new_context(base_url=url, locale="en-GB", reduced_motion="reduce")
    page = context.new_page()
    page.goto("/sign-in")
    for field in page.locator("input[type=password]").all():
        field.fill(WORDS)
    page.click("main button")
    page.wait_for_url("**/director**")
    page.close()
    return context


def _take(context: BrowserContext, pictures: tuple[Picture, ...], wanted: frozenset[str]) -> None:
    for one in pictures:
        if one.name not in wanted:
            continue
        page = context.new_page()
        page.set_viewport_size({"width": one.size[0], "height": one.size[1]})
        answer = page.goto(one.path)
        if answer is None or not answer.ok:
            told = page.locator("main").inner_text()
            raise SystemExit(f"no page for the picture {one.name}: {one.path}\n{told}")
        page.wait_for_load_state("load")
        page.locator("main h1").first.wait_for(state="attached")
        page.wait_for_timeout(500)  # for clocks and what comes by itself
        # The server of the picture has a port of its own, each time another.
        page.locator("main").evaluate(
            """(main, address) => {
                for (const code of main.querySelectorAll("code")) {
                    code.textContent = code.textContent.replace(location.origin, address);
                }
            }""",
            ADDRESS,
        )
        box = page.locator(one.begin).bounding_box()
        top = 0 if one.head or box is None else box["y"] - HEADROOM
        clip: FloatRect = {"x": 0, "y": top, "width": one.size[0], "height": one.size[1]}
        _keep(one.name, page.screenshot(full_page=True, clip=clip))
        page.close()


def _keep(name: str, picture: bytes) -> None:
    """Write a picture in few colours and without a word about when it was made."""
    target = OUT / f"{name}.png"
    command = ["convert", "png:-", "-strip", "+dither", "-colors", COLOURS]
    command += ["-define", "png:exclude-chunks=date,time", f"png8:{target}"]
    subprocess.run(command, input=picture, check=True)
    print(f"{target.name}: {target.stat().st_size // 1000} kB")


def _cues(book: OpenBook, url: str) -> Iterator[int]:
    """Send the day's cues one by one, giving before each the time at which it is due [ms, UTC]."""
    hands: dict[str, Hand] = {}
    for number, cue in enumerate(script(book.state, SEED, smooth=True)):
        yield cue.at_ms
        if cue.post not in hands:
            hands[cue.post] = Hand(url, book.doors.make_code(cue.role, cue.post), cue.post)
        book.clock.wait_until(cue.at_ms)
        hands[cue.post].send(cue.request, f"cue-{number}")
    for hand in hands.values():
        hand.close()


def _play(cues: Iterator[int], until_ms: int) -> None:
    for at_ms in cues:
        if at_ms > until_ms:
            return


def _take_pad(browser: Browser, path: Path, start_ms: int) -> None:
    """Count a little on a lane, as a judge's phone does: in a copy, for the day is played later."""
    copy = shutil.copy(path, path.with_name("pad.book"))
    book = open_book(Path(copy), clock=SteppedClock(start_ms + HOUR_MS))
    heat = _a_heat(book)
    for team in heat.teams:
        book.ask_now(AT_THE_KEYBOARD, ask.mark_arrived(heat.id, team), key=f"here-{team}")
    book.ask_now(AT_THE_KEYBOARD, ask.start_heat(heat.id, book.now_ms() - 194_000), key="start")
    with Stage(book, address=ADDRESS) as stage:
        size: ViewportSize = {"width": PHONE[0], "height": 700}
        context = browser.new_context(viewport=size, base_url=stage.url)
        page = context.new_page()
        page.goto(f"/join/{book.doors.make_code('judge', '')}")
        page.click("main button")
        page.wait_for_url("**/pad")
        page.goto(f"/pad/{heat.id}/{heat.lanes[0].lane}")
        page.wait_for_selector(".pad-clock:has-text(':')")
        page.get_by_role("button", name="Set done").click()
        for _ in range(3):
            page.click(".pad-count")
        page.wait_for_timeout(300)
        _keep(PAD, page.screenshot())
        context.close()
    book.close()


def _a_heat(book: OpenBook) -> Heat:
    plan = book.state.plan
    if plan is None:
        raise SystemExit("the demonstration has no plan")
    return next(heat for heat in plan.heats if heat.workout == "w4")


def _take_papers(book: OpenBook, folder: Path, wanted: frozenset[str]) -> None:
    papers = {name: sheet for name, sheet in PAPERS.items() if name in wanted}
    if not papers:
        return
    state = book.state
    if state.event is None:
        raise SystemExit("the demonstration has no event")
    state = replace(state, event=replace(state.event, address=ADDRESS))
    files = write_pack(state, folder, "a4", 1, None, tuple(papers.values()), book.people())
    for name, sheet in papers.items():
        (pdf,) = (file for file in files if file.stem == sheet)
        command = ["pdftoppm", "-r", "70", "-png", "-f", "1", "-l", "1", "-singlefile", str(pdf)]
        drawn = folder / name
        subprocess.run([*command, str(drawn)], check=True)
        _keep(name, drawn.with_suffix(".png").read_bytes())


if __name__ == "__main__":
    main()
