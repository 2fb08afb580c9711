"""Athletes, paces and what work costs them."""

import numpy as np
import pytest

from callroom.forecast.athletes import draw_athletes, line_up
from callroom.forecast.demand import UNABLE_S, demand
from callroom.forecast.pace import UNKNOWN_PACE_S, usual_pace
from callroom.forecast.parameters import athlete_model, work_model
from callroom.model import CategoryCount, Division
from callroom.standards import all_movements
from tests.forecast.building import FOURS, MOVEMENTS, athletes_of


def test_athletes_spread_about_the_level_and_teams_have_something_in_common() -> None:
    athletes = athletes_of(teams=20_000, level=0.3)
    levels = athlete_model().levels
    assert athletes.categories == line_up(FOURS) == ("women", "women", "men", "men")
    spread = np.hypot(np.hypot(levels.team_sd, levels.athlete_sd), levels.own_sd)
    for trait in (athletes.strength, athletes.skill, athletes.endurance):
        assert trait.shape == (4, 20_000)
        assert trait.mean() == pytest.approx(0.3, abs=0.01)
        assert trait.std() == pytest.approx(spread, rel=0.02)
    mates = np.corrcoef(athletes.strength[0], athletes.strength[1])[0, 1]
    assert mates == pytest.approx(levels.team_sd**2 / spread**2, abs=0.03)


def test_any_category_has_athletes() -> None:
    division = Division(id="d", name="D", make_up=(CategoryCount(category="juniors", count=2),))
    athletes = draw_athletes(division, level=0, teams=5, generator=np.random.default_rng(1))
    assert demand(MOVEMENTS["row"], "metres", [None, None], athletes).pace_s.shape == (2, 5)


def test_paces_of_the_levels_are_the_librarys() -> None:
    usual, gain = usual_pace(MOVEMENTS["burpee"], "reps", "men")
    assert usual == pytest.approx(4)
    assert usual * np.exp(gain) == pytest.approx(2.6)
    metre, _ = usual_pace(MOVEMENTS["run"], "metres", "women")
    assert metre == pytest.approx(1 / 3.5)
    assert usual_pace(None, "reps", "men") == (UNKNOWN_PACE_S["reps"], 0.0)


def test_every_movement_of_the_library_has_a_pace_of_its_own() -> None:
    for movement in all_movements():
        for way in movement.counting:
            if way.unit != "seconds":
                usual, gain = usual_pace(movement, way.unit, "women")
                assert (usual, gain) != (UNKNOWN_PACE_S[way.unit], 0.0)
                assert 0.05 < usual < 60
                assert -1 < gain < 0


def test_movements_with_parameters_of_their_own_are_in_the_library() -> None:
    known = {movement.id for movement in all_movements()} | {"dumbbell_thruster"}
    work = work_model()
    for table in (work.effort_of, work.most_of, work.fresh_of, work.able_from):
        assert set(table) <= known


def test_who_cannot_lift_it_never_gets_it_done() -> None:
    athletes = athletes_of(teams=500)
    asked = demand(MOVEMENTS["power_clean"], "reps", [70e3, 30e3, 70e3, 40e3], athletes)
    assert not asked.able[0].all()
    assert asked.able[1].all()
    assert (asked.pace_s[~asked.able] == UNABLE_S).all()
    # A heavier share of the maximum is slower and takes more out of the muscles.
    assert (asked.drain[2] > asked.drain[3]).mean() > 0.95
