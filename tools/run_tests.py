"""Run every stage of the test suite, however the ones before it ended, and add them up.

The stages are the checks, the tests of plain code, the tests that write real databases, and the
tests that drive a real browser. A stage that finds no test counts as failed: a marker that
selects nothing would otherwise pass unseen.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

PYTEST_STAGES = {
    "unit": "not store and not browser",
    "store": "store and not browser",
    "browser": "browser",
}


@dataclass
class Stage:
    """How one stage ended: exit status, seconds it took, tests by outcome."""

    name: str
    status: int
    took_s: float
    outcomes: Counter[str] = field(default_factory=Counter)


def run_check() -> Stage:
    """Run the formatter, linter, type checkers and import contracts; one failing stops none."""
    started = time.monotonic()
    command = ["make", "--no-print-directory", "--keep-going", "check"]
    status = subprocess.run(command, cwd=ROOT, check=False)
    return Stage("check", status.returncode, time.monotonic() - started)


def run_pytest(name: str, chosen: str, report: Path) -> Stage:
    """Run the tests of one stage and read their outcomes from the report."""
    started = time.monotonic()
    command = [sys.executable, "-m", "pytest", "-q", "-n", "2", "-m", chosen]
    command += [f"--junitxml={report}", *_files(name)]
    status = subprocess.run(command, cwd=ROOT, env=_compiling(), check=False).returncode
    return Stage(name, status, time.monotonic() - started, _outcomes(report))


def _compiling() -> dict[str, str]:
    """Return the environment in which compiled files are kept, whatever the machine's says.

    Without them every process of every stage compiles thousand files anew.
    """
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def _files(stage: str) -> list[str]:
    """Return the files with tests of a stage; none: all of them.

    Thousands of tests take a while to collect, so a stage of few is told where they are. That a
    test is marked in its own file and no other way is held by ``tests/conftest.py``.
    """
    if stage == "unit":
        return []
    files = sorted((ROOT / "tests").rglob("test_*.py"))
    return [str(file) for file in files if f"mark.{stage}" in file.read_text(encoding="utf-8")]


def _outcomes(report: Path) -> Counter[str]:
    outcomes: Counter[str] = Counter()
    if not report.is_file():
        return outcomes
    for suite in ET.parse(report).getroot().iter("testsuite"):  # noqa: S314  (our own report)
        counts = {key: int(suite.get(key, "0")) for key in ("tests", "failures", "errors")}
        skipped = int(suite.get("skipped", "0"))
        outcomes["failed"] += counts["failures"]
        outcomes["errors"] += counts["errors"]
        outcomes["skipped"] += skipped
        outcomes["passed"] += counts["tests"] - counts["failures"] - counts["errors"] - skipped
    return outcomes


def summary(stages: list[Stage]) -> str:
    """Say how long each stage took and, last, what all of them together gave."""
    lines = ["", "stage      seconds  ended"]
    for stage in stages:
        ended = "well" if stage.status == 0 else f"with status {stage.status}"
        lines.append(f"{stage.name:<10} {stage.took_s:>7.1f}  {ended}")
    total = sum((stage.outcomes for stage in stages), Counter())
    counts = [f"{total[key]} {key}" for key in ("failed", "passed", "skipped", "errors")]
    told = ", ".join(part for part in counts if not part.startswith("0 ")) or "no tests ran"
    took_s = sum(stage.took_s for stage in stages)
    return "\n".join([*lines, "", f" {told} in {took_s:.2f}s ".center(80, "=")])


def main() -> None:
    """Run all stages; exit 1 when any of them failed."""
    with tempfile.TemporaryDirectory() as scratch:
        stages = [run_check()]
        for name, chosen in PYTEST_STAGES.items():
            print(f"\n== {name}", flush=True)
            stages.append(run_pytest(name, chosen, Path(scratch) / f"{name}.xml"))
    print(summary(stages), flush=True)
    sys.exit(any(stage.status != 0 for stage in stages))


if __name__ == "__main__":
    main()
