"""Ten times the entries cost about ten times the time, and a State shares what did not change."""

import time
from collections.abc import Iterator, Sequence

import msgspec
import pytest

from callroom.journal import Codec, Entry, Reading
from callroom.journal.entries import bodies
from callroom.journal.entries.kinds import KINDS
from callroom.journal.fold import EventFolder
from callroom.journal.store import Row, Writer, replay
from callroom.model import Plan, Result, ScoreReport, State
from tests.actions.day_building import EVENT, heat, team
from tests.journal.counting import READING, START_MS, count, publish
from tests.journal.memory import MemoryLedger

HEATS, LANES, TIMES = 10, 3, 10


def a_day(heats: int) -> Iterator[msgspec.Struct]:
    """Everything of a day with one workout, in the order it happens."""
    teams = range(heats * LANES)
    planned = [
        heat(f"w1-{n}", "w1", n, n * 800, [f"T{n * LANES + lane}" for lane in range(LANES)])
        for n in range(heats)
    ]
    yield bodies.EventSet(event=EVENT)
    for number in teams:
        yield bodies.TeamSet(team=team(number))
    yield bodies.PlanPublished(plan=Plan(revision=1, inputs_digest="", heats=tuple(planned)))
    for one in planned:
        yield bodies.HeatCalled(heat=one.id)
        for place in one.lanes:
            yield bodies.TeamArrived(heat=one.id, team=place.team)
        yield bodies.HeatStarted(heat=one.id, at_ms=START_MS)
        for place in one.lanes:
            yield ScoreReport(
                heat=one.id,
                workout="w1",
                part="a",
                team=place.team,
                lane=place.lane,
                source="pad",
                result=Result(outcome="finished", time_ms=1000 * one.number),
            )
        yield bodies.HeatFinished(heat=one.id)
        yield bodies.HeatConfirmed(heat=one.id)


REAL = Reading(codec=Codec(KINDS), folder=EventFolder(), empty=State())


def rows(written: Iterator[msgspec.Struct]) -> Sequence[Row]:
    found = []
    for seq, body in enumerate(written, start=1):
        one = REAL.codec.encode(body)
        entry = Entry(
            seq=seq,
            at_ms=START_MS,
            actor="judge",
            device="pad-1",
            key=f"k{seq}",
            part=0,
            kind=one.kind,
            version=one.version,
            data=one.data,
        )
        found.append(Row(entry))
    return found


def took(journal: Sequence[Row], times: int) -> int:
    """Processor time of this thread alone [ns]: others on the machine do not count."""
    started = time.thread_time_ns()
    folded = [replay(REAL, REAL.start, journal) for _ in range(times)]
    spent = time.thread_time_ns() - started
    for one in folded:
        assert one.stopped is None
        assert one.head.seq == len(journal)
    return spent


def test_folding_ten_times_the_entries_costs_at_most_twelve_times_the_time() -> None:
    few, many = rows(a_day(HEATS)), rows(a_day(HEATS * TIMES))
    # Slices of equal length, interleaved, and the least of each: noise only ever adds.
    pairs = [(took(few, TIMES), took(many, 1)) for _ in range(25)]
    ten_short, one_long = (min(side) for side in zip(*pairs, strict=True))
    assert one_long / len(many) <= 12 / TIMES * ten_short / (TIMES * len(few))


def test_each_entry_is_decoded_once_however_long_the_journal() -> None:
    class Counting(Codec):
        decoded = 0

        def body(self, entry: Entry) -> msgspec.Struct:
            Counting.decoded += 1
            return super().body(entry)

    reading = Reading(codec=Counting(KINDS), folder=EventFolder(), empty=State())
    journal = rows(a_day(HEATS))
    replay(reading, reading.start, journal)
    assert Counting.decoded == len(journal)


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
