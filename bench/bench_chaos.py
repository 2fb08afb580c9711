"""Scores on bad links, with phones and the server being killed: what is lost, what counts twice.

``lost_scores`` and ``double_scores`` are summed over 100 seeded days (3 when quick) of a small
event: a server process that is killed and started again while scores are on their way,
links that lose every eighth request and every eighth answer, a third of the phones without any
network until the day is over. Counted from what the phones themselves wrote down when it was
typed, by content, against what is in the journal afterwards; a report kept without a place
counts as kept. A day that typed fewer scores than were scheduled, or that ends with other
results than the same scores without any fault, stops the benchmark.
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.chaos.book import chaos_book
from tests.chaos.playing import play_chaos

KILLS = 1


def figures(*, quick: bool) -> dict[str, float]:
    """Play the days and add up."""
    lost = double = 0
    with tempfile.TemporaryDirectory() as kept:
        folder = Path(kept)
        template = folder / "day.book"
        chaos_book(template)
        for seed in range(1, 4 if quick else 101):
            day = play_chaos(template, folder, seed, KILLS)
            if day.typed < day.scheduled:
                sys.exit(f"day {seed} typed {day.typed} of {day.scheduled} scores")
            if not day.same:
                sys.exit(f"day {seed} ended with other results than without faults")
            lost, double = lost + day.lost, double + day.double
    return {"lost_scores": lost, "double_scores": double}
