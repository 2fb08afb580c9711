"""The verbs as scripts rely on them: exit codes, JSON on stdout, sentences on stderr."""

import hashlib
from pathlib import Path

import pytest

from callroom.exchange import demo_file
from tests.cli.running import callroom, callroom_apart

pytestmark = pytest.mark.store


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    for name in ("event.toml", "teams.csv", "crew.csv", "kit.csv"):
        (folder / name).write_bytes(demo_file(name))
    return folder


@pytest.fixture(scope="module")
def loaded(folder: Path) -> Path:
    """A book with the demonstration's files, loaded by command."""
    book = folder / "day.book"
    assert callroom("new", book).code == 0
    ran = callroom(
        "load",
        book,
        folder / "event.toml",
        "--teams",
        folder / "teams.csv",
        "--crew",
        folder / "crew.csv",
        "--kit",
        folder / "kit.csv",
        "--json",
    )
    assert ran.code == 0, ran.err
    assert (ran.answer["teams"], ran.answer["crew"]) == (42, 26)
    return book


@pytest.fixture(scope="module")
def planned(loaded: Path) -> Path:
    ran = callroom("plan", loaded, "--seconds", "20", "--json")
    assert ran.code == 0, ran.err
    assert ran.answer["published"]
    assert ran.answer["certificate_s"] <= ran.answer["finish_s"]
    return loaded


def digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_a_book_is_not_made_over_another(loaded: Path) -> None:
    before = digest(loaded)
    ran = callroom("new", loaded)
    assert ran.code == 2
    assert loaded.name in ran.err
    assert digest(loaded) == before


def test_a_faulty_file_loads_nothing_and_names_the_place(loaded: Path, folder: Path) -> None:
    bad = folder / "bad.toml"
    text = demo_file("event.toml").decode().replace('result = "time"', 'result = "tyme"', 1)
    bad.write_text(text, encoding="utf-8")
    line = 1 + text[: text.index('result = "tyme"')].count("\n")
    before = callroom("standings", loaded, "--json").out
    ran = callroom("load", loaded, bad)
    assert ran.code == 2
    assert f"bad.toml, line {line}," in ran.err
    assert "tyme" in ran.err
    assert callroom("standings", loaded, "--json").out == before


def test_a_missing_file_is_named(loaded: Path) -> None:
    ran = callroom("load", loaded, "nowhere.toml")
    assert ran.code == 2
    assert "nowhere.toml" in ran.err


def test_loading_the_same_again_changes_nothing(loaded: Path, folder: Path) -> None:
    ran = callroom("load", loaded, folder / "event.toml", "--json")
    assert ran.code == 0
    assert ran.answer["entries"] == 0


def test_check_says_yes_with_0(planned: Path) -> None:
    ran = callroom("check", planned, "--json")
    assert ran.code == 0, ran.out
    assert all(found["severity"] != "error" for found in ran.answer["findings"])


def test_a_missing_book_is_bad_input() -> None:
    ran = callroom("check", "no-such.book", "--json")
    assert ran.code == 2
    assert "no-such.book" in ran.answer["findings"][0]["sentence"]


def test_a_day_without_teams_is_a_no(tmp_path: Path, folder: Path) -> None:
    book = tmp_path / "empty.book"
    callroom("new", book)
    callroom("load", book, folder / "event.toml")
    assert callroom("plan", book).code == 1


def test_backup_and_verify(planned: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.book"
    assert callroom("backup", planned, copy, "--json").code == 0
    assert callroom("backup", planned, copy).code == 2
    ran = callroom("verify", copy, "--json")
    assert (ran.code, ran.answer["findings"]) == (0, [])


def test_exit_codes_are_those_of_the_process(planned: Path, tmp_path: Path) -> None:
    assert callroom_apart("verify", planned).code == 0
    refused = callroom_apart("check", tmp_path / "no-such.book")
    assert refused.code == 2
    assert "no-such.book" in refused.err
    assert "Traceback" not in refused.err
    assert callroom_apart("--help").out.count("\n  ") >= 12


def test_verify_says_no_to_a_damaged_book(planned: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.book"
    callroom("backup", planned, copy)
    data = bytearray(copy.read_bytes())
    for offset in range(8192, len(data) - 4096, 4096):
        data[offset : offset + 64] = b"\xff" * 64
    copy.write_bytes(data)
    ran = callroom("verify", copy)
    assert ran.code == 1
    assert "Traceback" not in ran.err


def test_export_writes_files_for_others(planned: Path, tmp_path: Path) -> None:
    ran = callroom("export", planned, "--out", tmp_path / "files", "--json")
    assert ran.code == 0, ran.err
    kinds = {Path(name).suffix for name in ran.answer["files"]}
    assert kinds >= {".csv", ".xlsx", ".json", ".ics"}


def test_codes_on_sheets_lead_where_the_server_is(planned: Path, tmp_path: Path) -> None:
    address = "http://192.168.7.7:8000"
    only_day = ("print", planned, "--out", tmp_path / "pack", "--only", "day")
    ran = callroom(*only_day, "--address", address)
    assert ran.code == 0
    assert "no address" not in ran.err
    plain = callroom(*only_day)
    assert "no address" in plain.err
    (path,) = (Path(name) for name in callroom(*only_day, "--json").answer["files"])
    assert path.read_bytes().startswith(b"%PDF")
    assert [path.name for path in (tmp_path / "pack").iterdir()] == ["day.pdf"]
