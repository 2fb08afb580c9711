"""Another laptop carries on: pads go there with all they have, and nothing counts twice."""

from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from callroom.bootstrap.carry_on import carry_on
from callroom.bootstrap.clocks import FastClock
from callroom.bootstrap.standby_keeper import StandbyKeeper
from callroom.views.place_code import place_code
from tests.pad.conftest import Hall, Pad

pytestmark = pytest.mark.browser

# The other laptop's own clock is this far ahead of the first one's.
AHEAD_S = 120


def follow(page: Page, to: Hall) -> None:
    """Type the code of the other laptop into a pad."""
    page.get_by_role("button", name="More", exact=True).click()
    page.get_by_role("button", name="The server has moved", exact=True).last.click()
    page.get_by_label("The code or address of the new server").fill(place_code(to.url))
    page.get_by_role("button", name="Go there").click()
    page.wait_for_url(f"{to.url}/pad/**")


def seconds_left(page: Page) -> int:
    minutes, seconds = (page.text_content(".pad-clock") or "").split(":")
    return int(minutes) * 60 + int(seconds)


def follow_at_the_same_address(other: Hall, pad: Pad, folder: Path) -> None:
    """Once more, now where it was: the pad notices and sends again what the copy lacks."""
    stick = folder / "another stick"
    stick.mkdir()
    StandbyKeeper(other.book, stick).copy_now()
    pad.hand_in()
    until(pad, other, [3, 5])
    other.stop()
    last = carry_on(stick, folder / "third.book", clock=other.clock)
    same_place = Hall(last.path, other.clock, port=other.stage.port)
    assert [result.work for result in same_place.results(pad.ref())] == [3]
    until(pad, same_place, [3, 5])
    expect(pad.page.locator(".pad-kept.some")).to_have_count(0)
    assert len(same_place.book.state.devices) == 1
    same_place.stop()


def until(pad: Pad, hall: Hall, works: list[int]) -> None:
    """Wait until a lane has these results, each once."""
    for _ in range(300):
        if len(hall.results(pad.ref())) >= len(works):
            break
        pad.page.wait_for_timeout(100)
    assert [result.work for result in hall.results(pad.ref())] == works


def test_a_phone_follows_by_one_code_and_keeps_what_it_has(
    hall: Hall, phone: BrowserContext, tmp_path: Path
) -> None:
    heat = hall.first_heat("w2")
    hall.begin(heat, ago_s=60)
    page = phone.new_page()

    # In the copy, but the phone heard no answer.
    lost: list[Route] = []

    def lose_the_answer(route: Route) -> None:
        route.fetch()
        route.abort()
        lost.append(route)

    page.route("**/entries", lose_the_answer)
    first = Pad(page, heat, 0)
    first.count(4)
    first.hand_in()
    expect(page.locator(".pad-kept.some")).to_be_visible()
    while not lost:
        page.wait_for_timeout(50)
    assert hall.results(first.ref())
    stick = tmp_path / "stick"
    stick.mkdir()
    StandbyKeeper(hall.book, stick).copy_now()
    page.unroute_all(behavior="wait")
    first.until_delivered()

    # Arrived, but after the copy was made.
    second = Pad(page, heat, 1)
    second.count(5)
    second.hand_in()
    second.until_delivered()

    # Handed in while there was no server, and a count that goes on.
    third = Pad(page, heat, 2)
    third.until(".pad-clock", "7:")
    third.count(3)
    third.until(".pad-here", "3")
    hall.stop()
    third.hand_in()
    page.wait_for_selector(".pad-kept.some")
    third.count(2)
    third.until(".pad-here", "5")
    left_s = seconds_left(page)

    clock = FastClock(hall.clock.now_ms() + AHEAD_S * 1000, 1)
    carried = carry_on(stick, tmp_path / "second.book", clock=clock)
    other = Hall(carried.path, clock)
    follow(page, other)
    expect(page.locator(".pad-here")).to_have_text("5")
    page.wait_for_selector(".pad-kept:not(.some)", timeout=25_000)
    # The heat's clock goes on by the laptop that started it, whatever the other one says.
    assert left_s - seconds_left(page) < AHEAD_S / 2

    # The phone is the device it was, without any new code, and every score is there once.
    assert len(other.book.state.devices) == 1
    for pad, work in ((first, 4), (second, 5), (third, 3)):
        assert [result.work for result in other.results(pad.ref())] == [work]

    follow_at_the_same_address(other, third, tmp_path)
    page.close()
