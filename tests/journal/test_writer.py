"""Deciding, batching, acknowledging: the rules every store shares, on a ledger in memory."""

import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import Future

import msgspec
import pytest

from callroom.journal import Entry, Receipt
from callroom.journal.codec import BadData
from callroom.journal.store import (
    MAX_BATCH,
    META,
    BookIsReadOnly,
    KeyConflict,
    NotStored,
    Row,
    StoreClosed,
    Writer,
    seal_over,
)
from callroom.model import Refusal, Stale
from tests.journal.counting import (
    CODEC,
    READING,
    START_MS,
    Confirmed,
    Counted,
    Poison,
    Published,
    Tally,
    asking,
    confirm,
    count,
    publish,
    saying,
)
from tests.journal.memory import DiskFull, Held, MemoryLedger

WAIT_S = 30


@pytest.fixture
def ledger() -> MemoryLedger:
    return MemoryLedger()


@pytest.fixture
def writer(ledger: MemoryLedger) -> Iterator[Writer[Tally]]:
    writer = Writer(ledger=ledger, reading=READING, head=READING.start, clock=lambda: START_MS)
    yield writer
    writer.close()


def done(future: Future[Receipt]) -> Receipt:
    return future.result(WAIT_S)


def refusal_of(future: Future[Receipt]) -> BaseException:
    fault = future.exception(WAIT_S)
    assert fault is not None
    return fault


