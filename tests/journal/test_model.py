"""Any sequence of requests gives the same answers and the same State on disk as in memory."""

from collections.abc import Sequence
from concurrent.futures import Future
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.journal import Receipt, Request
from callroom.journal.store import KeyConflict, Writer
from callroom.model import Refusal
from tests.journal.counting import (
    READING,
    START_MS,
    Confirmed,
    Counted,
    Poison,
    Published,
    Tally,
    confirm,
    count,
    publish,
    saying,
)
from tests.journal.disk import WAIT_S, opened, verified
from tests.journal.memory import Held, MemoryLedger

lanes = st.sampled_from(["1", "2", "3"])
keys = st.sampled_from([f"k{n}" for n in range(8)])
requests = st.one_of(
    st.builds(lambda lane, reps, key: count(lane, reps, key=key), lanes, st.integers(0, 3), keys),
    st.builds(lambda lane, key: confirm(lane, key=key), lanes, keys),
    st.builds(lambda after, key: publish(after, key=key), st.integers(0, 3), keys),
    st.builds(
        lambda lane, key: saying(Counted(lane=lane, reps=9), Confirmed(lane=lane), key=key),
        lanes,
        keys,
    ),
    st.builds(lambda lane, key: saying(Counted(lane=lane, reps=9), Poison(), key=key), lanes, keys),
)
batches = st.lists(st.lists(requests, min_size=1, max_size=6), max_size=6)

Said = tuple[str, tuple[tuple[str, int, bytes], ...]]


class Model:
    """What the journal should do, said in the plainest way: no batches, no digests, no threads."""

    def __init__(self) -> None:
        self.state = Tally()
        self._stored: dict[tuple[str, str], tuple[bytes, Said]] = {}

    def ask(self, request: Request[Tally]) -> Said:
        if request.identity in self._stored:
            content, said = self._stored[request.identity]
            return ("again", said[1]) if content == request.content else ("conflict", ())
        try:
            bodies = request.decide(self.state)
            after = self._after(bodies)
        except (Refusal, TypeError) as fault:
            return type(fault).__name__, ()
        parts = tuple(
            (
                type(body).__name__,
                self.state.seq + 1 + part,
                msgspec.json.encode(body, order="sorted"),
            )
            for part, body in enumerate(bodies)
        )
        self.state = after
        self._stored[request.identity] = (request.content, ("stored", parts))
        return "stored", parts

    def _after(self, bodies: Sequence[msgspec.Struct]) -> Tally:
        state = self.state
        for body in bodies:
            seq = state.seq + 1
            if isinstance(body, Counted):
                counts = {**state.counts, body.lane: body.reps}
                state = msgspec.structs.replace(state, seq=seq, counts=counts)
            elif isinstance(body, Confirmed):
                confirmed = {**state.confirmed, body.lane: seq}
                state = msgspec.structs.replace(state, seq=seq, confirmed=confirmed)
            elif isinstance(body, Published):
                state = msgspec.structs.replace(state, seq=seq, revision=body.revision)
            else:
                raise TypeError
        return state


NAMES = {"lane.counted": "Counted", "lane.confirmed": "Confirmed", "plan.published": "Published"}


def said_by(future: Future[Receipt]) -> Said:
    fault = future.exception(WAIT_S)
    if fault is not None:
        return "conflict" if isinstance(fault, KeyConflict) else type(fault).__name__, ()
    receipt = future.result()
    parts = tuple((NAMES[entry.kind], entry.seq, entry.data) for entry in receipt.entries)
    return "again" if receipt.replayed else "stored", parts


def expected(asked: list[list[Request[Tally]]]) -> tuple[list[Said], Tally]:
    model = Model()
    return [model.ask(request) for batch in asked for request in batch], model.state


# Stale is a Refusal with a name of its own; the model raises the very same class.
@given(batches)
def test_the_writer_does_what_the_model_says(asked: list[list[Request[Tally]]]) -> None:
    ledger = MemoryLedger()
    writer = Writer(ledger=ledger, reading=READING, head=READING.start, clock=lambda: START_MS)
    said: list[Said] = []
    for batch in asked:
        with Held(writer.submit):
            futures = [writer.submit(request) for request in batch]
        said += [said_by(future) for future in futures]
    writer.close()
    assert (said, writer.state) == expected(asked)


@pytest.mark.store
@settings(max_examples=40)
@given(batches, st.integers(0, 6))
def test_a_book_folds_to_the_same_state_as_memory(
    asked: list[list[Request[Tally]]], reopen_before: int
) -> None:
    said: list[Said] = []
    with TemporaryDirectory() as folder:
        path = Path(folder) / "gala.book"
        store = opened(path)
        for number, batch in enumerate(asked):
            if number == reopen_before:
                store.close()
                store = opened(path)
            with Held(store.submit):
                futures = [store.submit(request) for request in batch]
            said += [said_by(future) for future in futures]
        live = store.state
        store.close()
        with closing(opened(path)) as again:
            assert again.state == live
        assert verified(path) == []
    assert (said, live) == expected(asked)
