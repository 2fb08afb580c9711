"""Pages in a real browser: accessible at both widths, live, usable by keyboard alone."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from callroom.actions import day
from callroom.model import Role, ScoreReport
from tests.web.building import DIRECTOR, ROLES, FakeBook, played_book, result_for, served

pytestmark = pytest.mark.browser

ROOT = Path(__file__).resolve().parents[2]
WIDTHS = (360, 1440)
ROUND = 7
PAGES: tuple[tuple[str, Role | None], ...] = (
    ("/", None),
    ("/timetable", None),
    ("/workouts", None),
    ("/workouts/w4", None),
    ("/workouts/w5", None),
    ("/movements/thruster", None),
    ("/training?seed=5", None),
    ("/training", "judge"),
    ("/team/T09", None),
    ("/standings/open", None),
    ("/board", None),
    ("/board", "crew"),
    ("/floor", "crew"),
    ("/floor/yard", "head_judge"),
    ("/line-ups", "desk"),
    ("/line-ups/T13", "crew"),
    ("/line-ups/T14", "director"),
    ("/director/pace", "director"),
    ("/clock", None),
    ("/carry", None),
    ("/clock/hall", None),
    ("/heat/w3-1/clock", "crew"),
    ("/heat/w3-1/clock", "head_judge"),
    ("/screen", None),
    ("/announcer", None),
    ("/director/screen", "director"),
    ("/director/standby", "director"),
    ("/pad", "judge"),
    ("/pad/w3-1/1", "judge"),
    ("/desk", "desk"),
    ("/desk/heat/w2-3", "desk"),
    ("/desk/teams", "head_judge"),
    ("/desk/card/w1/T13/1", "desk"),
    ("/desk/card/w2/T01/1", "desk"),
    ("/desk/card/w3/T01/1", "desk"),
    ("/desk/card/w4/T01/1", "desk"),
    ("/judge", "head_judge"),
    ("/judge/heat/w2-2", "head_judge"),
    ("/judge/score/w2/a/T08/1", "head_judge"),
    ("/desk/appeals", "desk"),
    ("/judge/podium/open", "head_judge"),
    ("/standings/open/stake", None),
    ("/director/embargo", "director"),
    ("/director/seeding", "director"),
    ("/director", "director"),
    ("/director/devices", "director"),
    ("/director/files", "director"),
    ("/director/forecast", "director"),
    ("/director/workouts", "director"),
    ("/director/workouts/w1", "director"),
    ("/director/workouts/w4", "director"),
    ("/director/movements", "director"),
    ("/director/movements/push_up", "director"),
    ("/safety", "first_aid"),
    ("/safety?at=door", "crew"),
    ("/incidents", "first_aid"),
    ("/director/safety", "director"),
    ("/director/people", "director"),
    ("/director/results", "director"),
    ("/director/lessons", "director"),
    ("/rulings", None),
    ("/judge/rulings", "head_judge"),
    ("/judge/amendments", "head_judge"),
    ("/judge/amend/w1", "head_judge"),
    ("/judge/amend/w4", "head_judge"),
    ("/desk/card/w5/T13/1?card=0", "desk"),
    ("/sign-in", None),
    ("/join/2222-2222", None),
    ("/nothing", None),
)


def busy_book() -> FakeBook:
    """The example day half-way: one lane with two reports, one report without a place."""
    book = played_book()
    assert book.state.plan is not None
    heat = book.state.plan.heat("w2-3")
    for place, lane in ((heat.lanes[1], heat.lanes[1].lane), (heat.lanes[0], 6)):
        report = ScoreReport(
            heat=heat.id,
            workout=heat.workout,
            part="a",
            team=place.team,
            lane=lane,
            source="paper",
            result=result_for("work", 9),
        )
        book.do(book.doors.holders["token-desk"], day.report_score(report))
    book.do(DIRECTOR, day.join_device("device-a1", "judge"))
    book.do(DIRECTOR, day.make_ruling("May we swap sides?", "At any time.", workout="w2"))
    book.do(DIRECTOR, day.make_ruling("May we use our own chalk?", "Yes.", workout="w4"))
    book.do(DIRECTOR, day.withdraw_ruling(1, "the question was about another workout"))
    book.do(DIRECTOR, day.withdraw_team("T05", "ill"))
    return book


@pytest.fixture(scope="module")
def book() -> FakeBook:
    return busy_book()


@pytest.fixture(scope="module")
def url(book: FakeBook) -> Iterator[str]:
    with served(book) as url:
        yield url


def context_of(browser: Browser, url: str, role: Role | None, **options: Any) -> BrowserContext:
    context = browser.new_context(base_url=url, **options)
    if role is not None:
        port = url.rsplit(":", 1)[1]
        cookie = {"name": f"callroom-{port}", "value": f"token-{role}", "url": url}
        context.add_cookies([cookie])  # type: ignore[list-item]
    return context


def complaints(page: Page) -> list[str]:
    """Collect what the browser complains of: blocked sources, failing scripts."""
    heard: list[str] = []
    page.on("console", lambda said: heard.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda fault: heard.append(str(fault)))
    return heard


def rounds() -> Iterator[Any]:
    """Give every page with who may see it, in rounds of about the same length."""
    for role in (None, *ROLES):
        paths = [path for path, wanted in PAGES if wanted == role]
        for first in range(0, len(paths), ROUND):
            yield pytest.param(role, paths[first : first + ROUND], id=f"{role}-{first}")


@pytest.mark.parametrize(("role", "paths"), list(rounds()))
def test_every_page_is_accessible_and_fits(
    browser: Browser, url: str, role: Role | None, paths: list[str]
) -> None:
    axe = (ROOT / "node_modules/axe-core/axe.min.js").read_text(encoding="utf-8")
    found: list[str] = []
    with context_of(browser, url, role) as context:
        page = context.new_page()
        heard = complaints(page)
        for path in paths:
            page.set_viewport_size({"width": WIDTHS[0], "height": 800})
            page.goto(path)
            page.evaluate(axe)
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": 800})
                result = page.evaluate(
                    "axe.run({runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'], resultTypes: ['violations']})"
                )
                found += [
                    f"{path} at {width}: {fault['id']}: {node['html'][:120]}"
                    for fault in result["violations"]
                    for node in fault["nodes"]
                ]
                if page.evaluate("document.documentElement.scrollWidth") > width:
                    found.append(f"{path} is wider than {width}")
        found += [said for said in heard if "404" not in said]
    assert found == []


def test_the_board_moves_by_itself_and_keeps_the_keyboards_place(browser: Browser) -> None:
    book = busy_book()
    with served(book) as url, context_of(browser, url, "crew") as context:
        page = context.new_page()
        heard = complaints(page)
        page.goto("/board")
        button = page.get_by_role("button", name="Lantern Crew is here, Heavy single")
        button.focus()
        book.do(DIRECTOR, day.mark_arrived("w3-2", "T03"))
        expect(
            page.get_by_role("button", name="The Slow Burners is here, Heavy single")
        ).to_have_count(0)
        expect(button).to_be_focused()
        page.keyboard.press("Enter")
        expect(button).to_have_count(0)
        assert "T02" in book.state.heat_run("w3-2").arrived
        page.get_by_role("button", name="Start the clock").click()
        expect(page.get_by_role("alert")).to_contain_text("not everyone is here")
        page.get_by_role("button", name="Heat has ended").click()
        expect(page.get_by_role("button", name="Heat has ended")).to_have_count(0)
        assert page.url.endswith("/board")
        assert [said for said in heard if "409" not in said] == []


def test_a_page_says_that_it_is_cut_off_and_goes_on_when_it_can(browser: Browser) -> None:
    book = busy_book()
    with served(book) as url:
        port = int(url.rsplit(":", 1)[1])
        context = context_of(browser, url, None)
        page = context.new_page()
        page.goto("/board")
        state = page.locator("[data-live-state]")
        expect(state).to_be_hidden()
    expect(state).to_be_visible(timeout=15_000)
    book.do(DIRECTOR, day.finish_heat("w3-1"))
    with served(book, port=port):
        expect(state).to_be_hidden(timeout=15_000)
        expect(page.get_by_text("No heat is running.")).to_be_visible(timeout=15_000)
        context.close()


def test_a_heat_is_typed_in_with_the_keyboard_alone(browser: Browser) -> None:
    book = busy_book()
    with served(book) as url, context_of(browser, url, "desk") as context:
        page = context.new_page()
        page.goto("/desk/card/w5/T13/1")
        for team, time in ((13, "1312"), (14, "13:45"), (15, "1350"), (16, "1333")):
            expect(page).to_have_url(re.compile(rf"/T{team}/"))
            expect(page.locator("main input:focus")).to_have_value("")
            page.keyboard.type(time)
            page.keyboard.press("Enter")
            expect(page.get_by_role("status").first).to_contain_text("Saved")
        expect(page).to_have_url(re.compile(r"/desk/card/w3/"))  # on to what is missing next
    times = [book.state.sheets[f"w5/a/T{team}/1"].counting for team in (13, 14, 15, 16)]
    assert [result.time_ms for result in times if result] == [792_000, 825_000, 830_000, 813_000]


def test_pages_work_without_any_script(browser: Browser) -> None:
    book = busy_book()
    with (
        served(book) as url,
        context_of(browser, url, "crew", java_script_enabled=False) as context,
    ):
        page = context.new_page()
        page.goto("/board")
        page.get_by_role("button", name="Lantern Crew is here, Heavy single").click()
        expect(page.get_by_role("button", name="Lantern Crew is here, Heavy single")).to_have_count(
            0
        )
    assert "T02" in book.state.heat_run("w3-2").arrived
