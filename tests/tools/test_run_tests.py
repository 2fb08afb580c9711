from collections import Counter
from pathlib import Path

import pytest

import run_tests
from run_tests import Stage

REPORT = """<?xml version="1.0"?>
<testsuites><testsuite name="pytest" errors="1" failures="2" skipped="3" tests="10"/></testsuites>
"""


def test_outcomes_are_read_from_the_report(tmp_path: Path) -> None:
    report = tmp_path / "unit.xml"
    report.write_text(REPORT, encoding="utf-8")
    expected = Counter(failed=2, errors=1, skipped=3, passed=4)
    assert run_tests._outcomes(report) == expected


def test_stage_without_a_report_counts_no_test(tmp_path: Path) -> None:
    assert run_tests._outcomes(tmp_path / "absent.xml") == Counter()


def test_summary_names_each_stage_and_ends_in_the_sum() -> None:
    stages = [
        Stage("check", 0, 12.04),
        Stage("unit", 1, 30.5, Counter(passed=40, failed=1)),
        Stage("browser", 0, 8.0, Counter(passed=2, skipped=1)),
    ]
    lines = run_tests.summary(stages).splitlines()
    assert "check         12.0  well" in lines
    assert "unit          30.5  with status 1" in lines
    assert lines[-1].strip("= ") == "1 failed, 42 passed, 1 skipped in 50.54s"


def test_summary_owns_up_to_no_tests() -> None:
    last = run_tests.summary([Stage("check", 0, 1.0)]).splitlines()[-1]
    assert last.strip("= ") == "no tests ran in 1.00s"


def test_stage_that_selects_no_test_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "test_one.py").write_text("def test_one(): pass\n", encoding="utf-8")
    monkeypatch.setattr(run_tests, "ROOT", tmp_path)
    stage = run_tests.run_pytest("unit", "absent", tmp_path / "none.xml")
    assert stage.status != 0
    assert stage.outcomes["passed"] == 0


def test_stage_counts_what_it_ran(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "test_one.py").write_text("def test_one(): pass\n", encoding="utf-8")
    monkeypatch.setattr(run_tests, "ROOT", tmp_path)
    stage = run_tests.run_pytest("unit", "not absent", tmp_path / "one.xml")
    assert (stage.status, stage.outcomes["passed"]) == (0, 1)


def test_a_stage_keeps_what_it_compiles(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = "import sys\n\n\ndef test_one(): assert not sys.dont_write_bytecode\n"
    (tmp_path / "test_one.py").write_text(text, encoding="utf-8")
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setattr(run_tests, "ROOT", tmp_path)
    assert run_tests.run_pytest("unit", "not absent", tmp_path / "one.xml").status == 0


def test_a_stage_of_few_is_told_where_its_tests_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "tests"
    folder.mkdir()
    (folder / "test_plain.py").write_text("def test_one(): pass\n", encoding="utf-8")
    disk = folder / "test_disk.py"
    disk.write_text("import pytest\n\npytestmark = pytest.mark.store\n", encoding="utf-8")
    monkeypatch.setattr(run_tests, "ROOT", tmp_path)
    assert run_tests._files("store") == [str(disk)]
    assert run_tests._files("unit") == []
