"""Every address is in docs/addresses.md, and every address there exists."""

import re
from pathlib import Path

from callroom.web.app import addresses

DOCUMENT = Path(__file__).resolve().parents[2] / "docs" / "addresses.md"


def test_the_document_lists_every_address_and_no_other() -> None:
    known = {re.sub(r":\w+\}", "}", route.path) for route in addresses().routes}
    rows = [line for line in DOCUMENT.read_text(encoding="utf-8").splitlines() if "| `/" in line]
    listed = {found for row in rows for found in re.findall(r"`(/[^`]*)`", row.split("|")[1])}
    assert listed == known
