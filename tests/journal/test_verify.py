"""What `verify` finds, and of what it speaks only against a printed seal."""

import hashlib
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from pathlib import Path

import msgspec
import pytest

from callroom.journal import Entry, Seal, verify
from callroom.journal.store import BookMissing, Row, seal_over
from callroom.journal.stores import inspected
from callroom.model import Finding
from tests.journal.counting import (
    CODEC,
    READING,
    START_MS,
    Confirmed,
    Counted,
    Tally,
    confirm,
    count,
    saying,
)
from tests.journal.disk import WAIT_S, opened, verified


class Told:
    """Rows as told, without a disk."""

    def __init__(self, rows: Iterable[Row]) -> None:
        self._rows = list(rows)

    def damage(self) -> list[str]:
        return []

    def rows(self) -> Iterator[Row]:
        return iter(self._rows)


def entry(seq: int, body: msgspec.Struct, *, key: str = "", part: int = 0) -> Entry:
    written = CODEC.encode(body)
    return Entry(
        seq=seq,
        at_ms=START_MS,
        actor="judge",
        device="pad-1",
        key=key or f"k{seq}",
        part=part,
        kind=written.kind,
        version=written.version,
        data=written.data,
    )


def sealed(*transactions: Iterable[Entry]) -> list[Row]:
    """Rows of transactions, with their digests and seals."""
    rows: list[Row] = []
    previous = bytes(32)
    for transaction in transactions:
        new = [Row(one, b"d" * 32 if one.part == 0 else b"") for one in transaction]
        previous = seal_over(previous, new)
        rows += [*new[:-1], msgspec.structs.replace(new[-1], seal=previous)]
    return rows


def rules(rows: Iterable[Row], printed_seal: tuple[int, str] | None = None) -> list[str]:
    found = verify(Told(rows), READING, printed_seal=printed_seal)
    return [finding.rule for finding in found]


def sound() -> list[Row]:
    return sealed(
        [entry(1, Counted(lane="1", reps=7))],
        [
            entry(2, Counted(lane="2", reps=8), key="p", part=0),
            entry(5, Confirmed(lane="2"), key="p", part=1),
            entry(6, Confirmed(lane="1")),
        ],
        [entry(9, Counted(lane="3", reps=9))],
    )


def changed(at: int, **fields: object) -> list[Row]:
    """The sound journal with one entry changed after it was sealed."""
    rows = sound()
    rows[at] = msgspec.structs.replace(
        rows[at], entry=msgspec.structs.replace(rows[at].entry, **fields)
    )
    return rows


def test_a_sound_journal_has_no_findings_and_may_have_gaps() -> None:
    assert rules(sound()) == []
    assert rules([]) == []


@pytest.mark.parametrize(
    "fields",
    [
        {"data": b'{"lane":"1","reps":8}'},
        {"actor": "somebody else"},
        {"device": "pad-2"},
        {"at_ms": START_MS + 17},
        {"seen_at_ms": 1},
        {"clock_error_ms": 1},
    ],
)
def test_any_stored_byte_changed_breaks_one_seal(fields: dict[str, object]) -> None:
    findings = verify(Told(changed(0, **fields)), READING)
    (error,) = (finding for finding in findings if finding.severity == "error")
    assert error.rule == "journal.seal_broken"
    assert error.facts == {"first": 1, "last": 1}


def test_a_changed_request_digest_breaks_the_seal() -> None:
    rows = sound()
    rows[4] = msgspec.structs.replace(rows[4], request=b"e" * 32)
    assert rules(rows) == ["journal.seal_broken"]


def test_an_entry_taken_out_or_put_in_breaks_the_seal() -> None:
    rows = sound()
    assert rules(rows[:1] + rows[2:]) == ["journal.part_missing", "journal.seal_broken"]
    put_in = Row(entry(3, Counted(lane="4", reps=1)), b"d" * 32)
    assert "journal.seal_broken" in rules([rows[0], put_in, *rows[1:]])


