"""Settings that hold for every test."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

# Several programs share a test machine, so no example is judged by the clock. Where a failing
# example would stop other people's work, the examples are the same every time.
# Examples are few here, so that the whole suite ends within ten minutes; `thorough` has many.
settings.register_profile("here", deadline=None, max_examples=40)
settings.register_profile("ci", settings.get_profile("here"), derandomize=True, print_blob=True)
settings.register_profile("thorough", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("CALLROOM_EXAMPLES", "ci" if os.environ.get("CI") else "here"))

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome", "msedge")

# A browser that asks nobody on the network for anything, and starts as root.
QUIET = (
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse a test that is marked for a stage elsewhere than in its own file: it would not run."""
    marked = {(item.path, name) for name in ("store", "browser") for item in items
              if item.get_closest_marker(name)}  # fmt: skip
    hidden = [
        f"{path}: write pytest.mark.{name} in this file"
        for path, name in sorted(marked)
        if f"mark.{name}" not in path.read_text(encoding="utf-8")
    ]
    if hidden:
        raise pytest.UsageError(*hidden)


@pytest.fixture(scope="session")
def chromium() -> Path:
    """The machine's own Chromium, which Playwright drives; a browser test never skips."""
    named = os.environ.get("CALLROOM_CHROMIUM")
    found = named or next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        pytest.fail(f"No browser: none of {BROWSERS} is on PATH; name one with CALLROOM_CHROMIUM")
    return Path(found)


@pytest.fixture(scope="session")
def browser(chromium: Path) -> Iterator[Browser]:
    """One running Chromium for all tests; each opens a context of its own in it."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(chromium), args=list(QUIET))
        yield browser
        browser.close()
