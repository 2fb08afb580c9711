"""The safety plan on paper: one page for each post, whatever there is to say."""

import pytest
from msgspec.structs import replace

from callroom.bootstrap.language import language_of
from callroom.model import from_milliseconds
from callroom.model.safety import Exit
from callroom.paper import PaperSize, safety_pdf
from callroom.standards import library_with
from callroom.views.page_head import page_head
from callroom.views.safety_plan import safety_plan
from tests.paper.reading import pages_of
from tests.views.building import example_event, example_state
from tests.views.test_safety_plan import SAID

TITLES = ("Floor manager", "Judge", "First aid", "Door and walkways", "Desk and announcer")


@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_a_page_for_each_post_says_whom_to_call(size: PaperSize) -> None:
    event = example_event()
    hostile = Exit(name="#panic() *x* " * 6, width_mm=1500)
    state = replace(example_state(), safety=replace(SAID, exits=(*SAID.exits, hostile)))
    plan = safety_plan(state, event, library_with(event.movements).movements)
    pages = pages_of(
        safety_pdf(
            plan,
            page_head(state),
            size=size,
            at=from_milliseconds(state.at_ms),
            at_ms=state.at_ms,
            words=language_of("en").words,
        )
    )
    assert [page.split("\n")[0].strip() for page in pages[-5:]] == list(TITLES)
    assert "Safety plan" in pages[0]
    for page in pages[-5:]:
        assert "Call 112" in page
        assert "STOP" in page
        assert "Read by" in page
