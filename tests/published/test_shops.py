"""The timetable model on published shop instances; see ``data/scheduling.toml``."""

from typing import Any

import pytest

from callroom.planner import Limits, Problem, Timetable, check_timetable
from callroom.planner.solve import solve
from tests.planner.shops import instances, job_shop, open_shop

JOB_SHOPS, OPEN_SHOPS = instances("job_shop"), instances("open_shop")
QUICK = ("ft06", "la01", "la02", "la03", "la04", "la05")
LONG = ("ft10", "la16", "la17", "la18", "la19", "la20", "abz5", "abz6")
BENCHED = ("orb01",)  # ten seconds and more: proven by the benchmark


def proven(problem: Problem, work: int = 30) -> Timetable:
    """Solve to proof; the timetable passes the independent check."""
    answer = solve(problem, Limits(work=work))
    assert answer.status == "solved"
    assert check_timetable(problem, answer) == ()
    finish = answer.aim("finish")
    assert finish is not None
    assert finish.proven
    assert finish.value_s == answer.finish_s
    return answer


@pytest.mark.parametrize("name", QUICK)
def test_job_shops_end_at_the_published_optimum(name: str) -> None:
    row: dict[str, Any] = JOB_SHOPS[name]
    problem = job_shop(row["machines_by_job"], row["durations_by_job"])
    assert proven(problem).finish_s == row["optimum"]


@pytest.mark.slow
@pytest.mark.parametrize("name", LONG)
def test_ten_by_ten_job_shops_end_at_the_published_optimum(name: str) -> None:
    row = JOB_SHOPS[name]
    problem = job_shop(row["machines_by_job"], row["durations_by_job"])
    assert proven(problem, work=120).finish_s == row["optimum"]


def test_no_job_shop_is_left_out() -> None:
    assert set(QUICK) | set(LONG) | set(BENCHED) == set(JOB_SHOPS)


@pytest.mark.parametrize("name", OPEN_SHOPS)
def test_open_shops_end_at_the_published_optimum(name: str) -> None:
    row = OPEN_SHOPS[name]
    assert proven(open_shop(row["durations_job_by_machine"])).finish_s == row["optimum"]
