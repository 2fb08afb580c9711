"""Results as files: nothing computes, numbers stay numbers, and everything reads back."""

import csv
import io
import json
from datetime import UTC, date, datetime
from typing import Any

import pytest
import python_calamine
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.exchange import (
    ResultPart,
    ResultRow,
    Results,
    results_csv,
    results_json,
    results_xlsx,
)
from callroom.exchange.csv_out import csv_bytes, guarded
from tests.exchange.sheets import sheet_part

PART = ResultPart(
    workout="w1",
    workout_name="Set the table",
    part="a",
    place=1,
    points="87.5",
    result="7:32",
    outcome="finished",
    time_ms=452_300,
    tiebreak_ms=200_000,
    confirmed=True,
)
ROWS = (
    ResultRow(
        division="open", division_name="Open", team="T01", team_name="Salt", place=1,
        standing="ranked", points="187.5",
        parts=(PART, replace(PART, workout="w2", part_name="Rinse", result="-5", points="-3")),
    ),
    ResultRow(
        division="open", division_name="Open", team="T02", team_name='=cmd|"/c calc"!A1',
        standing="withdrawn", parts=(replace(PART, place=None, points=""), PART),
    ),
    ResultRow(division="pairs", division_name="Pairs", team="T03", team_name="Zoë", parts=(PART, PART)),
)  # fmt: skip
RESULTS = Results(
    event="day",
    event_name="Long Table Day",
    day=date(2027, 5, 15),
    as_of=datetime(2027, 5, 15, 16, 5, tzinfo=UTC),
    rows=ROWS,
    seal="3fa9-01c2",
)


