"""The network goes; the judge counts on; nothing is lost and nothing counts twice."""

import re

import pytest
from playwright.sync_api import BrowserContext, Route, expect
from playwright.sync_api import Error as PlaywrightError

from tests.pad.conftest import Hall, Pad

pytestmark = pytest.mark.browser


def test_counting_goes_on_while_the_server_is_gone(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.until(".pad-clock", ":")
    pad.count(4)
    hall.stop()
    pad.count(3)
    pad.until(".pad-total", "7")
    pad.hand_in()
    pad.page.wait_for_selector(".pad-kept.some")
    assert "1" in pad.waiting()
    # What waits stands there as plain figures, to be read out if the phone dies.
    assert "7" in (pad.page.text_content(".pad-sent li.waiting") or "")
    hall.start()
    pad.until_delivered()
    (result,) = hall.results(pad.ref())
    assert (result.outcome, result.work) == ("worked", 7)


def test_a_reload_loses_no_count_and_sends_nothing_twice(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.count(5)
    pad.press("No-rep")
    pad.page.reload()
    pad.page.wait_for_selector(".pad-head")
    assert pad.shown() == (5, 5)
    pad.hand_in()
    pad.until_delivered()
    for _ in range(2):
        pad.page.reload()
        pad.page.wait_for_selector(".pad-head")
    assert len(hall.results(pad.ref())) == 1


def test_a_killed_tab_leaves_its_count_and_what_waits(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat)
    pad.count(6)
    hall.stop()
    pad.hand_in()
    pad.page.wait_for_selector(".pad-kept.some")
    pad.page.close(run_before_unload=False)
    hall.start()
    again = Pad(phone.new_page(), heat)
    assert again.shown() == (6, 6)
    again.until_delivered()
    (result,) = hall.results(again.ref())
    assert result.work == 6


def test_an_answer_that_was_lost_does_not_count_twice(hall: Hall, phone: BrowserContext) -> None:
    heat = hall.first_heat("w2")
    page = phone.new_page()
    pad = Pad(page, heat)
    hall.begin(heat)
    pad.count(2)
    held: list[Route] = []

    def hold_the_first(route: Route) -> None:
        if held:
            route.continue_()
        else:
            held.append(route)

    page.route("**/entries", hold_the_first)
    pad.hand_in()
    while not held:
        page.wait_for_timeout(50)
    # A silent network takes its time to fail; what waits is in sight all the while.
    expect(page.locator(".pad-sent li.waiting")).to_have_count(1)
    held[0].fetch()
    held[0].abort()
    pad.until_delivered()
    assert len(hall.results(pad.ref())) == 1


def test_a_second_phone_on_the_lane_is_told_and_never_overwrites(
    hall: Hall, phone: BrowserContext
) -> None:
    heat = hall.first_heat("w2")
    first = Pad(phone.new_page(), heat)
    hall.begin(heat)
    first.count(3)
    first.hand_in()
    first.until_delivered()
    other = phone.browser.new_context(base_url=hall.url)  # type: ignore[union-attr]
    page = other.new_page()
    page.goto(f"/join/{hall.book.doors.make_code('judge', 'again')}")
    page.click("main button")
    page.wait_for_url("**/pad")
    second = Pad(page, heat)
    page.wait_for_selector("text=Another phone has sent a score")
    second.count(4)
    second.hand_in()
    second.until_delivered()
    assert [result.work for result in hall.results(first.ref())] == [3, 4]
    sheet = hall.book.state.sheets[first.ref().key]
    assert sheet.disputed
    assert sheet.counting is not None
    assert sheet.counting.work == 3
    other.close()


def test_a_lane_given_to_another_team_is_said(hall: Hall, phone: BrowserContext) -> None:
    from msgspec.structs import replace

    from callroom.actions import day as ask
    from callroom.bootstrap.books import AT_THE_KEYBOARD
    from callroom.model import LaneTeam

    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    pad.count()
    pad.until(".pad-here", "1")
    state = hall.book.state
    assert state.plan is not None
    one, two, *rest = heat.lanes
    swapped = replace(
        heat,
        lanes=(
            LaneTeam(lane=one.lane, team=two.team),
            LaneTeam(lane=two.lane, team=one.team),
            *rest,
        ),
    )
    hall.book.ask_now(
        AT_THE_KEYBOARD, ask.change_plan(state.plan.revision + 1, (swapped,)), key="swap"
    )
    pad.page.wait_for_selector("text=The plan has changed")


def test_the_next_heats_open_and_a_lost_page_comes_back_without_a_server(
    hall: Hall, phone: BrowserContext
) -> None:
    phone.clock.install()
    heat = hall.first_heat("w2")
    pad = Pad(phone.new_page(), heat)
    hall.begin(heat, ago_s=60)
    pad.until(".pad-clock", "7:")
    pad.count(4)
    page = pad.page
    kept = phone.request.get(f"/pad/{heat.id}/{pad.lane}")
    asked = {"If-None-Match": kept.headers["etag"]}
    assert phone.request.get(kept.url, headers=asked).status == 304
    expect(page.locator("#pad")).to_have_attribute("data-ahead", re.compile(r"\d"), timeout=20_000)
    hall.stop()
    # The pad asks for fresh pages in vain; that must not throw out what is kept.
    with page.expect_event("requestfailed", lambda asked: asked.url == kept.url):
        phone.clock.fast_forward(6 * 60_000)
    pad.until(".pad-clock", "1:")

    # A reload shows nothing; the address opened anew does, with the count and the heat's clock.
    with pytest.raises(PlaywrightError):
        page.reload()
    page = phone.new_page()
    page.goto(f"/pad/{heat.id}/{pad.lane}")
    pad.page = page
    expect(page.locator(".pad-here")).to_have_text("4")
    pad.until(".pad-clock", "1:")
    pad.hand_in()
    page.wait_for_selector(".pad-kept.some")

    coming = page.locator(".pad-ahead a").first
    team = (coming.text_content() or "").split(" · ")[-1]
    coming.click()
    expect(page.locator(".pad-who h1")).to_have_text(team)
    pad.count(2)
    pad.hand_in()
    expect(page.locator(".pad-sent li.waiting")).to_have_count(2)
    hall.start()
    expect(page.locator(".pad-sent li.delivered")).to_have_count(2, timeout=25_000)
    assert [result.work for result in hall.results(pad.ref())] == [4]
    reports = [kept.report for sheet in hall.book.state.sheets.values() for kept in sheet.reports]
    assert sorted(report.result.work or 0 for report in reports) == [2, 4]
