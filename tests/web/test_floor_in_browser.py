"""A floor manager runs a heat on a phone, while somebody waits for the next one on theirs."""

from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from callroom.actions import day
from callroom.model import milliseconds
from tests.web.building import DIRECTOR, example_book, served
from tests.web.test_browser import complaints, context_of

pytestmark = pytest.mark.browser

PHONE: Any = {"width": 360, "height": 740}
MINUTE_MS = 60_000


def test_a_heat_is_called_checked_and_run_with_a_thumb(browser: Browser) -> None:
    book = example_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    heat = plan.heat("w1-1")
    names = [book.state.teams[team].name for team in heat.teams]
    waiting = plan.heat("w1-2").teams[0]
    book.set_now(milliseconds(event.instant(heat.start_s)) + 25 * MINUTE_MS)
    with (
        served(book) as url,
        context_of(browser, url, "crew", viewport=PHONE) as crew,
        context_of(browser, url, None, viewport=PHONE) as public,
    ):
        floor, team = crew.new_page(), public.new_page()
        heard = complaints(floor)
        team.goto(f"/team/{waiting}")
        floor.goto("/floor/hall")
        floor.get_by_role("button", name="Call this heat: Long haul, Heat 1").click()
        # Called 25 minutes late: whoever waits behind it is told without asking.
        expect(team.locator(".expected").first).to_contain_text("about")
        for name in names[:-1]:
            floor.get_by_role("button", name=f"{name} is here", exact=False).click()
            expect(floor.get_by_role("button", name=f"{name} is here")).to_have_count(0)
        floor.get_by_role("button", name=f"{names[-1]} is not here").click()
        expect(floor.get_by_text("without whoever is missing")).to_be_visible()
        walk = floor.get_by_role("button", name="On to the floor: Long haul")
        box = walk.bounding_box()
        assert box is not None
        assert box["height"] >= 56
        assert box["width"] >= 300
        walk.click()
        floor.get_by_role("button", name="Not on the floor yet: Long haul").click()
        expect(walk).to_be_visible()
        walk.click()
        floor.get_by_role("button", name="Start the clock: Long haul").click()
        ended = floor.get_by_role("button", name="Heat has ended: Long haul")
        expect(ended).to_be_visible()
        ended.click()
        expect(floor.get_by_text("Scores are still missing")).to_be_visible()
        assert heard == []
    run = book.state.heat_run("w1-1")
    assert (run.stage, len(run.arrived), run.no_shows) == ("finished", 3, heat.teams[-1:])
    missed = book.state.sheets[f"w1/a/{heat.teams[-1]}/1"].counting
    assert missed is not None
    assert missed.outcome == "did_not_start"
    book.do(DIRECTOR, day.mark_arrived("w1-1", heat.teams[-1]))
    assert book.state.heat_run("w1-1").no_shows == ()
