"""The vendored script and font do their work in a real browser, under the strictest policy."""

from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Route

import build_frontend

pytestmark = pytest.mark.browser

ORIGIN = "http://callroom.test"
STYLES = """
@font-face { font-family: "Source Sans 3"; src: url("/static/fonts/source-sans-3.woff2") }
span { font: 40px "Source Sans 3" }
.tabular { font-variant-numeric: tabular-nums }
.proportional { font-variant-numeric: proportional-nums }
"""
PAGE = """<!doctype html><meta charset="utf-8"><title>Assets</title>
<link rel="stylesheet" href="/page.css"><script defer src="/static/vendor/htmx.js"></script>
<p><span class="proportional" id="ones">1111</span>
<span class="proportional" id="eights">8888</span>
<p><span class="tabular" id="ones-tabular">1111</span>
<span class="tabular" id="eights-tabular">8888</span>
<button hx-get="/part" hx-target="#place">Show</button><div id="place"></div>
"""


def serve(route: Route) -> None:
    """Answer from the built files; anything else is not there."""
    path = urlsplit(route.request.url).path
    answers = {"/": ("text/html", PAGE), "/page.css": ("text/css", STYLES)}
    answers["/part"] = ("text/html", "<b>Lane 3</b>")
    if path in answers:
        kind, body = answers[path]
        policy = {"Content-Security-Policy": "default-src 'self'"}
        route.fulfill(content_type=kind, body=body, headers=policy)
    elif path.startswith("/static/"):
        route.fulfill(path=build_frontend.STATIC / path.removeprefix("/static/"))
    else:
        route.fulfill(status=404)


@pytest.fixture(scope="module")
def faults() -> list[str]:
    return []


@pytest.fixture(scope="module")
def page(browser: Browser, faults: list[str]) -> Iterator[Page]:
    def hear(message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"} and "favicon" not in message.location["url"]:
            faults.append(message.text)

    shown = browser.new_page()
    shown.on("console", hear)
    shown.on("pageerror", lambda error: faults.append(str(error)))
    shown.route("**/*", serve)
    shown.goto(ORIGIN)
    yield shown
    shown.close()


def width_of(page: Page, name: str) -> float:
    box = page.locator(f"#{name}").bounding_box()
    assert box is not None
    return box["width"]


def test_font_sets_figures_to_one_width_when_asked(page: Page) -> None:
    assert page.evaluate("document.fonts.ready.then(all => [...all].map(font => font.status))") == [
        "loaded"
    ]
    assert width_of(page, "ones") < width_of(page, "eights")
    assert width_of(page, "ones-tabular") == width_of(page, "eights-tabular")


def test_htmx_works_under_a_policy_without_exceptions(page: Page, faults: list[str]) -> None:
    page.get_by_role("button", name="Show").click()
    page.locator("#place b").wait_for()
    assert page.locator("#place").inner_text() == "Lane 3"
    assert faults == []