def test_entries_after_the_last_seal() -> None:
    rows = sound()
    rows[-1] = msgspec.structs.replace(rows[-1], seal=b"")
    assert rules(rows) == ["journal.unsealed"]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        (
            sealed([entry(2, Counted(lane="1", reps=1)), entry(1, Counted(lane="1", reps=1))]),
            "journal.order_broken",
        ),
        (
            sealed([entry(1, Counted(lane="1", reps=1), key="k"), entry(2, Counted(lane="1", reps=1), key="k")]),
            "journal.key_twice",
        ),
        (
            sealed([entry(1, Counted(lane="1", reps=1), part=1)]),
            "journal.part_missing",
        ),
        (
            sealed(
                [entry(1, Counted(lane="1", reps=1), key="k")],
                [entry(2, Confirmed(lane="1"), key="k", part=1)],
            ),
            "journal.request_torn",
        ),
        (
            sealed([msgspec.structs.replace(entry(1, Confirmed(lane="1")), at_ms=0)]),
            "journal.time_absurd",
        ),
        (
            sealed([msgspec.structs.replace(entry(1, Confirmed(lane="1")), kind="lane.weighed")]),
            "journal.kind_unknown",
        ),
        (
            sealed([msgspec.structs.replace(entry(1, Confirmed(lane="1")), version=7)]),
            "journal.version_newer",
        ),
        (
            sealed([msgspec.structs.replace(entry(1, Confirmed(lane="1")), data=b'{"lane":1}')]),
            "journal.data_bad",
        ),
        (
            sealed([msgspec.structs.replace(entry(1, Confirmed(lane="1")), data=b"\xff")]),
            "journal.data_bad",
        ),
        (
            sealed([msgspec.structs.replace(entry(1, Confirmed(lane="1")), kind="poison", data=b"{}")]),
            "journal.unfoldable",
        ),
    ],
)  # fmt: skip
def test_a_well_sealed_journal_can_still_be_wrong(rows: list[Row], expected: str) -> None:
    assert rules(rows) == [expected]


def test_a_clock_put_back_is_a_note_only() -> None:
    late = msgspec.structs.replace(entry(1, Confirmed(lane="1")), at_ms=START_MS + 3_600_000)
    (finding,) = verify(Told(sealed([late, entry(2, Confirmed(lane="2"))])), READING)
    assert (finding.rule, finding.severity) == ("journal.clock_put_back", "note")
    assert finding.facts["back_ms"] == 3_600_000


def test_a_seal_made_to_fit_again_is_tampering_only_against_paper() -> None:
    original, forged = sound(), sealed(
        [entry(1, Counted(lane="1", reps=70))],
        [row.entry for row in sound()[1:4]],
        [sound()[4].entry],
    )  # fmt: skip
    printed = Seal(6, original[3].seal).printed()
    assert rules(forged) == []
    assert rules(original, (6, printed)) == []
    assert rules(original, (6, printed.upper().replace("-", " "))) == []
    assert rules(forged, (6, printed)) == ["journal.tampered"]
    assert rules(original, (9, printed)) == ["journal.tampered"]
    # A number at which nothing was sealed, and a seal too short to say anything.
    assert rules(original, (5, printed)) == ["journal.tampered_missing"]
    assert rules(original, (6, printed[:9])) == ["journal.tampered"]
    assert rules(original, (6, "")) == ["journal.tampered"]


def test_a_changed_entry_under_the_printed_seal_is_told_both_ways() -> None:
    printed = Seal(1, sound()[0].seal).printed()
    found = rules(changed(0, data=b'{"lane":"1","reps":8}'), (1, printed))
    assert found == ["journal.seal_broken", "journal.tampered"]


def test_further_invariants_of_the_state_are_asked() -> None:
    def nobody_has_nine(tally: Tally) -> list[Finding]:
        return [
            Finding(rule="lane.nine", severity="warning", subject=f"lane.{lane}")
            for lane, reps in tally.counts.items()
            if reps == 9
        ]

    found = verify(Told(sound()), READING, check_state=nobody_has_nine)
    assert [finding.subject for finding in found] == ["lane.3"]


