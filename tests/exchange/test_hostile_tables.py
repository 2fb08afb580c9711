"""Tables that are none, or want to do harm: refused in words, never half read."""

import io
import zipfile

import pytest
from hypothesis import event as note
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.exchange import demo_file, read_event, read_teams
from callroom.exchange.table_cells import LONGEST_BYTES
from callroom.exchange.workbook_guard import MOST_COLUMNS, MOST_ROWS, MOST_UNPACKED_BYTES
from callroom.model import BadInput, Finding
from callroom.views.sentences import sentence
from tests.exchange.files import SMALL_EVENT, places, refused
from tests.exchange.sheets import repacked, sheet_part, workbook

EVENT = read_event(SMALL_EVENT.encode())
HEAD = ["Team", "Division", "Athlete", "Category"]
ONE = ["Salt", "Open", "Ada", "Women"]
SOUND = workbook([HEAD, ONE])


def faults(data: bytes) -> tuple[Finding, ...]:
    return refused(read_teams, data, EVENT, "teams.xlsx")


def test_the_sound_workbook_is_sound() -> None:
    assert read_teams(SOUND, EVENT).teams[0].name == "Salt"


@pytest.mark.parametrize(
    ("data", "rule"),
    [
        (b"", "file.empty"),
        (b"  \r\n ", "file.empty"),
        (b"a" * (LONGEST_BYTES + 1), "file.too_large"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "table.old_workbook"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "table.not_text"),
        (b"Team\x00,Division\n", "table.not_text"),
        (b"\xff\xfeT", "table.not_text"),
        (b"Team\x81,Division", "table.not_text"),
        (b"PK\x03\x04" + bytes(100), "table.no_workbook"),
        (SOUND[: len(SOUND) // 2], "table.no_workbook"),
        (b"hello", "table.no_headings"),
    ],
)
def test_what_is_no_table_is_refused(data: bytes, rule: str) -> None:
    findings = faults(data)
    assert [found.rule for found in findings] == [rule]
    assert sentence(findings[0]).startswith("teams.xlsx")


def test_ten_thousand_columns_are_refused_in_either_form() -> None:
    wide = ",".join(str(number) for number in range(10_000)).encode()
    assert places(faults(wide)) == [("table.columns_many", 0, "")]
    sheet = workbook([HEAD, [*ONE, *range(10_000)]])
    found = faults(sheet)[0]
    assert (found.rule, found.facts["given"]) == ("table.columns_many", MOST_COLUMNS + 1)


def test_too_many_rows_are_refused_in_either_form() -> None:
    long = ("\n" * (MOST_ROWS + 2)).encode() + b"Team"
    assert [found.rule for found in faults(long)] == ["table.rows_many"]
    sheet = workbook([HEAD], more=lambda _, page: page.write(MOST_ROWS + 5, 0, "x"))
    assert [found.rule for found in faults(sheet)] == ["table.rows_many"]


def test_one_cell_in_the_farthest_corner_takes_no_memory() -> None:
    for cell in (b'<c r="XFD1048576"><v>1</v></c>', b'<x:c r="XFD1048576"><v>1</v></x:c>'):
        part = sheet_part(SOUND).replace(
            b"</sheetData>", b'<row r="1048576">' + cell + b"</row></sheetData>"
        )
        part = part.replace(b"<worksheet ", b'<worksheet xmlns:x="urn:x" ')
        assert faults(repacked(SOUND, {"xl/worksheets/sheet1.xml": part}))[0].rule in {
            "table.rows_many",
            "table.columns_many",
        }


def test_a_sheet_under_another_path_is_looked_through_as_well() -> None:
    far = sheet_part(SOUND).replace(b'r="A2"', b'r="XFD1048576"')
    links = zipfile.ZipFile(io.BytesIO(SOUND)).read("xl/_rels/workbook.xml.rels")
    hidden = repacked(
        SOUND,
        {
            "xl/other/s.xml": far,
            "xl/_rels/workbook.xml.rels": links.replace(b"worksheets/sheet1.xml", b"other/s.xml"),
        },
    )
    assert faults(hidden)[0].rule in {"table.rows_many", "table.columns_many"}


def test_formats_without_values_far_away_do_no_harm() -> None:
    def more(book: object, page: object) -> None:
        bold = book.add_format({"bold": True})  # type: ignore[attr-defined]
        page.write_blank(100_000, 300, None, bold)  # type: ignore[attr-defined]

    assert len(read_teams(workbook([HEAD, ONE], more=more), EVENT).teams) == 1


def test_an_archive_that_unpacks_without_end_is_refused() -> None:
    bomb = repacked(SOUND, {"xl/bomb.xml": b" " * (MOST_UNPACKED_BYTES + 1)})
    assert len(bomb) < 100_000
    assert [found.rule for found in faults(bomb)] == ["table.workbook_bomb"]


def test_an_archive_that_lies_about_its_sizes_is_refused() -> None:
    bomb = bytearray(repacked(SOUND, {"xl/bomb.xml": b" " * (MOST_UNPACKED_BYTES + 1)}))
    size = (MOST_UNPACKED_BYTES + 1).to_bytes(4, "little")
    while (at := bomb.find(size)) >= 0:
        bomb[at : at + 4] = (10).to_bytes(4, "little")
    assert [found.rule for found in faults(bytes(bomb))] == ["table.no_workbook"]


def test_an_archive_of_thousands_of_parts_is_refused() -> None:
    crowd = repacked(SOUND, {f"xl/p{number}.xml": b"<p/>" for number in range(1100)})
    assert [found.rule for found in faults(crowd)] == ["table.workbook_large"]


def test_entities_are_not_expanded() -> None:
    part = sheet_part(SOUND).replace(
        b"<worksheet ", b'<!DOCTYPE x [<!ENTITY a "aaaaaaaa">]><worksheet ', 1
    )
    found = faults(repacked(SOUND, {"xl/worksheets/sheet1.xml": part}))
    assert [one.rule for one in found] == ["table.no_workbook"]


def test_an_encoding_that_does_not_exist_is_refused() -> None:
    part = sheet_part(SOUND).replace(b"UTF-8", b"UTF-81")
    found = faults(repacked(SOUND, {"xl/worksheets/sheet1.xml": part}))
    assert [one.rule for one in found] == ["table.no_workbook"]


def test_another_archive_is_no_workbook() -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", "<office/>")
    assert [found.rule for found in faults(stream.getvalue())] == ["table.no_workbook"]


def test_formulas_without_a_value_and_error_cells_are_placed() -> None:
    part = sheet_part(SOUND)
    cell = part[part.index(b'<c r="C2"') : part.index(b'<c r="D2"')]
    no_value = part.replace(cell, b'<c r="C2"><f>A1</f></c>')
    assert ("table.formula_without_value", 2, "C") in places(
        faults(repacked(SOUND, {"xl/worksheets/sheet1.xml": no_value}))
    )
    error = part.replace(cell, b'<c r="C2" t="e"><f>1/0</f><v>#DIV/0!</v></c>')
    assert ("table.cell_error", 2, "C") in places(
        faults(repacked(SOUND, {"xl/worksheets/sheet1.xml": error}))
    )


def test_merged_cells_below_the_headings_are_placed_and_above_are_passed_over() -> None:
    data = workbook(
        [[], HEAD, ONE, ["", "Open", "Bo", "Men"]],
        more=lambda _, page: (
            page.merge_range(0, 0, 0, 3, "Our teams"),
            page.merge_range(2, 0, 3, 0, "Salt"),
        ),
    )
    findings = faults(data)
    assert places(findings) == [("table.merged", 3, "A"), ("table.cell_empty", 4, "A")]
    assert "A4" in sentence(findings[0])


def test_a_formula_in_a_csv_is_a_text_like_any_other() -> None:
    text = 'Team,Division,Athlete,Category\n"=HYPERLINK(""http://x.example"")",Open,@ada,Women\n'
    found = read_teams(text.encode(), EVENT)
    assert found.teams[0].name == '=HYPERLINK("http://x.example")'
    assert found.people["P001"].name == "@ada"


def test_no_message_shows_a_sign_that_turns_the_line() -> None:
    text = "Team,Division,Athlete,Category\n\u202eSalt,Op\u202een,Ada\u2066,Wo\x1bmen\n"
    findings = faults(text.encode())
    assert len(findings) == 4
    for found in findings:
        assert not {"\u202e", "\u2066", "\x1b"} & set(sentence(found))


DEMO = demo_file("teams.csv")


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.integers(0, 3000),
            st.integers(0, 30),
            st.sampled_from(
                [b",", b'"', b"\n", b"\r", b";", b"\x00", b"\xff", b"=1", b"\xe2\x80\xae"]
            )
            | st.binary(max_size=4),
        ),
        min_size=1,
        max_size=4,
    )
)
def test_a_mangled_csv_gives_teams_or_faults_in_words(cuts: list[tuple[int, int, bytes]]) -> None:
    data = DEMO[:3000]
    for at, length, instead in cuts:
        data = data[:at] + instead + data[at + length :]
    _read_or_refuse(data)


