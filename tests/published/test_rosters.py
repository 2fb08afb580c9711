"""Rotas that reduce to published assignments and rosters; see ``data/assignments.toml``."""

import random
import tomllib
from pathlib import Path

import numpy as np
from ortools.sat.python import cp_model
from scipy.optimize import linear_sum_assignment  # type: ignore[import-untyped]

from callroom.model import Rota, Shift
from callroom.planner import Limits
from callroom.planner.rota import Hand, RotaProblem, make_rota
from callroom.planner.rota.assignment import assign
from callroom.planner.solve.crew import CrewModel, who_works

DATA = tomllib.loads(
    (Path(__file__).parent / "data" / "assignments.toml").read_text(encoding="utf-8")
)
DAY_S = 86_400


def one_each(cost: list[list[int]]) -> RotaProblem:
    """Everybody takes one of the shifts that all run at the same time."""
    shifts = tuple(
        Shift(id=str(c), post="desk", start_s=0, end_s=3600, seat=c + 1)
        for c in range(len(cost[0]))
    )
    hands = tuple(
        Hand(
            id=str(r),
            posts=frozenset({"desk"}),
            costs={str(c): price for c, price in enumerate(row)},
        )
        for r, row in enumerate(cost)
    )
    return RotaProblem(plan_revision=1, shifts=shifts, hands=hands)


def total(cost: list[list[int]], rota: Rota) -> int:
    return sum(cost[int(duty.person)][int(duty.shift)] for duty in rota.duties)


def test_the_documented_assignment_is_reproduced() -> None:
    row = DATA["assignment"]
    rota = make_rota(one_each(row["cost"]))
    assert total(row["cost"], rota) == row["optimum"]
    assert {duty.person: duty.shift for duty in rota.duties} == {
        str(r): str(c) for r, c in enumerate(row["column_of_row"])
    }


def test_random_assignments_equal_the_optimum_of_scipy() -> None:
    draw = random.Random(4)
    for _ in range(60):
        rows, columns = draw.randint(1, 14), draw.randint(1, 14)
        rows, columns = max(rows, columns), min(rows, columns)
        cost = [[draw.randint(-40, 90) for _ in range(columns)] for _ in range(rows)]
        matrix = np.array(cost, dtype=np.int64)
        optimum = int(matrix[linear_sum_assignment(matrix)].sum())
        wide = matrix.T.copy()
        assert sum(wide[row, column] for row, column in enumerate(assign(wide))) == optimum
        rota = make_rota(one_each(cost))
        assert rota.open_shifts() == ()
        assert total(cost, rota) == optimum


def roster(key: str, requests: list[list[str]] | None = None) -> RotaProblem:
    """A roster: the shifts of a day exclude each other, so they run at the same time."""
    row = DATA[key]
    shifts = tuple(
        Shift(
            id=f"{day}/{shift}",
            post="desk",
            start_s=day * DAY_S,
            end_s=day * DAY_S + 3600,
            floor=str(shift),
        )
        for day in range(row["days"])
        for shift in range(row["shifts"])
    )
    hands = tuple(
        Hand(
            id=str(person),
            posts=frozenset({"desk"}),
            costs={
                f"{day}/{shift}": -1000
                for day, wished in enumerate(requests[person] if requests else ())
                for shift, flag in enumerate(wished)
                if flag == "1"
            },
            least=row["least"],
            most=row["most"],
        )
        for person in range(row["people"])
    )
    return RotaProblem(plan_revision=1, shifts=shifts, hands=hands)


def test_a_roster_has_as_many_solutions_as_published() -> None:
    row = DATA["roster_count"]
    crew = CrewModel(roster("roster_count"))
    crew.model.add(sum(crew.open) == 0)
    for person in range(row["people"]):
        crew.model.add(sum(crew.shifts_of(person)) >= row["least"])
    found: set[tuple[bool, ...]] = set()

    class Counting(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            found.add(tuple(self.boolean_value(works) for works in crew.works.values()))

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.enumerate_all_solutions = True
    solver.solve(crew.model, Counting())
    assert len(found) == row["solutions"]


def test_a_roster_meets_as_many_requests_as_published() -> None:
    row = DATA["roster_requests"]
    requests = row["requests_by_person_day_shift"]
    problem = roster("roster_requests", requests)
    rota = make_rota(problem, who_works, Limits(work=20))
    assert rota.open_shifts() == ()
    met = [
        duty
        for duty in rota.duties
        for day, shift in [duty.shift.split("/")]
        if requests[int(duty.person)][int(day)][int(shift)] == "1"
    ]
    assert len(met) == row["requests_met_optimum"]
    assert all(
        row["least"] <= len(rota.shifts_of(hand.id)) <= row["most"] for hand in problem.hands
    )
