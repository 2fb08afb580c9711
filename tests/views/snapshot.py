"""Comparing a view with what it was when somebody last looked at it."""

import json
import os
from pathlib import Path

import msgspec

FOLDER = Path(__file__).parent / "snapshots"


def same_as_before(name: str, view: object) -> None:
    """Compare `view` with the stored text; with CALLROOM_SNAPSHOTS=write store it anew."""
    text = json.dumps(msgspec.to_builtins(view), indent=1, ensure_ascii=False) + "\n"
    stored = FOLDER / f"{name}.json"
    if os.environ.get("CALLROOM_SNAPSHOTS") == "write":
        FOLDER.mkdir(exist_ok=True)
        stored.write_text(text, encoding="utf-8")
    assert text == stored.read_text(encoding="utf-8")