def test_the_printed_form_of_a_seal() -> None:
    seal = Seal(3, bytes(range(32)))
    assert seal.printed() == "0001-0203-0405-0607-0809"
    assert seal.matches(seal.printed())
    assert seal.matches(seal.digest.hex())
    assert not seal.matches("0001-0203-0405-0607")
    assert not seal.matches("0001-0203-0405-0607-0808")


def test_the_seal_is_what_its_description_says() -> None:
    """Recomputed from the description alone, with a digest made by hand."""
    one = Row(entry(1, Counted(lane="Ä", reps=7), key="k"), b"\x01\x02")
    text = (
        b"1:1,13:1780000000000,5:judge,5:pad-1,1:k,1:0,12:lane.counted,1:1,"
        b'22:{"lane":"\xc3\x84","reps":7},-,-,2:\x01\x02,'
    )
    assert seal_over(bytes(32), [one]) == hashlib.sha256(bytes(32) + text).digest()


# ---- on disk ---------------------------------------------------------------------------------


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "gala.book"
    with closing(opened(path)) as store:
        for lane in range(400):
            store.submit(count(str(lane), lane)).result(WAIT_S)
        store.submit(saying(Counted(lane="1", reps=1), Confirmed(lane="1"))).result(WAIT_S)
        store.submit(confirm("2")).result(WAIT_S)
    return path


def changing(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        for statement in ("DROP TRIGGER journal_no_update", "DROP TRIGGER journal_no_delete"):
            connection.execute(statement)
        for statement in statements:
            connection.execute(statement)
        connection.commit()


@pytest.mark.store
def test_a_sound_book(path: Path) -> None:
    assert verified(path) == []
    with closing(opened(path)) as store:
        store.submit(count("1", 3)).result(WAIT_S)
        assert verified(path) == []  # while it is in use
        seal = store.seal_at(store.state.seq)
    assert seal is not None
    assert verified(path, (seal.seq, seal.printed())) == []


@pytest.mark.store
def test_a_row_changed_by_hand(path: Path) -> None:
    changing(path, "UPDATE journal SET data = replace(data, '17', '18') WHERE seq = 18")
    (finding,) = verified(path)
    assert (finding.rule, finding.subject) == ("journal.seal_broken", "entry.18")


@pytest.mark.store
def test_text_that_is_no_text(path: Path) -> None:
    changing(path, "UPDATE journal SET actor = CAST(x'ff41' AS TEXT) WHERE seq = 5")
    assert [finding.rule for finding in verified(path)] == ["journal.seal_broken"]


@pytest.mark.store
@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(slice(4096 * 3, None), id="all but the first pages"),
        pytest.param(slice(4096 * 9, 4096 * 10), id="a page in the middle"),
        pytest.param(slice(100, 4096), id="the schema"),
        pytest.param(slice(0, 16), id="the first bytes"),
        pytest.param(slice(0, None), id="everything"),
    ],
)
def test_damaged_pages_are_told_plainly(path: Path, damage: slice) -> None:
    content = bytearray(path.read_bytes())
    content[damage] = b"\xa5" * len(content[damage])
    path.write_bytes(content)
    findings = verified(path)
    assert findings
    assert any(finding.severity == "error" for finding in findings)


@pytest.mark.store
def test_a_book_cut_short_is_told_plainly(path: Path) -> None:
    content = path.read_bytes()
    path.write_bytes(content[: len(content) // 2])
    assert {finding.severity for finding in verified(path)} == {"error"}


@pytest.mark.store
def test_what_is_no_book_is_told_plainly(path: Path, tmp_path: Path) -> None:
    path.write_text("Dear diary, " * 1000)
    (finding,) = verified(path)
    assert (finding.rule, finding.facts) == ("journal.not_a_book", {"path": str(path)})
    with pytest.raises(BookMissing), inspected(tmp_path / "nothing.book"):
        pass
