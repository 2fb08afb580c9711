"""A writing process is killed fifty times: what was acknowledged is stored, once and whole."""

import random
import subprocess
import sys
from collections import Counter, defaultdict
from contextlib import closing
from pathlib import Path

import pytest

from tests.journal.disk import opened, verified

pytestmark = [pytest.mark.store, pytest.mark.slow]

KILLS = 50
SLOW = ("0", "4")
"""How much longer each commit takes in every other run [ms]."""

ROOT = Path(__file__).parents[2]


def kill_after(path: Path, run: int, lines: int) -> list[str]:
    """Let a process write until it said `lines` lines, kill it, return all it had said."""
    child = subprocess.Popen(
        [sys.executable, "-m", "tests.journal.killed_writer", str(path), str(run), SLOW[run % 2]],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    said = []
    try:
        for line in child.stdout:
            said.append(line)
            if len(said) == lines:
                break
        assert child.poll() is None, "it ended by itself"
    finally:
        child.kill()
        rest, _ = child.communicate()
    return said + rest.splitlines(keepends=True)


def test_what_was_acknowledged_is_stored_exactly_once(tmp_path: Path) -> None:
    path = tmp_path / "gala.book"
    opened(path).close()
    rng = random.Random(50)
    acknowledged: dict[str, int] = {}
    for run in range(KILLS):
        for line in kill_after(path, run, rng.randint(1, 60)):
            key, parts = line.split()
            acknowledged[key] = int(parts)

    with closing(opened(path)) as store:
        entries = list(store.entries())
        state = store.state
    stored: defaultdict[str, list[int]] = defaultdict(list)
    for entry in entries:
        stored[entry.key].append(entry.part)

    runs = {key.split("-")[0] for key in acknowledged}
    assert len(runs) == KILLS
    lost = {key for key, parts in acknowledged.items() if len(stored[key]) != parts}
    assert not lost
    # All or none, also of what was never acknowledged; and nothing twice.
    for key, parts_stored in stored.items():
        number = int(key.rsplit("-", 1)[1])
        assert parts_stored == list(range(1 + number % 4)), key
    assert max(Counter((entry.key, entry.part) for entry in entries).values()) == 1
    assert [entry.seq for entry in entries] == sorted({entry.seq for entry in entries})
    assert state.seq == entries[-1].seq
    assert verified(path) == []
