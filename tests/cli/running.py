"""Running the command: in this process, or in one of its own as a person does."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import msgspec
from click.testing import CliRunner

from callroom.cli import main


class Ran(msgspec.Struct, frozen=True):
    """What came of a command."""

    code: int
    out: str
    err: str

    @property
    def answer(self) -> Any:
        return json.loads(self.out)


def callroom(*words: str | Path) -> Ran:
    """Run ``callroom`` with these words in this process; an unexpected exception is raised."""
    done = CliRunner().invoke(main, list(map(str, words)))
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return Ran(done.exit_code, done.stdout, done.stderr)


def callroom_apart(*words: str | Path, within_s: int = 120) -> Ran:
    """Run ``callroom`` with these words in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "callroom", *map(str, words)],
        capture_output=True,
        check=False,
        timeout=within_s,
        encoding="utf-8",
    )
    return Ran(done.returncode, done.stdout, done.stderr)
