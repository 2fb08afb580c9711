"""A load says everything that is wrong with all files at once."""

from pathlib import Path

from callroom.exchange import demo_file
from tests.cli.running import callroom


def test_a_fault_of_the_event_does_not_hide_those_of_the_lists(tmp_path: Path) -> None:
    event = demo_file("event.toml").decode().replace('result = "time"', 'result = "tiem"', 1)
    teams = demo_file("teams.csv").decode().replace("Mixed pairs", "Mixed pears", 1)
    (tmp_path / "event.toml").write_text(event, encoding="utf-8")
    (tmp_path / "teams.csv").write_text(teams, encoding="utf-8")
    book = tmp_path / "day.book"
    assert callroom("new", book).code == 0
    ran = callroom("load", book, tmp_path / "event.toml", "--teams", tmp_path / "teams.csv")
    assert ran.code == 2
    assert '"tiem"' in ran.err
    assert '"Mixed pears"' in ran.err


def test_a_missing_column_is_one_fault_and_not_one_for_every_team(tmp_path: Path) -> None:
    teams = demo_file("teams.csv").decode().replace("Division", "Divsion", 1)
    (tmp_path / "event.toml").write_bytes(demo_file("event.toml"))
    (tmp_path / "teams.csv").write_text(teams, encoding="utf-8")
    book = tmp_path / "day.book"
    assert callroom("new", book).code == 0
    ran = callroom("load", book, tmp_path / "event.toml", "--teams", tmp_path / "teams.csv")
    assert ran.code == 2
    heading, column = [line for line in ran.err.splitlines() if line.startswith("error")]
    assert 'The heading "Divsion" is not known. Did you mean "division"?' in heading
    assert 'The column "division" is missing' in column
