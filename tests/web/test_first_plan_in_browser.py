"""A new director, from nothing to a printed pack, in a real browser and without a file."""

import importlib.util
import sys
import zipfile
from pathlib import Path
from types import ModuleType

import pytest
from playwright.sync_api import Browser, expect

pytestmark = [pytest.mark.browser, pytest.mark.store, pytest.mark.slow]

ROOT = Path(__file__).resolve().parents[2]
AXE = ROOT / "node_modules/axe-core/axe.min.js"
MOST_CLICKS = 40


def story() -> ModuleType:
    """Return the story that the benchmark tells too."""
    spec = importlib.util.spec_from_file_location("first_plan", ROOT / "bench/first_plan.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["first_plan"] = module
    spec.loader.exec_module(module)
    return module


def test_from_nothing_to_a_printed_pack(browser: Browser, tmp_path: Path) -> None:
    told = story()
    context = browser.new_context(bypass_csp=True, viewport={"width": 360, "height": 740})
    page = context.new_page()
    with told.shelf_of(tmp_path) as url:
        hand = told.first_plan(page, url, teams=4)
        assert hand.count <= MOST_CLICKS
        base = page.url.partition("/director")[0]
        for path in ("/director", "/director/event", "/director/event/wishes", "/director/open"):
            page.goto(base + path)
            expect(page.get_by_role("heading", level=1)).to_be_visible()
            page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
            if AXE.is_file():
                page.evaluate(AXE.read_text(encoding="utf-8"))
                assert page.evaluate("axe.run()")["violations"] == [], path
        page.goto(f"{base}/director/files")
        with page.expect_download() as download:
            page.get_by_role("link", name="All sheets, A4").click()
        pack = zipfile.ZipFile(download.value.path())
        assert any(name.endswith(".pdf") for name in pack.namelist())
    context.close()
