"""Run the benchmarks: print a table of their figures and write ``bench/results.json``.

A benchmark is a module ``bench/bench_*.py`` with a function ``figures(*, quick)`` that returns
figure names and numbers. Names are unique over all benchmarks. Generators, seeds and by-hand
baselines belong beside the benchmark and are committed before what they measure.
"""

from __future__ import annotations

import argparse
import importlib
import json
import sys
import time
import tomllib
from pathlib import Path
from typing import Protocol, cast

HERE = Path(__file__).resolve().parent
RESULTS = HERE / "results.json"
BARS = HERE / "bars.toml"


class Benchmark(Protocol):
    """What a benchmark module offers."""

    def figures(self, *, quick: bool) -> dict[str, float]:
        """Measure, on smaller inputs when ``quick``; return numbers by figure name."""


def measure(names: list[str], *, quick: bool) -> dict[str, float]:
    """Run the named benchmarks one after the other and put their figures together."""
    results: dict[str, float] = {}
    for name in names:
        print(f"{name} ...", end="", file=sys.stderr, flush=True)
        started = time.monotonic()
        benchmark = cast("Benchmark", importlib.import_module(name))
        figures = benchmark.figures(quick=quick)
        print(f" {time.monotonic() - started:.1f} s", file=sys.stderr, flush=True)
        twice = sorted(results.keys() & figures.keys())
        if twice:
            sys.exit(f"{name} gives figures that another benchmark gave already: {twice}")
        results.update(figures)
    return results


def table(results: dict[str, float]) -> str:
    """Lay the figures out in columns, numbers to the right, with the bar of those that have one."""
    bars = tomllib.loads(BARS.read_text(encoding="utf-8")) if BARS.exists() else {}
    width = max(map(len, results))
    return "\n".join(
        f"{name:<{width}}  {value:>14,.6g}{_against(name, value, bars)}"
        for name, value in results.items()
    )


def _against(name: str, value: float, bars: dict[str, dict[str, float]]) -> str:
    most, least = bars.get("at_most", {}).get(name), bars.get("at_least", {}).get(name)
    if most is not None:
        return f"  <= {most:g}" if value <= most else f"  OVER {most:g}"
    if least is not None:
        return f"  >= {least:g}" if value >= least else f"  UNDER {least:g}"
    return ""


def main() -> None:
    """Measure everything, or only the benchmarks named, which then writes no results."""
    known = sorted(path.stem for path in HERE.glob("bench_*.py"))
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument(
        "--quick", action="store_true", help="smaller inputs; marked in the results"
    )
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"one or more of {known}")
    chosen = parser.parse_args()
    unknown = sorted(set(chosen.names) - set(known))
    if unknown or not known:
        sys.exit(f"No benchmark named {unknown}; there are: {known}")

    results = dict(sorted(measure(chosen.names or known, quick=chosen.quick).items()))
    print(table(results))
    if chosen.quick:
        print("(quick: smaller inputs than `make bench`)")
    if not chosen.names:
        marked = {"quick": int(chosen.quick), **results}
        RESULTS.write_text(json.dumps(marked, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
