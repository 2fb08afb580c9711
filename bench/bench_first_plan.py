"""From nothing to a published plan of 40 teams, in a real browser.

``first_plan_clicks``: fields filled in, choices, and buttons and links pressed, from the list of
books on. Nothing else is needed: no file, no command.
"""

import os
import shutil
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from first_plan import first_plan, shelf_of

TEAMS, TEAMS_QUICK = 40, 8


def figures(*, quick: bool) -> dict[str, float]:
    """Do it once and count."""
    chromium = os.environ.get("CALLROOM_CHROMIUM") or shutil.which("chromium")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        with shelf_of(Path(folder)) as url:
            hand = first_plan(browser.new_page(), url, TEAMS_QUICK if quick else TEAMS)
        browser.close()
    return {"first_plan_clicks": hand.count}
