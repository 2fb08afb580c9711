"""Whether a book still is what it was: read, folded and sealed as it should be.

Damage and wrong seals are told as what they are. Of tampering there is talk only against a
seal that was printed: whoever can change a book can also make its seals agree again, but
not change the paper on the wall.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, Generic, TypeVar

from callroom.journal.codec import Undecodable
from callroom.journal.store.errors import Damaged, NotABook
from callroom.journal.store.port import Builder, Inspected
from callroom.journal.store.replay import Reading
from callroom.journal.store.seal import GENESIS, Row, Seal, seal_over
from callroom.model.finding import Fact, Finding, Severity

StateT = TypeVar("StateT")

EARLIEST_MS = 1_577_836_800_000
"""2020-01-01, UTC: before Callroom existed, so only a wrong clock can say so."""

LATEST_MS = 4_102_444_800_000
"""2100-01-01, UTC: beyond any event that is planned today."""


def verify(
    book: Inspected,
    reading: Reading[StateT],
    *,
    printed_seal: tuple[int, str] | None = None,
    check_state: Callable[[StateT], Iterable[Finding]] | None = None,
) -> list[Finding]:
    """Return everything that is wrong with a book; nothing if it is sound.

    Parameters
    ----------
    book
        The book, opened by ``journal.stores.inspected``.
    reading
        How its rows become State.
    printed_seal
        The entry number and the seal as printed on a result sheet.
    check_state
        Further invariants of the State that the whole journal folds to.
    """
    try:
        findings = [_error("journal.pages_damaged", "book", {"reason": it}) for it in book.damage()]
    except NotABook as fault:
        return [_error(fault.rule, "book", fault.facts)]
    check = _Check(reading, printed_seal)
    try:
        for row in book.rows():
            findings.extend(check.row(row))
    except Damaged as fault:
        findings.append(_error("journal.ends_early", f"entry.{check.last_seq}", fault.facts))
    findings.extend(check.end())
    if check_state is not None:
        findings.extend(check_state(check.state))
    return findings


class _Check(Generic[StateT]):
    """What is known of the rows so far."""

    def __init__(self, reading: Reading[StateT], printed_seal: tuple[int, str] | None) -> None:
        self._codec = reading.codec
        self._builder: Builder[StateT] = reading.folder.begin(reading.empty)
        self._folding = True
        self._printed = printed_seal
        self._previous = GENESIS
        self._open: list[Row] = []
        self._parts: dict[tuple[str, str], int] = {}
        self._last_at_ms = 0
        self.last_seq = 0

    @property
    def state(self) -> StateT:
        """The State folded so far; up to the first entry that could not be."""
        return self._builder.freeze()

    def row(self, row: Row) -> Iterator[Finding]:
        """Check one row in order of `seq`."""
        yield from self._order(row)
        yield from self._time(row)
        yield from self._key(row)
        yield from self._meaning(row)
        yield from self._seal(row)

    def end(self) -> Iterator[Finding]:
        """Check what can only be said at the end."""
        if self._open:
            facts: dict[str, Fact] = {"count": len(self._open)}
            yield _error("journal.unsealed", f"entry.{self._open[0].entry.seq}", facts)
        if self._printed is not None:
            seq, given = self._printed
            yield _error("journal.tampered_missing", f"entry.{seq}", {"seq": seq, "printed": given})

    def _order(self, row: Row) -> Iterator[Finding]:
        seq = row.entry.seq
        if seq <= self.last_seq:
            yield _error(
                "journal.order_broken", f"entry.{seq}", {"seq": seq, "before": self.last_seq}
            )
        self.last_seq = max(self.last_seq, seq)

    def _time(self, row: Row) -> Iterator[Finding]:
        at_ms, subject = row.entry.at_ms, f"entry.{row.entry.seq}"
        if not EARLIEST_MS <= at_ms <= LATEST_MS:
            yield _error("journal.time_absurd", subject, {"at_ms": at_ms})
        elif at_ms < self._last_at_ms:
            # Laptops' clocks are put right during the day; nothing is ordered by them.
            facts: dict[str, Fact] = {"at_ms": at_ms, "back_ms": self._last_at_ms - at_ms}
            yield _finding("journal.clock_put_back", "note", subject, facts)
        self._last_at_ms = at_ms

    def _key(self, row: Row) -> Iterator[Finding]:
        entry = row.entry
        expected = self._parts.get((entry.device, entry.key), 0)
        facts: dict[str, Fact] = {
            "device": ascii(entry.device),
            "key": ascii(entry.key),
            "part": entry.part,
            "expected": expected,
        }
        if entry.part < expected:
            yield _error("journal.key_twice", f"entry.{entry.seq}", facts)
        elif entry.part > expected or (entry.part == 0) != bool(row.request):
            yield _error("journal.part_missing", f"entry.{entry.seq}", facts)
        elif entry.part > 0 and not self._follows(row):
            yield _error("journal.request_torn", f"entry.{entry.seq}", facts)
        self._parts[entry.device, entry.key] = max(expected, entry.part + 1)

    def _follows(self, row: Row) -> bool:
        """Whether the part before this one is in the same transaction."""
        before = self._open[-1].entry if self._open else None
        return before is not None and (before.device, before.key, before.part) == (
            row.entry.device,
            row.entry.key,
            row.entry.part - 1,
        )

    def _meaning(self, row: Row) -> Iterator[Finding]:
        entry = row.entry
        try:
            body: Any = self._codec.body(entry)
        except Undecodable as fault:
            self._folding = False
            yield _error(fault.rule, f"entry.{entry.seq}", fault.facts)
            return
        if not self._folding:
            return
        try:
            self._builder.apply(entry, body)
        except Exception as fault:  # noqa: BLE001 - verify tells of every fault, it has none
            self._folding = False
            facts: dict[str, Fact] = {"seq": entry.seq, "kind": entry.kind, "reason": repr(fault)}
            yield _error("journal.unfoldable", f"entry.{entry.seq}", facts)

    def _seal(self, row: Row) -> Iterator[Finding]:
        self._open.append(row)
        if not row.seal:
            return
        expected = seal_over(self._previous, self._open)
        if row.seal != expected:
            facts: dict[str, Fact] = {"first": self._open[0].entry.seq, "last": row.entry.seq}
            yield _error("journal.seal_broken", f"entry.{row.entry.seq}", facts)
        # Go on from what is stored, so that one change is one finding.
        self._previous = row.seal
        self._open = []
        yield from self._against_paper(Seal(row.entry.seq, row.seal), expected)

    def _against_paper(self, stored: Seal, expected: bytes) -> Iterator[Finding]:
        if self._printed is None or self._printed[0] != stored.seq:
            return
        seq, given = self._printed
        self._printed = None
        if not Seal(seq, expected).matches(given):
            facts: dict[str, Fact] = {"seq": seq, "printed": given, "found": stored.printed()}
            yield _error("journal.tampered", f"entry.{seq}", facts)


def _finding(rule: str, severity: Severity, subject: str, facts: dict[str, Fact]) -> Finding:
    return Finding(rule=rule, severity=severity, subject=subject, facts=facts)


def _error(rule: str, subject: str, facts: Mapping[str, Fact]) -> Finding:
    return Finding(rule=rule, severity="error", subject=subject, facts=facts)
