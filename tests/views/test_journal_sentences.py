"""Every rule of the journal has a sentence, and it can be made from the facts that are given."""

import ast
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import msgspec
import pytest

import callroom.journal
from callroom.journal import META, Request, verify
from callroom.journal.store import (
    AskedReadOnly,
    BookInUse,
    BookIsReadOnly,
    BookMissing,
    Damaged,
    FileInTheWay,
    KeyConflict,
    NewerBook,
    NotABook,
    NotStored,
    NotWritten,
    OlderBook,
    Row,
    StoreClosed,
    Unfoldable,
    UnsafeFolder,
)
from callroom.journal.store.errors import BadAddress, DatabaseFault, FileOnly, NoDriver
from callroom.journal.store.side import MAX_VALUE_BYTES
from callroom.journal.stores.dump import load_book
from callroom.model import BadInput, CallroomError, Finding
from callroom.views.sentences import SENTENCES, sentence
from callroom.views.sentences import journal as own
from tests.journal.counting import CODEC, READING, START_MS, Confirmed, Counted, Tally
from tests.journal.test_verify import Told, changed, entry, sealed, sound

BOOK = Path("gala.book")


def refusal_of(work: Callable[[], object]) -> CallroomError:
    with pytest.raises(CallroomError) as refused:
        work()
    return refused.value


def ask(*, key: str = "k", seen_at_ms: int | None = None) -> Request[Tally]:
    return Request(
        actor="a", device="d", key=key, content=b"", decide=lambda _: [], seen_at_ms=seen_at_ms
    )


def refusals() -> Iterable[CallroomError]:
    newer = NewerBook(BOOK, 9, 1)
    yield from (
        AskedReadOnly(BOOK),
        BookInUse(BOOK, 8080),
        BookIsReadOnly(newer),
        BookMissing(BOOK),
        Damaged(BOOK, "malformed"),
        FileInTheWay(BOOK),
        KeyConflict("pad-1", "k"),
        newer,
        NotABook(BOOK),
        NotStored("disk full"),
        NotWritten(BOOK, "disk full"),
        OlderBook(BOOK, 1, 2),
        StoreClosed(),
        Unfoldable(3, "poison", "TypeError()"),
        UnsafeFolder(BOOK, "Shared", "cloud"),
        BadAddress("mysql://host/book"),
        DatabaseFault("host/callroom/gala", "connection refused"),
        NoDriver(),
        FileOnly("host/callroom/gala"),
    )
    yield refusal_of(lambda: ask(key=""))
    yield refusal_of(lambda: ask(seen_at_ms=2**60))
    yield refusal_of(lambda: META.put("x", "half \ud800"))
    yield refusal_of(lambda: META.put("x", "x" * (MAX_VALUE_BYTES + 1)))
    yield refusal_of(lambda: CODEC.encode(Counted(lane="1", reps=-1)))
    yield refusal_of(lambda: CODEC.decode("lane.weighed", 1, b"{}"))
    yield refusal_of(lambda: CODEC.decode("lane.counted", 2, b"{}"))
    yield refusal_of(lambda: CODEC.decode("lane.counted", 1, b"{}"))


class Broken(Told):
    """A book that breaks off."""

    def damage(self) -> list[str]:
        return ["row 3 missing from index"]

    def rows(self) -> Iterator[Row]:
        yield from super().rows()
        raise Damaged(BOOK, "malformed")


def findings() -> Iterable[Finding]:
    one = entry(1, Confirmed(lane="1"), key="k")
    late = msgspec.structs.replace(one, at_ms=START_MS + 5000)
    for rows, printed in (
        (changed(0, actor="x"), (1, "0000")),
        ([*sound()[:-1], msgspec.structs.replace(sound()[-1], seal=b"")], (7, "0000")),
        (sealed([entry(2, Confirmed(lane="1")), one]), None),
        (sealed([one, msgspec.structs.replace(one, seq=2)]), None),
        (sealed([entry(1, Confirmed(lane="1"), part=1)]), None),
        (sealed([one], [entry(2, Confirmed(lane="1"), key="k", part=1)]), None),
        (sealed([msgspec.structs.replace(one, at_ms=0)]), None),
        (sealed([late, entry(2, Confirmed(lane="1"))]), None),
    ):
        yield from verify(Told(rows), READING, printed_seal=printed)
    yield from verify(Broken(sound()), READING)
    bad = refusal_of(lambda: load_book(Path("/nowhere.book"), [("songs", {})], READING))
    assert isinstance(bad, BadInput)
    yield from bad.findings


def test_every_rule_is_said_from_the_facts_it_gives() -> None:
    said: list[CallroomError | Finding] = [*refusals(), *findings()]
    for one in said:
        text = sentence(one)
        assert one.rule in SENTENCES, one.rule
        assert "{" not in text
        assert not text.startswith("journal.")
    assert {one.rule for one in said} == set(own.SENTENCES)


def test_every_rule_in_the_source_has_a_sentence() -> None:
    folder = Path(callroom.journal.__file__).parent
    rules = {
        node.value
        for path in folder.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and node.value.startswith("journal.")
        and node.value.count(" ") == 0
    }
    assert rules == set(own.SENTENCES)