def test_entries_are_stored_folded_and_then_acknowledged(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    receipt = done(writer.submit(count("1", 42, key="k")))
    (entry,) = receipt.entries
    assert entry == Entry(
        actor="judge",
        device="pad-1",
        key="k",
        part=0,
        kind="lane.counted",
        version=1,
        data=b'{"lane":"1","reps":42}',
        seq=1,
        at_ms=START_MS,
    )
    assert not receipt.replayed
    assert [row.entry for row in ledger.committed] == [entry]
    assert writer.state == Tally(seq=1, counts={"1": 42})


def test_the_state_is_published_before_the_answer(ledger: MemoryLedger) -> None:
    seen: list[int] = []
    writer = Writer(ledger=ledger, reading=READING, head=READING.start, clock=lambda: START_MS)
    with Held(writer.submit):
        future = writer.submit(count("1", 42))
        future.add_done_callback(lambda _: seen.append(writer.state.counts["1"]))
    done(future)
    writer.close()
    assert seen == [42]


def test_sending_twice_stores_once_and_answers_the_same(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    first = done(writer.submit(count("1", 42, key="k")))
    again = done(writer.submit(count("1", 42, key="k")))
    assert again == Receipt(first.entries, replayed=True)
    assert len(ledger.committed) == 1


def test_sending_twice_in_one_batch_stores_once(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    with Held(writer.submit):
        futures = [writer.submit(count("1", 42, key="k")) for _ in range(5)]
    receipts = [done(future) for future in futures]
    assert [receipt.replayed for receipt in receipts] == [False, True, True, True, True]
    assert {receipt.entries for receipt in receipts} == {receipts[0].entries}
    assert len(ledger.committed) == 1


@pytest.mark.parametrize("held", [True, False])
def test_a_key_used_for_other_content_is_a_conflict(
    writer: Writer[Tally], ledger: MemoryLedger, held: bool
) -> None:
    if held:
        with Held(writer.submit):
            first = writer.submit(count("1", 42, key="k"))
            other = writer.submit(count("1", 43, key="k"))
    else:
        first = writer.submit(count("1", 42, key="k"))
        done(first)
        other = writer.submit(count("1", 43, key="k"))
    conflict = refusal_of(other)
    assert isinstance(conflict, KeyConflict)
    assert conflict.facts == {"device": "pad-1", "key": "k"}
    assert len(ledger.committed) == len(done(first).entries) == 1


def test_the_same_key_from_another_device_is_another_request(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    done(writer.submit(count("1", 42, key="k", device="pad-1")))
    done(writer.submit(count("1", 43, key="k", device="pad-2")))
    assert len(ledger.committed) == 2


def test_a_retry_is_answered_even_if_it_would_be_refused_by_now(writer: Writer[Tally]) -> None:
    done(writer.submit(count("1", 42)))
    first = done(writer.submit(confirm("1", key="c")))
    again = done(writer.submit(confirm("1", key="c")))
    assert again == Receipt(first.entries, replayed=True)


def test_a_refused_key_is_free_to_be_asked_again(writer: Writer[Tally]) -> None:
    assert isinstance(refusal_of(writer.submit(confirm("1", key="c"))), Refusal)
    done(writer.submit(count("1", 42)))
    assert not done(writer.submit(confirm("1", key="c"))).replayed


def test_two_confirms_race_and_the_second_is_decided_on_the_first(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    done(writer.submit(count("1", 42)))
    with Held(writer.submit):
        futures = [writer.submit(confirm("1")) for _ in range(2)]
    (entry,) = done(futures[0]).entries
    lost = refusal_of(futures[1])
    assert isinstance(lost, Stale)
    assert lost.facts["seq"] == entry.seq
    assert [row.entry.kind for row in ledger.committed].count("lane.confirmed") == 1


def test_many_threads_publish_and_exactly_one_wins_each_revision(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    barrier = threading.Barrier(8)
    won: list[int] = []

    def race() -> None:
        for revision in range(20):
            barrier.wait(WAIT_S)
            future = writer.submit(publish(revision))
            if future.exception(WAIT_S) is None:
                won.append(revision)

    threads = [threading.Thread(target=race) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(WAIT_S)
    assert sorted(won) == list(range(20))
    assert writer.state.revision == 20
    assert len(ledger.committed) == 20


def test_a_request_of_several_entries_is_stored_whole(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    receipt = done(
        writer.submit(saying(Counted(lane="1", reps=1), Confirmed(lane="1"), key="both"))
    )
    assert [(entry.seq, entry.part) for entry in receipt.entries] == [(1, 0), (2, 1)]
    assert [bool(row.request) for row in ledger.committed] == [True, False]
    again = done(writer.submit(saying(Counted(lane="1", reps=1), Confirmed(lane="1"), key="both")))
    assert again == Receipt(receipt.entries, replayed=True)


@pytest.mark.parametrize(
    ("second", "expected"),
    [
        (Poison(), TypeError),  # cannot be folded
        (Counted(lane="1", reps=-1), BadData),  # cannot be encoded
        (Tally(), TypeError),  # no kind of entry at all
    ],
)
def test_a_request_with_one_bad_entry_stores_none(
    writer: Writer[Tally],
    ledger: MemoryLedger,
    second: msgspec.Struct,
    expected: type[Exception],
) -> None:
    bad = saying(Counted(lane="1", reps=1), second)
    assert isinstance(refusal_of(writer.submit(bad)), expected)
    assert ledger.committed == []
    assert writer.state == Tally()


def test_a_bad_entry_does_not_touch_its_batch_mates(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    def broken(_: Tally) -> Sequence[msgspec.Struct]:
        raise ZeroDivisionError

    with Held(writer.submit):
        futures = [
            writer.submit(request)
            for request in (
                count("1", 1),
                saying(Counted(lane="1", reps=99), Poison()),
                count("2", 2),
                asking(broken),
                saying(Counted(lane="2", reps=-5)),
                confirm("7"),
                confirm("1"),
            )
        ]
    outcomes = [type(future.exception(WAIT_S)) for future in futures]
    nothing = type(None)
    assert outcomes == [
        nothing,
        TypeError,
        nothing,
        ZeroDivisionError,
        BadData,
        Refusal,
        nothing,
    ]
    assert [row.entry.seq for row in ledger.committed] == [1, 2, 3]
    assert writer.state == Tally(seq=3, counts={"1": 1, "2": 2}, confirmed={"1": 3})


def test_a_failed_commit_acknowledges_nobody_and_publishes_nothing(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    done(writer.submit(count("1", 1)))
    before = writer.state
    with Held(writer.submit):
        ledger.fail_next = 2  # the held request's own commit, then the batch
        futures = [
            writer.submit(count("1", 2)),
            writer.submit(confirm("9")),
            writer.submit(count("2", 2)),
        ]
    for future in futures:
        fault = refusal_of(future)
        # Also whoever would have been refused: that refusal may have rested on a lost neighbour.
        assert isinstance(fault, NotStored)
        assert isinstance(fault.__cause__, DiskFull)
    assert len({id(future.exception()) for future in futures}) == 3
    assert writer.state is before
    assert len(ledger.committed) == 1


def test_after_a_failed_commit_the_store_goes_on(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    ledger.fail_next = 1
    assert isinstance(refusal_of(writer.submit(count("1", 1, key="k"))), NotStored)
    assert not done(writer.submit(count("1", 1, key="k"))).replayed
    assert [row.entry.seq for row in ledger.committed] == [1]
    assert writer.state.counts == {"1": 1}


def test_a_commit_that_reached_the_disk_unheard_is_found_by_the_retry(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    ledger.lie_next = 1
    assert isinstance(refusal_of(writer.submit(count("1", 1, key="k"))), NotStored)
    assert writer.state == Tally()
    assert done(writer.submit(count("1", 1, key="k"))).replayed
    assert len(ledger.committed) == 1
    assert writer.state.counts == {"1": 1}


def test_what_another_process_stored_is_decided_upon(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    done(writer.submit(count("1", 1)))
    other = Writer(ledger=ledger, reading=READING, head=READING.start, clock=lambda: START_MS)
    done(other.submit(confirm("1")))
    other.close()
    assert isinstance(refusal_of(writer.submit(confirm("1"))), Stale)
    assert writer.state.seq == 2


def test_an_entry_only_a_newer_process_knows_stops_all_writing(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    done(writer.submit(count("1", 1)))
    (row,) = ledger.committed
    newer = msgspec.structs.replace(row.entry, seq=2, key="n", kind="lane.weighed")
    ledger.committed.append(Row(newer, b"d" * 32, b"s" * 32))
    for _ in range(2):
        fault = refusal_of(writer.submit(count("1", 2)))
        assert isinstance(fault, BookIsReadOnly)
        assert fault.rule == "journal.kind_unknown"
        assert fault.facts["seq"] == 2
    assert writer.read_only is not None
    assert len(ledger.committed) == 2


def test_what_waits_is_stored_in_one_transaction_of_bounded_size(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    with Held(writer.submit):
        futures = [writer.submit(count("1", n)) for n in range(MAX_BATCH + 44)]
    for future in futures:
        done(future)
    assert ledger.commits == [0, MAX_BATCH, 44]


def test_there_is_one_wake_up_and_one_seal_for_each_batch(ledger: MemoryLedger) -> None:
    woken: list[tuple[int, list[int]]] = []

    def listen(state: Tally, entries: Sequence[Entry]) -> None:
        woken.append((state.seq, [entry.seq for entry in entries]))

    writer = Writer(
        ledger=ledger,
        reading=READING,
        head=READING.start,
        clock=lambda: START_MS,
        on_published=listen,
    )
    for size in (3, 2):
        with Held(writer.submit):
            futures = [writer.submit(count("1", n)) for n in range(size)]
        for future in futures:
            done(future)
    writer.close()
    assert woken == [(3, [1, 2, 3]), (5, [4, 5])]
    first, second = ledger.committed[:3], ledger.committed[3:]
    seals = [row.seal for row in ledger.committed]
    assert seals == [b"", b"", seal_over(bytes(32), first), b"", seal_over(seals[2], second)]


def test_a_failing_listener_does_not_stop_the_writer(
    ledger: MemoryLedger, caplog: pytest.LogCaptureFixture
) -> None:
    def listen(_state: Tally, _entries: Sequence[Entry]) -> None:
        raise RuntimeError("nobody home")

    writer = Writer(
        ledger=ledger,
        reading=READING,
        head=READING.start,
        clock=lambda: START_MS,
        on_published=listen,
    )
    done(writer.submit(count("1", 1)))
    done(writer.submit(count("1", 2)))
    writer.close()
    assert writer.state.counts == {"1": 2}
    assert len([record for record in caplog.records if "listener" in record.message]) == 2


def test_side_changes_go_with_their_request_or_not_at_all(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    beside = (META.put("venue", "http://10.0.0.5"),)
    refused = msgspec.structs.replace(confirm("1"), beside=beside)
    assert isinstance(refusal_of(writer.submit(refused)), Refusal)
    assert ledger.side == {}
    accepted = msgspec.structs.replace(count("1", 1, key="k"), beside=beside)
    done(writer.submit(accepted))
    assert ledger.side == {("meta", "venue"): b"http://10.0.0.5"}
    writer.write(META.remove("venue")).result(WAIT_S)
    assert done(writer.submit(accepted)).replayed
    assert ledger.side == {}  # a retry does not bring back what was removed since


def test_a_phone_that_hangs_up_has_still_sent_its_report(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    with Held(writer.submit):
        future = writer.submit(count("1", 1))
        assert not future.cancel()
    done(future)
    assert len(ledger.committed) == 1


def test_closing_stores_what_was_submitted_and_then_takes_no_more(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    with Held(writer.submit):
        futures = [writer.submit(count("1", n)) for n in range(300)]
        closing = threading.Thread(target=writer.close)
        closing.start()
    closing.join(WAIT_S)
    assert all(future.done() for future in futures)
    assert len(ledger.committed) == 300
    assert isinstance(refusal_of(writer.submit(count("1", 1))), StoreClosed)
    writer.close()  # twice is once


def test_work_between_transactions_comes_in_its_turn(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    with Held(writer.submit):
        writer.submit(count("1", 1))
        between = writer.alone(lambda: len(ledger.committed))
        after = writer.submit(count("1", 2))
        broken = writer.alone(lambda: 1 // 0)
    done(after)
    assert between.result(WAIT_S) == 1
    assert isinstance(broken.exception(WAIT_S), ZeroDivisionError)


def test_only_reports_keep_the_devices_time(writer: Writer[Tally]) -> None:
    mixed = msgspec.structs.replace(
        saying(Counted(lane="1", reps=1), Published(revision=1)),
        seen_at_ms=START_MS - 5000,
        clock_error_ms=-120,
    )
    report, decision = done(writer.submit(mixed)).entries
    assert (report.seen_at_ms, report.clock_error_ms) == (START_MS - 5000, -120)
    assert (decision.seen_at_ms, decision.clock_error_ms) == (None, None)


def test_what_is_folded_live_is_what_reading_back_gives(
    writer: Writer[Tally], ledger: MemoryLedger
) -> None:
    done(writer.submit(count("1", 42)))
    (row,) = ledger.committed
    assert CODEC.body(row.entry) == Counted(lane="1", reps=42)
