"""Repetitions at a share of the maximum; see ``data/strength.toml`` for each source."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from callroom.forecast.strength import drained_per_rep

DATA: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "strength.toml").read_text(encoding="utf-8")
)
FORMULAS = DATA["formulas"]
OTHERS = ("brzycki", "lombardi", "mayhew", "wathan", "oconner", "lander")


def possible(share: float) -> float:
    """The repetitions in one go at a share of the maximum, by our model."""
    return 1 / drained_per_rep(share)


def test_our_formula_is_the_published_one() -> None:
    for repetitions, expected in zip(FORMULAS["repetitions"], FORMULAS["epley"], strict=True):
        # Estimates have three decimals.
        assert possible(100 / expected) == pytest.approx(repetitions, abs=1e-3)


def test_it_lies_among_the_other_published_formulas() -> None:
    for column, repetitions in enumerate(FORMULAS["repetitions"]):
        estimates = [FORMULAS[name][column] for name in OTHERS]
        assert min(estimates) <= FORMULAS["epley"][column] <= max(estimates), repetitions


def test_repetitions_agree_with_the_published_chart() -> None:
    # The chart has whole percents; two repetitions are what formulas differ by at most.
    for repetitions, percent in zip(
        DATA["chart"]["repetitions"], DATA["chart"]["percent"], strict=True
    ):
        if 1 < repetitions <= DATA["validity"]["most_repetitions"]:
            assert possible(percent / 100) == pytest.approx(repetitions, abs=2)
