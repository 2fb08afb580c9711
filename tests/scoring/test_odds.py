"""Chances of the podium: what must hold of them, and the model they rest on."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings

from callroom.model.forecast import Histogram, PartForecast, Quantiles
from callroom.scoring import DivisionScores, Score, gate_of, standings_of
from callroom.scoring.latent import ability, common_share
from callroom.scoring.odds import PodiumOdds, podium_odds
from tests.scoring.test_needs import awaited_in_last
from tests.scoring.test_podium import TEAMS, division, divisions

PLACES = {"points": {"kind": "places"}, "tie_chain": ["most_firsts"]}
NONE = Quantiles(p10=None, p25=None, p50=None, p75=None, p90=None)


def odds(scored: DivisionScores, seed: int = 1, draws: int = 4000) -> PodiumOdds:
    found = podium_odds(scored, {}, np.random.default_rng(seed), draws=draws)
    assert found is not None
    return found


def of(found: PodiumOdds, team: str) -> tuple[int, int, int]:
    return next(one.places for one in found.teams if one.team == team)


@settings(max_examples=30, deadline=None)
@given(divisions())
def test_with_nothing_to_come_the_chances_are_the_standings(drawn: Any) -> None:
    """Every rule about ties, gaps and teams that left is the same as in the exact standings."""
    scored, _ = drawn
    found = odds(scored, draws=3)
    for row in standings_of(scored).rows:
        expected = tuple(1000 if row.place == place else 0 for place in (1, 2, 3))
        assert of(found, row.team) == expected


def test_who_is_certain_has_all_the_chances() -> None:
    keys: dict[str, list[int | None]] = {f"w{at}": [100, 200, 300, 400, 500] for at in range(1, 8)}
    scored = awaited_in_last(division(keys, PLACES))
    part = scored.parts[-1].terms.part.id
    gate = gate_of(scored, {("w7", part, team): ("missing",) for team in TEAMS})
    # Every team takes a place in the plays, so the gate may be in more doubt than they are.
    found = odds(scored)
    for one in gate.podium:
        if one.certain:
            assert of(found, one.team)[one.place - 1] == 1000
    assert of(found, "Ash") == (1000, 0, 0)


def test_before_any_result_all_teams_are_alike() -> None:
    keys: dict[str, list[int | None]] = {"w1": [1] * 5, "w2": [1] * 5}
    scored = division(keys, PLACES)
    waiting = tuple(
        part.__class__(part.terms, tuple(Score(team, "awaited") for team in TEAMS))
        for part in scored.parts
    )
    found = odds(
        DivisionScores(division="d", rules=scored.rules, field=scored.field, parts=waiting)
    )
    # 4000 plays of a chance of about 3 in 5: three standard errors are 23 in 1000.
    assert all(abs(one.podium - found.teams[0].podium) < 50 for one in found.teams)
    assert found.to_come == (("w1", "a"), ("w2", "a"))


def test_a_better_record_has_better_chances_and_a_seed_repeats_them() -> None:
    keys: dict[str, list[int | None]] = {
        "w1": [100, 200, 300, 400, 500],
        "w2": [100, 200, 300, 400, 500],
        "w3": [1] * 5,
    }
    scored = awaited_in_last(division(keys, PLACES))
    found = odds(scored)
    assert [one.team for one in found.teams][:2] == ["Ash", "Birch"]
    assert of(found, "Ash")[0] > 700
    assert of(found, "Fir") == (0, 0, 0) or of(found, "Fir")[2] < 100
    assert odds(scored) == found
    assert odds(scored, seed=2) != found


def test_chances_agree_with_the_model_played_one_by_one() -> None:
    keys: dict[str, list[int | None]] = {"w1": [100, 200, 300], "w2": [1] * 3}
    scored = awaited_in_last(division(keys, PLACES))
    found = odds(scored, draws=20_000)
    rng = np.random.default_rng(7)
    z = {"Ash": 0.967421566, "Birch": 0.0, "Cedar": -0.967421566}
    wins = dict.fromkeys(z, 0)
    plays = 4000
    for _ in range(plays):
        drawn = {
            team: rng.normal(0.5 * mean, np.sqrt(0.25)) + rng.normal(0, np.sqrt(0.5))
            for team, mean in z.items()
        }
        order = sorted(drawn, key=lambda team: -drawn[team])
        points = {team: at + order.index(team) + 2 for at, team in enumerate(z)}
        best = min(points.values())
        level = [team for team in z if points[team] == best]
        firsts = {team: (at == 0) + (order.index(team) == 0) for at, team in enumerate(z)}
        most = max(firsts[team] for team in level)
        for team in level:
            wins[team] += firsts[team] == most
    for team in z:
        assert of(found, team)[0] == pytest.approx(1000 * wins[team] / plays, abs=35)


def test_a_known_result_in_a_part_to_come_is_kept() -> None:
    keys: dict[str, list[int | None]] = {"w1": [100, 100, 100], "w2": [1] * 3}
    scored = awaited_in_last(division(keys, PLACES))
    last = scored.parts[-1]
    known = (Score("Ash", "worked", 1, work=10_000), *last.scores[1:])
    scored = DivisionScores(
        division="d",
        rules=scored.rules,
        field=scored.field,
        parts=(scored.parts[0], last.__class__(last.terms, known)),
    )
    forecast = PartForecast(
        part="a",
        kind="work",
        cap_s=600,
        pace_permille=1000,
        finish_s=NONE,
        under_cap_percent=0,
        counts=NONE,
        steps=(),
        stall=None,
        mean_log=5000,
        sd_log=200,
        picture=Histogram(start=0, width=1, counts=(), beyond=0),
    )
    found = podium_odds(scored, {("w2", "a"): forecast}, np.random.default_rng(1))
    assert found is not None
    assert of(found, "Ash") == (1000, 0, 0)


def test_points_that_hang_on_results_have_no_chances() -> None:
    keys: dict[str, list[int | None]] = {"w1": [100, 200]}
    rules = {"points": {"kind": "formula", "formula": "result"}}
    assert podium_odds(division(keys, rules), {}, np.random.default_rng(1)) is None


def test_what_parts_have_in_common_is_drawn_from_results_towards_a_half() -> None:
    one = {"a": 1.0, "b": 0.0, "c": -1.0}
    other = {"a": -1.0, "b": 0.0, "c": 1.0}
    assert common_share([]) == 0.5
    assert common_share([one, one]) == pytest.approx((4 * 0.5 + 1) / 5)
    assert common_share([one, other]) == pytest.approx((4 * 0.5 - 1) / 5)


def test_an_ability_is_the_mean_drawn_towards_the_middle() -> None:
    scores = [{"a": 1.0}, {"a": 2.0}, {}]
    known = ability(scores, "a", 0.5)
    assert known.mean == pytest.approx(2 * 0.5 / 1.5 * 1.5)
    assert known.variance == pytest.approx(0.5 * (1 - 2 * 0.5 / 1.5))
    unknown = ability(scores, "b", 0.5)
    assert (unknown.mean, unknown.variance) == (0.0, 0.5)
