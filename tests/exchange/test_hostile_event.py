"""Files that are no event file, or want to do harm: refused in words, never half read."""

import re

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from callroom.exchange import demo_file, read_event
from callroom.exchange.event_file import LONGEST_BYTES
from callroom.exchange.faults import MOST_FAULTS
from callroom.model import BadInput, Finding
from callroom.views.sentences import sentence
from tests.exchange.files import HERE, SMALL_EVENT, marked, places, refused

DEMO = demo_file("event.toml")


@pytest.mark.parametrize("data", [b"", b" \n\t\n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_said_to_be_empty(data: bytes) -> None:
    assert places(refused(read_event, data)) == [("file.empty", 0, "")]


def test_a_file_of_another_kind_is_refused() -> None:
    for data in (b"PK\x03\x04" + bytes(200), b"\x89PNG\r\n\x1a\n", bytes(range(256))):
        assert refused(read_event, data)[0].rule in {"file.not_utf8", "toml.unreadable"}


def test_another_encoding_is_placed_at_its_first_byte() -> None:
    data = SMALL_EVENT.replace("Main floor", "Große Halle").encode("cp1252")
    row = SMALL_EVENT.split("\n").index('name = "Main floor"') + 1
    assert places(refused(read_event, data)) == [("file.not_utf8", row, "12")]


def test_half_a_utf_16_file_is_refused() -> None:
    data = b"\xff\xfe" + SMALL_EVENT.encode("utf-16-le")[:-1]
    assert [found.rule for found in refused(read_event, data)] == ["file.not_utf8"]


def test_a_huge_file_is_not_parsed() -> None:
    findings = refused(read_event, b"#" * (LONGEST_BYTES + 1))
    assert [found.rule for found in findings] == ["file.too_large"]
    assert findings[0].facts["given"] == LONGEST_BYTES + 1


SYNTAX = [
    ('cap = "10:00"', f"cap = {HERE}10:00", "toml.unreadable"),
    ('name = "Open"', f'name = "Open{HERE}', "toml.unreadable"),
    ("[floors.main]", f"[floors.main{HERE}", "toml.unreadable"),
    ("lanes = 4", f"lanes = 4{HERE}\nlanes = 5", "toml.twice"),
    ("[rules]", f"[rules]{HERE}\n[rules]", "toml.twice"),
    ('movement = "pull_up"', f"movement = {HERE}pull_up", "toml.unreadable"),
]


@pytest.mark.parametrize(("old", "new", "rule"), SYNTAX)
def test_text_that_is_no_toml_is_placed_and_quoted(old: str, new: str, rule: str) -> None:
    text, row, _ = marked(SMALL_EVENT.replace(old, new, 1))
    found = refused(read_event, text.encode())[0]
    assert found.rule == rule
    given_row = found.facts["row"]
    assert isinstance(given_row, int)
    assert row <= given_row <= row + 1  # the parser stops where the next line begins, or before
    assert str(found.facts["given"]) in text
    assert sentence(found).startswith(f"event.toml, line {given_row}, column ")


def test_deep_nesting_long_digits_and_many_dots_are_refused_in_words() -> None:
    for line in (
        "x = " + "[" * 50_000,
        "x = " + "[" * 500 + "]" * 500,
        "x = " + "9" * 6000,
        "x = 0x" + "f" * 6000,
        "x" + ".x" * 20_000 + " = 1",
        'x = """' + "\\" * 100_001,
        "x = {" * 5000,
    ):
        findings = refused(read_event, (line + "\n" + SMALL_EVENT).encode())
        assert all(len(sentence(found)) < 1000 for found in findings)


def test_a_text_that_turns_direction_is_shown_with_its_code() -> None:
    text = SMALL_EVENT.replace("A small day", "A small \u202eyad")
    found = refused(read_event, text.encode())[0]
    assert found.rule == "toml.text_unseen"
    assert "\u202e" not in sentence(found)
    assert "U+202E" in sentence(found)


def test_right_to_left_names_are_welcome() -> None:
    text = SMALL_EVENT.replace("A small day", "يوم\u200f صغير")
    assert read_event(text.encode()).name == "يوم\u200f صغير"


def test_thousands_of_faults_are_listed_up_to_a_bound_and_counted() -> None:
    many = "\n".join(f"q{number} = 1" for number in range(1000))
    findings = refused(read_event, (many + "\n" + SMALL_EVENT).encode())
    assert len(findings) == MOST_FAULTS + 1
    assert findings[-1].rule == "file.more_faults"
    assert findings[-1].facts["count"] == 1000 - MOST_FAULTS


def test_a_file_name_cannot_forge_a_line() -> None:
    found = refused(read_event, b"", "event\nerror: all is well\u202e.toml")[0]
    assert "\n" not in sentence(found)
    assert "\u202e" not in sentence(found)


TOKENS = re.findall(rb"[A-Za-z_]+|\d+|\"[^\"]*\"|.", DEMO)


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.integers(0, len(DEMO) - 1),
            st.integers(0, 12),
            st.sampled_from(TOKENS) | st.binary(max_size=4),
        ),
        min_size=1,
        max_size=4,
    )
)
def test_a_mangled_file_gives_an_event_or_faults_in_words(
    cuts: list[tuple[int, int, bytes]],
) -> None:
    data = DEMO
    for at, length, instead in cuts:
        data = data[:at] + instead + data[at + length :]
    findings: tuple[Finding, ...] = ()
    try:
        read_event(data)
    except BadInput as fault:
        findings = fault.findings
        event(f"{len(findings)} faults")
    for found in findings:
        assert sentence(found).startswith("event.toml")
