"""The share still at work against a published table; see ``data/kaplan_meier.toml``."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from scipy import stats  # type: ignore[import-untyped]

from callroom.forecast import still_at_work

DATA: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "kaplan_meier.toml").read_text(encoding="utf-8")
)


def test_the_published_table() -> None:
    points = still_at_work(DATA["finished"], DATA["stopped"])
    table = DATA["estimate"]
    assert [one.time for one in points] == table["time"]
    assert [one.finished for one in points] == table["finished"]
    assert [one.at_risk for one in points] == table["at_risk"]
    # Textbook values are rounded to three decimals, and errors to six.
    assert [one.still for one in points] == pytest.approx(table["still"], abs=5.1e-4)
    assert [one.error for one in points] == pytest.approx(table["error"], abs=1e-6)


def test_without_censoring_it_is_the_share_that_is_left() -> None:
    points = still_at_work(DATA["placebo"]["finished"], ())
    at_10 = [one for one in points if one.time <= 10][-1]
    assert at_10.still == pytest.approx(DATA["placebo"]["still_at_10"], abs=5e-4)
    assert at_10.error == pytest.approx(DATA["placebo"]["error_at_10"], abs=5e-4)
    assert points[-1].still == 0
    assert points[-1].error == 0


def test_it_is_that_of_scipy() -> None:
    data = stats.CensoredData(uncensored=DATA["finished"], right=DATA["stopped"])
    found = stats.ecdf(data).sf
    points = still_at_work(DATA["finished"], DATA["stopped"])
    for point in points:
        assert float(found.evaluate(point.time)) == pytest.approx(point.still)
