"""Results with capped times tell the pace they were made with."""

import math

import numpy as np
import pytest
from scipy import stats  # type: ignore[import-untyped]

from callroom.forecast import calibrate, forecast_workout
from callroom.forecast.calibration import fit_censored, student_t95
from callroom.forecast.course import course_of
from callroom.forecast.race import race
from callroom.forecast.summary import log_moments
from callroom.model import CallroomError
from callroom.model.forecast import WorkoutForecast
from tests.forecast.building import FOURS, MOVEMENTS, athletes_of, block, loads, part_of, task
from tests.forecast.building import workout_of as workout

CAP_S = 370
PART = part_of(
    block(
        task("thruster", 21, 15, 9, loads=loads("29", "43")), task("burpee", 21, 15, 9), rounds=3
    ),
    cap_s=CAP_S,
)


def told(paces: dict[str, int] | None = None) -> WorkoutForecast:
    return forecast_workout(
        workout(PART),
        FOURS,
        MOVEMENTS,
        generator=np.random.default_rng(1),
        lanes=6,
        level=0.5,
        paces=paces or {},
    )


def test_known_paces_lie_in_nine_of_ten_of_their_intervals() -> None:
    # 400 divisions of 14 teams, each with a pace of its own between 0.85 and 1.2, whose times
    # are cut off to whole seconds and stopped at the cap. With a true coverage of 90 % the
    # number covered is binomial, within the bounds in 998 of 1000 runs with other seeds (about
    # 0.853 to 0.943 of the intervals).
    expected = told()
    course = course_of(PART, FOURS, MOVEMENTS, athletes_of(teams=400 * 14, seed=77))
    times = race(course, cap_s=9999, horizon_s=9999).finish_s.reshape(400, 14)
    paces = np.random.default_rng(9).uniform(0.85, 1.2, 400)
    covered: list[bool] = []
    stopped = 0
    for pace, heat in zip(paces, times * paces[:, np.newaxis], strict=True):
        finished = [int(time) for time in heat if time <= CAP_S]
        if len(finished) < 3:
            continue  # too few to tell
        stopped += 14 - len(finished)
        found = calibrate(expected, "a", finished=finished, stopped=14 - len(finished))
        assert found.low_permille <= found.permille <= found.high_permille
        covered.append(found.low_permille <= 1000 * pace <= found.high_permille)
    assert len(covered) > 380
    assert stopped > 0.15 * 400 * 14  # the cap does bite
    low, high = stats.binom.ppf([0.001, 0.999], len(covered), 0.9)
    assert low <= sum(covered) <= high


def test_leaving_the_capped_out_would_make_the_pace_too_fast() -> None:
    expected = told()
    course = course_of(PART, FOURS, MOVEMENTS, athletes_of(teams=2000, seed=78))
    times = 1.1 * race(course, cap_s=9999, horizon_s=9999).finish_s
    finished = [int(time) for time in times if time <= CAP_S]
    stopped = times.size - len(finished)
    with_them = calibrate(expected, "a", finished=finished, stopped=stopped)
    without = calibrate(expected, "a", finished=finished)
    assert with_them.permille == pytest.approx(1100, abs=12)
    assert without.permille < with_them.permille - 20
    assert (with_them.teams, with_them.finished) == (2000, len(finished))


def test_a_forecast_at_the_calibrated_pace_meets_the_results() -> None:
    before = told()
    after = told({"a": 1100})
    assert before.parts[0].finish_s.p50 is not None
    assert after.parts[0].finish_s.p50 == pytest.approx(1.1 * before.parts[0].finish_s.p50, abs=1)
    assert after.parts[0].pace_permille == 1100
    results = [300, 320, 340, 365]
    first = calibrate(before, "a", finished=results, stopped=2)
    again = calibrate(after, "a", finished=results, stopped=2)
    assert again.permille == pytest.approx(first.permille, abs=3)
    assert after.parts[0].under_cap_percent < before.parts[0].under_cap_percent


def test_less_work_in_the_same_time_is_a_slower_pace() -> None:
    rounds = part_of(block(task("burpee", 10), open_ended=True), cap_s=300, kind="work")
    expected = forecast_workout(
        workout(rounds), FOURS, MOVEMENTS,
        generator=np.random.default_rng(1), lanes=6, level=0.5,
    )  # fmt: skip
    usual = expected.parts[0].counts.p50
    assert usual is not None
    fewer = [round(usual * share) for share in (0.75, 0.8, 0.85)]
    assert calibrate(expected, "a", finished=fewer).permille == pytest.approx(1250, abs=20)


def test_two_results_are_too_few() -> None:
    with pytest.raises(CallroomError, match=r"forecast\.too_few_finished"):
        calibrate(told(), "a", finished=[300, 310], stopped=12)


@pytest.mark.parametrize("seed", range(6))
def test_the_fit_is_that_of_scipy(seed: int) -> None:
    drawn = np.random.default_rng(seed).normal(6, 0.1, 30)
    limit = 6.05
    below = [float(value) for value in drawn if value <= limit]
    stopped = drawn.size - len(below)
    data = stats.CensoredData(uncensored=below, right=[limit] * stopped)
    mean, sd = stats.norm.fit(data)
    found = fit_censored(below, limit, stopped)
    assert found.mean == pytest.approx(mean, abs=1e-3)
    assert found.sd == pytest.approx(sd, abs=1e-3)


def test_without_censoring_the_interval_is_that_of_students_t() -> None:
    drawn = [float(value) for value in np.random.default_rng(3).normal(6, 0.1, 12)]
    found = fit_censored(drawn, 99.0, 0)
    low, high = stats.t.interval(
        0.9, 11, loc=np.mean(drawn), scale=np.std(drawn, ddof=1) / math.sqrt(12)
    )
    assert (found.low, found.high) == pytest.approx((low, high), abs=2e-4)


@pytest.mark.parametrize("freedom", [2, 3, 4, 6, 10, 20, 60])
def test_students_t(freedom: int) -> None:
    assert student_t95(freedom) == pytest.approx(stats.t.ppf(0.95, freedom), rel=0.004)


def test_moments_of_logarithms_see_past_teams_that_never_finish() -> None:
    times = np.exp(np.random.default_rng(5).normal(6, 0.1, 20_000))
    cut = np.where(times > np.quantile(times, 0.8), np.inf, times)
    assert log_moments(times) == pytest.approx((6000, 100), abs=3)
    assert log_moments(cut) == log_moments(times)
    assert log_moments(np.full(10, np.inf)) == (0, 0)
