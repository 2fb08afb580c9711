"""The drill: judges at real browsers on bad links, a server that is killed, an hour without network.

Run it with ``make drill``: two pads (or as many as are named, up to the lanes of the heats below),
two rounds of heats. In the first round links are
flaky and the server is killed while scores are on their way. In the second nothing gets through
for an hour by every clock, each third phone, its network refusing and not merely silent, loses
its page meanwhile and opens it anew, and scores are handed in without a network. Then everything
is delivered. The same is played without any fault, and both days must end alike.
"""

import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import msgspec
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from playwright.sync_api import Error as PlaywrightError

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.bootstrap.clocks import FastClock
from callroom.bootstrap.demonstration import make_demo_book
from callroom.model import Heat, milliseconds
from callroom.views.results import results_digest
from tests.chaos.link import Link

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = (("w2-2", "w2-3"), ("w2-5", "w2-6"))
HOUR_MS = 3_600_000
# A limit with room in hand: a pad waits up to half a minute between two tries.
PATIENCE_MS = 120_000

Said = tuple[str, str, int]


class Drilled(msgspec.Struct, frozen=True, kw_only=True):
    """What came of a day: scores typed and scheduled, lost and double ones, its results."""

    scheduled: int
    typed: int
    lost: int
    double: int
    kills: int
    fates: dict[str, int]
    digest: str


