"""Running the command as a person does: another process, its output and exit code."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import msgspec


class Ran(msgspec.Struct, frozen=True):
    """What came of a command."""

    code: int
    out: str
    err: str

    @property
    def answer(self) -> Any:
        return json.loads(self.out)


def callroom(*words: str | Path, within_s: int = 120) -> Ran:
    """Run ``callroom`` with these words."""
    done = subprocess.run(
        [sys.executable, "-m", "callroom", *map(str, words)],
        capture_output=True,
        check=False,
        timeout=within_s,
        encoding="utf-8",
    )
    return Ran(done.returncode, done.stdout, done.stderr)
