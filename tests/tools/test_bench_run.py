import json
import subprocess
import sys
from pathlib import Path

import pytest

from build_frontend import ROOT

FIRST = """
def figures(*, quick):
    return {"ratio_b": 0.25 if quick else 0.5}
"""
SECOND = """
def figures(*, quick):
    return {"count_a": 12345}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    source = (ROOT / "bench" / "run.py").read_text(encoding="utf-8")
    (tmp_path / "run.py").write_text(source, encoding="utf-8")
    (tmp_path / "bench_first.py").write_text(FIRST, encoding="utf-8")
    (tmp_path / "bench_second.py").write_text(SECOND, encoding="utf-8")
    return tmp_path


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(folder / "run.py"), *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_results_are_a_flat_object_in_order_of_name(folder: Path) -> None:
    finished = run(folder)
    assert finished.returncode == 0, finished.stderr
    results = json.loads((folder / "results.json").read_text(encoding="utf-8"))
    assert results == {"quick": 0, "count_a": 12345, "ratio_b": 0.5}
    assert [line.split() for line in finished.stdout.splitlines()] == [
        ["count_a", "12,345"],
        ["ratio_b", "0.5"],
    ]


def test_quick_results_are_marked(folder: Path) -> None:
    finished = run(folder, "--quick")
    results = json.loads((folder / "results.json").read_text(encoding="utf-8"))
    assert results == {"quick": 1, "count_a": 12345, "ratio_b": 0.25}
    assert "quick" in finished.stdout


def test_one_benchmark_alone_leaves_the_results_be(folder: Path) -> None:
    finished = run(folder, "bench_second")
    assert finished.stdout.split() == ["count_a", "12,345"]
    assert not (folder / "results.json").exists()


def test_two_benchmarks_with_one_figure_are_refused(folder: Path) -> None:
    (folder / "bench_second.py").write_text(FIRST, encoding="utf-8")
    finished = run(folder)
    assert finished.returncode == 1
    assert "ratio_b" in finished.stderr


def test_unknown_benchmark_is_named(folder: Path) -> None:
    finished = run(folder, "bench_third")
    assert finished.returncode == 1
    assert "bench_third" in finished.stderr


def test_a_figure_beyond_its_bar_is_marked(folder: Path) -> None:
    bars = "[at_most]\ncount_a = 12345\n[at_least]\nratio_b = {}\n"
    for least, said in ((0.4, [">=", "0.4"]), (0.6, ["UNDER", "0.6"])):
        (folder / "bars.toml").write_text(bars.format(least), encoding="utf-8")
        lines = [line.split() for line in run(folder).stdout.splitlines()]
        assert lines == [["count_a", "12,345", "<=", "12345"], ["ratio_b", "0.5", *said]]
    (folder / "bars.toml").write_text("[at_most]\nratio_b = 0.4\n", encoding="utf-8")
    assert run(folder).stdout.splitlines()[1].split()[2:] == ["OVER", "0.4"]
