"""Ten times the entries cost about ten times the time, and a State shares what did not change."""

import time
from collections.abc import Sequence

import pytest

from callroom.journal import Entry, Reading
from callroom.journal.codec import Codec
from callroom.journal.store import Row, Writer, replay
from tests.journal.counting import (
    CODEC,
    KINDS,
    READING,
    START_MS,
    Confirmed,
    Counted,
    Tally,
    TallyFolder,
    count,
    publish,
)
from tests.journal.memory import MemoryLedger

FEW, TIMES = 2_000, 10


def rows(number: int) -> Sequence[Row]:
    """A long day: ever new lanes, so that the State grows with the journal."""
    found = []
    for seq in range(1, number + 1):
        lane = f"lane {seq // 2}"
        body = Counted(lane=lane, reps=seq % 100) if seq % 2 else Confirmed(lane=lane)
        written = CODEC.encode(body)
        entry = Entry(
            seq=seq,
            at_ms=START_MS,
            actor="judge",
            device="pad-1",
            key=f"k{seq}",
            part=0,
            kind=written.kind,
            version=written.version,
            data=written.data,
        )
        found.append(Row(entry))
    return found


def took(reading: Reading[Tally], journal: Sequence[Row]) -> float:
    started = time.perf_counter()
    replayed = replay(reading, reading.start, journal)
    assert replayed.head.seq == len(journal)
    return time.perf_counter() - started


def test_folding_ten_times_the_entries_costs_at_most_twelve_times_the_time() -> None:
    few, many = rows(FEW), rows(FEW * TIMES)
    # Interleaved, and the quickest of each: what else the machine does cannot make it faster.
    pairs = [(took(READING, few), took(READING, many)) for _ in range(9)]
    shortest, longest = (min(side) for side in zip(*pairs, strict=True))
    assert longest <= 12 * shortest


def test_each_entry_is_decoded_and_folded_once_however_long_the_journal() -> None:
    class Counting(Codec):
        decoded = 0

        def body(self, entry: Entry) -> object:  # type: ignore[override]
            Counting.decoded += 1
            return super().body(entry)

    reading = Reading(codec=Counting(KINDS), folder=TallyFolder(), empty=Tally())
    replay(reading, reading.start, rows(500))
    assert Counting.decoded == 500


@pytest.mark.parametrize("many", [10, 1000])
def test_a_state_shares_the_parts_a_batch_did_not_touch(many: int) -> None:
    ledger = MemoryLedger()
    writer = Writer(ledger=ledger, reading=READING, head=READING.start, clock=lambda: START_MS)
    for lane in range(many):
        writer.submit(count(str(lane), 1)).result()
    before = writer.state
    writer.submit(publish(0)).result()
    after = writer.state
    writer.close()
    assert after.counts is before.counts
    assert after.revision == before.revision + 1
    assert before.revision == 0