class Laptop:
    """The server in a process of its own, on one port, by a clock that can be moved on."""

    def __init__(self, book: Path, at_ms: int) -> None:
        """Choose a port, and start."""
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port: int = free.getsockname()[1]
        self._book = book
        self._clock = FastClock(at_ms, 1)
        self._moved_ms = 0
        self.kills = 0
        self._start()

    def _start(self) -> None:
        at_ms = self._clock.now_ms() + self._moved_ms
        serving = [sys.executable, "-m", "tests.chaos.drill_serving"]
        self._process = subprocess.Popen(
            [*serving, str(self._book), str(self.port), str(at_ms)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
        self._hear(b"serving\n")

    def _hear(self, word: bytes) -> None:
        assert self._process.stdout is not None
        said = self._process.stdout.readline()
        assert said == word, said

    def kill(self) -> None:
        """Kill it in the middle of whatever it does, and start it again."""
        self.stop()
        self.kills += 1
        self._start()

    def move_on(self, by_ms: int) -> None:
        """Let its clock go forward."""
        assert self._process.stdin is not None
        self._moved_ms += by_ms
        self._process.stdin.write(f"{by_ms}\n".encode())
        self._process.stdin.flush()
        self._hear(b"moved\n")

    def stop(self) -> None:
        """Kill it for good."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                pipe.close()


class Judge:
    """One phone behind one link; `typed` is its own log of everything it handed in."""

    def __init__(self, browser: Browser, link: Link, token: str) -> None:
        """Join, before anything goes wrong."""
        self.link = link
        self.typed: list[Said] = []
        self.phone: BrowserContext = browser.new_context(
            viewport={"width": 360, "height": 740}, has_touch=True, base_url=link.url
        )
        self.phone.set_default_timeout(PATIENCE_MS)
        self.phone.clock.install()
        page = self.phone.new_page()
        page.goto(f"/join/{token}")
        page.click("main button")
        page.wait_for_url("**/pad")
        self.page: Page = page

    def take(self, heat: Heat, place: int) -> None:
        """Open the pad of a lane."""
        self._lane = f"/pad/{heat.id}/{heat.lanes[place].lane}"
        self._who = (heat.workout, heat.lanes[place].team)
        self.page.goto(self._lane)
        expect(self.page.locator(".pad-clock")).to_contain_text(":")
        # The pad is in the browser's store, so that it opens without a server.
        kept = self.page.locator("#pad")
        expect(kept).to_have_attribute("data-ahead", re.compile(r"\d"), timeout=PATIENCE_MS)

    def count(self, times: int) -> None:
        """Count so many repetitions."""
        shown = int(self.page.locator(".pad-here").inner_text())
        for more in range(1, times + 1):
            self.page.click(".pad-count")
            expect(self.page.locator(".pad-here")).to_have_text(str(shown + more))
        self.shown = shown + times

    def lose_page(self) -> None:
        """Reload without a network, which shows an error, and open the address in a new tab."""
        try:
            self.page.reload(timeout=2_000)
        except PlaywrightError:
            self.page.close()
            self.page = self.phone.new_page()
            self.page.goto(self._lane, wait_until="commit")
        expect(self.page.locator(".pad-here")).to_have_text(str(self.shown))

    def hand_in(self) -> None:
        """Hand the score in: from here on it must not be lost."""
        self._press("Hand in")
        self.page.check(".pad-sign input")
        self.typed.append((*self._who, self.shown))
        self._press("Hand in")

    def _press(self, text: str) -> None:
        self.page.get_by_role("button", name=text, exact=True).first.click()

    def delivered(self, scores: int) -> None:
        """Wait until the phone itself shows that nothing waits any more."""
        expect(self.page.locator(".pad-sent li.delivered")).to_have_count(
            scores, timeout=PATIENCE_MS
        )


def drill(browser: Browser, template: Path, path: Path, *, pads: int, faults: bool) -> Drilled:
    """Play both rounds with `pads` judges on a copy of `template` at `path`."""
    shutil.copy(template, path)
    rounds, at_ms, codes = _begun(path, pads)
    laptop = Laptop(path, at_ms)
    links = [Link(laptop.port, f"drill/{number}") for number in range(pads)]
    try:
        judges = [Judge(browser, link, code) for link, code in zip(links, codes, strict=True)]
        _first_round(judges, rounds[0], laptop, faults=faults)
        _second_round(judges, rounds[1], laptop, faults=faults)
        for judge in judges:
            judge.phone.close()
    finally:
        for link in links:
            link.close()
        laptop.stop()
    fates = sum((link.fates for link in links), Counter[str]())
    return _counted(path, judges, len(ROUNDS) * pads, laptop.kills, fates)


def _begun(path: Path, pads: int) -> tuple[list[list[tuple[Heat, int]]], int, list[str]]:
    """Start the heats of both rounds; return their lanes, the time and a code for each judge."""
    event = open_book(path, writing=False).state.event
    assert event is not None
    clock = FastClock(milliseconds(event.starts_at) + 25 * 60_000, 1)
    book = open_book(path, clock=clock)
    plan = book.state.plan
    assert plan is not None
    rounds: list[list[tuple[Heat, int]]] = []
    for names in ROUNDS:
        heats = [heat for heat in plan.heats if heat.id in names]
        lanes = [(heat, place) for heat in heats for place in range(len(heat.lanes))]
        rounds.append(lanes[:pads])
        for heat in heats:
            for team in heat.teams:
                here = ask.mark_arrived(heat.id, team)
                book.ask_now(AT_THE_KEYBOARD, here, key=f"here-{heat.id}-{team}")
            start = ask.start_heat(heat.id, clock.now_ms() - 5_000)
            book.ask_now(AT_THE_KEYBOARD, start, key=f"go-{heat.id}")
    codes = [book.doors.make_code("judge", f"judge {number}") for number in range(pads)]
    book.close()
    return rounds, clock.now_ms(), codes


def _first_round(
    judges: list[Judge], lanes: list[tuple[Heat, int]], laptop: Laptop, *, faults: bool
) -> None:
    for number, (judge, (heat, place)) in enumerate(zip(judges, lanes, strict=True)):
        judge.take(heat, place)
        if faults:
            judge.link.turn("flaky")
        judge.count(1 + number % 5)
    for number, judge in enumerate(judges):
        judge.hand_in()
        if faults and number == len(judges) // 2:
            laptop.kill()
    for judge in judges:
        judge.delivered(1)


def _second_round(
    judges: list[Judge], lanes: list[tuple[Heat, int]], laptop: Laptop, *, faults: bool
) -> None:
    for number, (judge, (heat, place)) in enumerate(zip(judges, lanes, strict=True)):
        judge.link.turn("good")
        judge.take(heat, place)
        if faults:
            # With a network that swallows, a lost page need not open (docs/pad.md).
            judge.link.turn("gone" if number % 3 == 0 else "dead")
        judge.count(1 + number % 4)
    if faults:
        laptop.move_on(HOUR_MS)
    for number, judge in enumerate(judges):
        if faults:
            judge.phone.clock.fast_forward(HOUR_MS)
            if number % 3 == 0:
                judge.lose_page()
        judge.hand_in()
    for judge in judges:
        if faults:
            expect(judge.page.locator(".pad-sent li.waiting")).to_have_count(1, timeout=PATIENCE_MS)
        judge.link.turn("good")
    for judge in judges:
        judge.delivered(len(ROUNDS))


def _counted(
    path: Path, judges: list[Judge], scheduled: int, kills: int, fates: Counter[str]
) -> Drilled:
    typed = Counter(said for judge in judges for said in judge.typed)
    book = open_book(path, writing=False)
    state = book.state
    reports = [kept.report for sheet in state.sheets.values() for kept in sheet.reports]
    reports += [kept.report for kept in state.unplaced.values()]
    stored: Counter[Said] = Counter(
        (report.workout, report.team, report.result.work or 0) for report in reports
    )
    return Drilled(
        scheduled=scheduled,
        typed=typed.total(),
        lost=(typed - stored).total(),
        double=(stored - typed).total(),
        kills=kills,
        fates=dict(fates),
        digest=results_digest(state),
    )


def both(browser: Browser, folder: Path, *, pads: int) -> tuple[Drilled, Drilled]:
    """Play the day with every fault, and the same day without any."""
    template = folder / "day.book"
    make_demo_book(template)
    bad = drill(browser, template, folder / "bad.book", pads=pads, faults=True)
    calm = drill(browser, template, folder / "calm.book", pads=pads, faults=False)
    return bad, calm


def wrong(bad: Drilled, calm: Drilled) -> list[str]:
    """Name everything in which the bad day falls short."""
    found = []
    if not bad.typed == calm.typed == bad.scheduled:
        found.append(f"typed {bad.typed} and {calm.typed} of {bad.scheduled} scores")
    if bad.lost or bad.double or calm.lost or calm.double:
        found.append(f"lost {bad.lost}, double {bad.double}")
    if bad.digest != calm.digest:
        found.append("ended with other results than without faults")
    if bad.kills != 1 or not bad.fates.keys() >= {"refused", "reset", "swallowed", "slow"}:
        found.append(f"was no bad day: {bad.kills} kills, {bad.fates}")
    return found


def main() -> None:
    """Hold the drill with as many pads as are given, else two; exit with what went wrong."""
    from tests.conftest import BROWSERS, QUIET

    pads = int(sys.argv[1]) if len(sys.argv) > 1 else 2
    chromium = next(filter(None, map(shutil.which, BROWSERS)))
    began_s = time.monotonic()
    with tempfile.TemporaryDirectory() as kept, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=list(QUIET))
        bad, calm = both(browser, Path(kept), pads=pads)
        browser.close()
    print(f"{pads} pads, {time.monotonic() - began_s:.0f} s: {bad}")
    if found := wrong(bad, calm):
        sys.exit("The drill " + "; ".join(found))


if __name__ == "__main__":
    main()
