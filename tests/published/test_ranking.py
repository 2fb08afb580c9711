"""Ranks against published methods, and our points formulas against the combined events.

The formulas of the combined events are written in the grammar of our own points formulas and
worked out by it; see ``data/ranking.toml`` and ``data/decathlon.csv`` for each source.
"""

import csv
import tomllib
from collections import Counter
from decimal import Decimal
from fractions import Fraction
from math import floor
from pathlib import Path
from typing import Any

import pytest

from callroom.scoring import places
from callroom.scoring.exact import work_out
from callroom.scoring.formula import read_formula

HERE = Path(__file__).parent / "data"
DATA: dict[str, Any] = tomllib.loads(
    (HERE / "ranking.toml").read_text(encoding="utf-8"), parse_float=Decimal
)
METHODS, EVENTS = DATA["method"], DATA["combined_events"]
TABLES: dict[str, dict[str, tuple[str, ...]]] = {
    sex: {row[0]: tuple(row[1:]) for row in EVENTS[sex]["rows"]} for sex in ("men", "women")
}
DECATHLON = EVENTS["vector"][0]["events"]


def athletes() -> list[dict[str, str]]:
    with (HERE / "decathlon.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if line[0] != "#"))


def formula(sex: str, event: str, *, rounded: bool = True) -> str:
    """A formula of the tables as a director would type it; marks in seconds or metres."""
    kind, _unit, a, b, c = TABLES[sex][event]
    base = {
        "track": f"{b} - result",
        "jump": f"100 * result - {b}",
        "throw": f"result - {b}",
    }[kind]
    text = f"{a} * max(0, {base}) ** {c}"
    return f"floor({text})" if rounded else text


def score(sex: str, event: str, mark: Decimal | str, *, rounded: bool = True) -> Fraction:
    tree = read_formula(formula(sex, event, rounded=rounded))
    return work_out(tree, {"result": Fraction(mark)})


def total(row: dict[str, str]) -> Fraction:
    return sum((score("men", event, row[event]) for event in DECATHLON), Fraction(0))


# ---- ranking methods -------------------------------------------------------------------------


@pytest.mark.parametrize("vector", ["a", "b"])
def test_our_places_are_standard_competition_ranking(vector: str) -> None:
    standard = METHODS["standard"]
    assert places(standard[f"values_{vector}"]) == standard[f"ranks_{vector}"]


@pytest.mark.parametrize("vector", ["a", "b"])
def test_the_other_methods_follow_from_our_places(vector: str) -> None:
    values = METHODS["standard"][f"values_{vector}"]
    ours = [place or 0 for place in places(values)]
    level = Counter(ours)
    best_first = sorted(level)

    modified = [place + level[place] - 1 for place in ours]  # 1334: at least as good
    dense = [best_first.index(place) + 1 for place in ours]  # 1223: distinct better values
    fractional = [Decimal(a + b) / 2 for a, b in zip(ours, modified, strict=True)]
    assert modified == METHODS["modified"][f"ranks_{vector}"]
    assert dense == METHODS["dense"][f"ranks_{vector}"]
    assert fractional == METHODS["fractional"][f"ranks_{vector}"]
    assert sum(fractional) == Decimal(len(values) * (len(values) + 1)) / 2

    ordinal = METHODS["ordinal"][f"ranks_{vector}"]
    seen: Counter[int] = Counter()
    for place, expected in zip(ours, ordinal, strict=True):
        assert place + seen[place] == expected  # 1234: ties in the order given
        seen[place] += 1


# ---- the combined events ---------------------------------------------------------------------


@pytest.mark.parametrize(
    "example", EVENTS["example"], ids=[each["event"] for each in EVENTS["example"]]
)
def test_single_marks_score_as_published(example: dict[str, Any]) -> None:
    assert score(example["sex"], example["event"], example["mark"]) == example["points"]
    if "unrounded" in example:
        exact = score(example["sex"], example["event"], example["mark"], rounded=False)
        assert abs(exact - Fraction(example["unrounded"])) < Fraction(1, 10**7)


@pytest.mark.parametrize(
    "vector",
    EVENTS["vector"],
    ids=[f"{each['sex']}-{each['competition']}" for each in EVENTS["vector"]],
)
def test_whole_competitions_score_as_published(vector: dict[str, Any]) -> None:
    scored = [
        score(vector["sex"], event, mark)
        for event, mark in zip(vector["events"], vector["marks"], strict=True)
    ]
    assert scored == vector["points"]
    assert sum(scored) == vector["total"]


@pytest.mark.parametrize("sex", ["men", "women"])
def test_the_last_mark_that_scores_and_the_first_that_does_not(sex: str) -> None:
    marks = EVENTS[f"last_scoring_mark_{sex}"]["marks"]
    assert len(marks) == len(TABLES[sex])
    for name, mark in marks.items():
        event = name.removesuffix("_s").removesuffix("_m")
        worse = Decimal("0.01") if TABLES[sex][event][0] == "track" else Decimal("-0.01")
        assert score(sex, event, mark) >= 1, name
        assert score(sex, event, mark + worse) == 0, name


def test_the_decathlons_of_2004_but_for_seven_rows() -> None:
    """34 of 41 totals agree. The other seven are not ours to reproduce: their 1500 m is wrong.

    The data set gives the 1500 m of the Decastar to tenths only, as few as a hundredth decides
    a point: Sebrle, Bernard, Warners and Barras are one point off. Martineau and Hernu are
    four points off, as if their 1500 m had been typed about 0.6 s wrong. Clay at the Olympic
    Games stands with 282.00 s, but ran 281.65 s (a report of the day says so), worth the two
    points that are missing.
    """
    rows = athletes()
    different = {
        (row["competition"], row["athlete"]): (total(row), int(row["total"]))
        for row in rows
        if total(row) != int(row["total"])
    }
    exceptions = EVENTS["dataset_prince_exceptions"]["rows"]
    assert len(rows) == EVENTS["dataset_prince"]["rows"] == 41
    assert len(rows) - len(different) == EVENTS["dataset_prince"]["rows_exact"] == 34
    assert different == {(row[0], row[1]): (row[2], row[3]) for row in exceptions}


@pytest.mark.parametrize(
    "exception",
    EVENTS["dataset_prince_exceptions"]["rows"],
    ids=[row[1] for row in EVENTS["dataset_prince_exceptions"]["rows"]],
)
def test_another_1500_m_explains_each_of_the_seven(exception: list[Any]) -> None:
    group, name, recomputed, stated, mark, earliest, latest = exception
    (row,) = (row for row in athletes() if (row["competition"], row["athlete"]) == (group, name))
    assert Decimal(row["1500m"]) == mark
    others = recomputed - score("men", "1500m", mark)
    hundredth = Decimal("0.01")
    assert score("men", "1500m", earliest) == score("men", "1500m", latest) == stated - others
    assert score("men", "1500m", earliest - hundredth) == stated - others + 1
    assert score("men", "1500m", latest + hundredth) == stated - others - 1
    assert not earliest <= mark <= latest


def test_clays_real_1500_m_gives_his_real_total() -> None:
    clay = EVENTS["dataset_prince_clay"]
    (row,) = (
        row for row in athletes() if (row["competition"], row["athlete"]) == ("OlympicG", "Clay")
    )
    assert score("men", "1500m", clay["mark_s"]) == clay["points"]
    assert total({**row, "1500m": str(clay["mark_s"])}) == clay["total"]


def test_no_other_rounding_gives_the_totals() -> None:
    halves_to_even, rounded_once = 0, 0
    for row in athletes():
        exact = [score("men", event, row[event], rounded=False) for event in DECATHLON]
        halves_to_even += sum(map(round, exact)) == int(row["total"])
        rounded_once += floor(sum(exact)) == int(row["total"])
    facts = EVENTS["dataset_prince"]
    assert halves_to_even == facts["rows_exact_round_half_even"] == 0
    assert rounded_once == facts["rows_exact_floor_of_unrounded_sum"] == 0


def test_the_ranks_of_the_decathlons_are_our_places() -> None:
    sizes = []
    for competition in ("Decastar", "OlympicG"):
        rows = [row for row in athletes() if row["competition"] == competition]
        sizes.append(len(rows))
        assert places([-int(row["total"]) for row in rows]) == [int(row["rank"]) for row in rows]
    assert sizes == EVENTS["dataset_prince"]["rows_per_group"]