@settings(max_examples=60)
@given(
    st.sampled_from(["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/sharedStrings.xml",
                     "xl/styles.xml", "xl/_rels/workbook.xml.rels", "[Content_Types].xml"]),
    st.integers(0, 2000),
    st.integers(0, 20),
    st.sampled_from([b"", b'"', b"<", b">", b"</c>", b"<row>", b"9" * 12, b"-1", b"&x;"])
    | st.binary(max_size=4),
)  # fmt: skip
def test_a_mangled_workbook_gives_teams_or_faults_in_words(
    name: str, at: int, length: int, instead: bytes
) -> None:
    part = zipfile.ZipFile(io.BytesIO(SOUND)).read(name)
    at %= len(part)
    _read_or_refuse(repacked(SOUND, {name: part[:at] + instead + part[at + length :]}))


@settings(max_examples=60)
@given(st.integers(0, len(SOUND) - 1), st.binary(min_size=1, max_size=6))
def test_a_damaged_archive_gives_teams_or_faults_in_words(at: int, instead: bytes) -> None:
    _read_or_refuse(SOUND[:at] + instead + SOUND[at + len(instead) :])


def _read_or_refuse(data: bytes) -> None:
    event = read_event(demo_file("event.toml"))
    findings: tuple[Finding, ...] = ()
    try:
        read_teams(data, event)
    except BadInput as fault:
        findings = fault.findings
        note(findings[0].rule)
    for found in findings:
        assert sentence(found).startswith("teams.csv")
