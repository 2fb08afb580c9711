"""A dump gives back what went in, and whatever is wrong with one is named by its line."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.exchange import PlainRow, read_dump, write_dump
from callroom.model import BadInput
from callroom.views.sentences import sentence
from tests.exchange.files import places, refused

ROWS: tuple[PlainRow, ...] = (
    ("meta", {"id": "name", "text": "Mäx"}),
    ("people", {"id": "P1", "text": '{"name":"Ada \\u2028"}'}),
    ("journal", {"seq": 7, "data": '{"a":1.50}', "seen_at_ms": None}),
)
DUMP = b"".join(write_dump(ROWS))

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
rows = st.lists(
    st.tuples(
        texts,
        st.dictionaries(texts, texts | st.integers(-(2**70), 2**70) | st.none(), max_size=4),
    ),
    max_size=6,
)


@given(rows)
def test_whatever_is_dumped_is_read_back(given_rows: list[PlainRow]) -> None:
    assert read_dump(b"".join(write_dump(given_rows))) == tuple(given_rows)


def test_a_dump_is_plain_json_with_a_record_a_line() -> None:
    records = json.loads(DUMP)
    assert records[0] == {"record": "book", "format": "callroom book", "version": 1}
    assert [record["table"] for record in records[1:-1]] == ["meta", "people", "journal"]
    assert records[-1] == {"record": "end", "rows": 3}
    assert DUMP.decode().count("\n") == len(records) + 2


def test_a_dump_that_was_set_out_otherwise_reads_the_same() -> None:
    assert read_dump(json.dumps(json.loads(DUMP), indent=4).encode()) == ROWS
    assert read_dump(json.dumps(json.loads(DUMP)).encode("utf-16")) == ROWS


def broken(old: bytes, new: bytes) -> bytes:
    assert DUMP.count(old) == 1, old
    return DUMP.replace(old, new)


FAULTS = [
    (b"", "dump.no_json", 1, "1"),
    (b"[]", "dump.no_json", 1, "2"),
    (b"{}", "dump.no_json", 1, "1"),
    (b'[{"a": 1}]', "dump.no_dump", 1, "1"),
    (b"[1, 2]", "dump.no_dump", 1, "1"),
    (broken(b'"version":1', b'"version":2'), "dump.other_version", 1, "1"),
    (DUMP[:-4], "dump.no_json", 6, "25"),
    (DUMP[: DUMP.index(b'{"record":"row","table":"journal"')], "dump.no_json", 5, "1"),
    (DUMP + b"x", "dump.no_json", 7, "2"),
    (broken(b'"seq":7', b'"seq":7.0'), "dump.value_odd", 5, "1"),
    (broken(b'"seq":7', b'"seq":true'), "dump.value_odd", 5, "1"),
    (broken(b'"seq":7', b'"seq":[7]'), "dump.value_odd", 5, "1"),
    (broken(b'"seq":7', b'"seq":NaN'), "dump.no_json", 5, "1"),
    (broken(b'"seq":7', b'"seq":' + b"9" * 5000), "dump.no_json", 5, "1"),
    (broken(b'"seq":7', b'"seq":' + b"[" * 100_000), "dump.no_json", 5, "1"),
    (broken(b'"seq":7', b'"seq":7,"seq":8'), "dump.key_twice", 5, "1"),
    (broken(b'"table":"meta"', b'"tabel":"meta"'), "dump.no_row", 3, "1"),
    (broken(b'"table":"meta"', b'"table":5'), "dump.no_row", 3, "1"),
    (broken(b'{"record":"end","rows":3}', b"7"), "dump.not_whole", 6, "1"),
    (broken(b'"rows":3', b'"rows":4'), "dump.rows_missing", 6, "1"),
    (broken("Mäx".encode(), b"M\xffx"), "file.not_utf8", 3, "60"),
]


@pytest.mark.parametrize(("data", "rule", "row", "column"), FAULTS)
def test_a_fault_is_placed_and_nothing_is_half_read(
    data: bytes, rule: str, row: int, column: str
) -> None:
    findings = refused(read_dump, data, "book.json")
    assert places(findings) == [(rule, row, column)]
    assert sentence(findings[0]).startswith(f"book.json, line {row}, column {column}: ")


def test_every_faulty_record_is_named() -> None:
    data = broken(b'"table":"meta"', b'"table":5').replace(b'"seq":7', b'"seq":1.5')
    data = data.replace(b'"rows":3', b'"rows":9')
    assert [rule for rule, _, _ in places(refused(read_dump, data))] == [
        "dump.no_row",
        "dump.value_odd",
        "dump.rows_missing",
    ]


@settings(max_examples=100)
@given(st.integers(0, len(DUMP) - 1), st.integers(0, 8), st.binary(max_size=3))
def test_a_mangled_dump_is_read_or_refused(at: int, length: int, instead: bytes) -> None:
    try:
        read_dump(DUMP[:at] + instead + DUMP[at + length :])
    except BadInput as fault:
        for found in fault.findings:
            sentence(found)