def table(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def sheets(data: bytes) -> dict[str, list[list[Any]]]:
    book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
    return {name: book.get_sheet_by_name(name).to_python() for name in book.sheet_names}


# First signs, bypasses and the exception: OWASP, CSV Injection, community page, and hardening
# notes in a public pull request (https://github.com/OWASP/www-community/pull/1116,
# https://github.com/workglow-dev/sec/pull/119).
@pytest.mark.parametrize(
    ("text", "safe"),
    [
        ("=1+1", "'=1+1"),
        ("+1-1", "'+1-1"),
        ("-1+1", "'-1+1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("\t=1", "'\t'=1"),
        ("\r=1", "'\r'=1"),
        ("\n=1", "'\n'=1"),
        ("\tplain", "'\tplain"),
        ("  =1+1", "'  =1+1"),
        ("\u00a0=1+1", "'\u00a0=1+1"),
        ("\u200b=1+1", "'\u200b=1+1"),
        ("\x00=1+1", "'\x00=1+1"),
        ("\uff1d1+1", "'\uff1d1+1"),
        ("fine\n=1+1", "fine\n'=1+1"),
        ("fine\r\n +1+1", "fine\r\n' +1+1"),
        ("fine;=1+1", "fine;'=1+1"),
        ("-5", "-5"),
        ("-5.25", "-5.25"),
        ("-5,25", "-5,25"),
        ("-5 kg", "'-5 kg"),
        ("cap + 23 done", "cap + 23 done"),
        ("3-2-1", "3-2-1"),
        ("", ""),
        ("Łódź", "Łódź"),
    ],
)
def test_what_a_spreadsheet_would_compute_is_guarded(text: str, safe: str) -> None:
    assert guarded(text) == safe


@given(st.text("=+-@\t\r\n ;,'\"ab1\u00a0\uff0b", max_size=12))
def test_no_line_and_no_field_of_any_text_begins_a_formula(text: str) -> None:
    number = text.lstrip("-").replace(".", "").isdigit()
    for piece in guarded(text).replace(";", "\n").replace("\t", "\n").splitlines():
        first = piece.lstrip()[:1]
        assert number or first not in {"=", "+", "-", "@", "\uff0b"}


@given(st.lists(st.lists(st.text("ab=\"',;\n\r\t é", max_size=8), min_size=1), max_size=4))
def test_a_csv_reads_back_with_only_the_guards_added(rows: list[list[str]]) -> None:
    data = csv_bytes(rows)
    assert data.startswith(b"\xef\xbb\xbf")
    assert table(data) == [[guarded(cell) for cell in row] for row in rows]


def test_a_csv_has_a_row_for_each_team_with_numbers_as_numbers() -> None:
    data = results_csv(RESULTS)
    head, first, second, third = table(data)
    assert head[:6] == ["Division", "Place", "Team id", "Team", "Points", "Standing"]
    assert head[6:12] == [
        "Set the table, result",
        "Set the table, place",
        "Set the table, points",
        "Set the table: Rinse, result",
        "Set the table: Rinse, place",
        "Set the table: Rinse, points",
    ]
    assert first[:5] == ["Open", "1", "T01", "Salt", "187.5"]
    assert second[3] == '\'=cmd|"/c calc"!A1'
    assert third[3] == "Zoë"
    assert b'"Open",1,"T01","Salt",187.5,"ranked","7:32",1,87.5,"-5",1,-3\r\n' in data


def test_a_workbook_has_a_sheet_for_each_division_and_says_what_it_is() -> None:
    pages = sheets(results_xlsx(RESULTS))
    assert list(pages) == ["Open", "Pairs", "About"]
    assert pages["Open"][1][:8] == ["Open", 1.0, "T01", "Salt", 187.5, "ranked", "7:32", 1.0]
    assert pages["Open"][1][11] == -3.0
    assert pages["Open"][2][3] == '=cmd|"/c calc"!A1'
    assert ["Seal", "3fa9-01c2"] in pages["About"]
    assert ["State", "not final"] in pages["About"]


def test_a_workbook_holds_no_formula_and_keeps_dangerous_texts_as_texts() -> None:
    data = results_xlsx(RESULTS)
    part = sheet_part(data)
    assert b"<f>" not in part
    assert part.count(b't="s"') > 10


def test_the_same_results_give_the_same_workbook() -> None:
    assert results_xlsx(RESULTS) == results_xlsx(RESULTS)


def test_json_gives_exact_values_and_its_version() -> None:
    read = json.loads(results_json(RESULTS))
    assert (read["format"], read["version"]) == ("callroom results", 1)
    assert read["as_of"] == "2027-05-15T16:05:00Z"
    assert read["rows"][0]["points"] == "187.5"
    assert read["rows"][0]["parts"][0]["time_ms"] == 452_300


def test_results_of_a_rehearsal_or_an_invented_event_say_so_everywhere() -> None:
    results = replace(RESULTS, rehearsal=True, invented=True)
    assert "REHEARSAL" in table(results_csv(results))[1][-1]
    assert "invented" in table(results_csv(results))[1][-1]
    about = sheets(results_xlsx(results))["About"]
    assert any("REHEARSAL" in line[0] for line in about)
    assert json.loads(results_json(results))["rehearsal"] is True
    assert b"REHEARSAL" not in results_csv(RESULTS)


def test_headings_are_in_the_words_asked_for() -> None:
    german = {"Place": "Platz", "{part}, place": "{part}, Platz"}
    head = table(results_csv(RESULTS, lambda text: german.get(text, text)))[0]
    assert (head[1], head[7]) == ("Platz", "Set the table, Platz")


def test_odd_names_of_divisions_make_sheets_all_the_same() -> None:
    names = ["a/b", "A?B", "x" * 40, "x" * 50, "History", "''", "About"]
    rows = tuple(
        replace(ROWS[0], division=str(number), division_name=name)
        for number, name in enumerate(names)
    )
    pages = list(sheets(results_xlsx(replace(RESULTS, rows=rows))))
    assert len({name.casefold() for name in pages}) == len(names) + 1
    assert all(len(name) <= 31 for name in pages)


def test_no_teams_give_empty_tables() -> None:
    nothing = replace(RESULTS, rows=())
    assert len(table(results_csv(nothing))) == 1
    assert list(sheets(results_xlsx(nothing))) == ["About"]
