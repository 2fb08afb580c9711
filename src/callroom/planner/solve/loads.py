"""What each open stretch of a floor must carry, counted without saying in which order.

Of the heats that share a stretch, all but the last are followed by another heat there. So
counting the heats, the blocks and the workouts present bounds the time they need in *any*
order, interleaved or not:

    sum of (length + same) over heats
    + (division - same) for each block present + (workout - division) for each workout present
    - what is counted behind the very last heat

This is what proves most days: without it the solver sees only pairs of heats and cannot
tell that a morning is full.
"""

from collections.abc import Iterable
from typing import NamedTuple

from ortools.sat.python import cp_model

from callroom.planner.problem import Problem, Slot


class Portion(NamedTuple):
    """Heats of one kind in one stretch: an example, how many are there, whether any is."""

    kind: Slot
    heats: cp_model.LinearExpr
    present: cp_model.IntVar


class Load(NamedTuple):
    """A bound on the time that the heats of one stretch need, from first start to last end.

    `needed` [s] counts a changeover behind every heat; `spare_s` is the most that may be
    counted behind the last one, which nobody waits for.
    """

    needed: cp_model.LinearExpr
    spare_s: int


def load_of(model: cp_model.CpModel, problem: Problem, portions: Iterable[Portion]) -> Load:
    """Add up the load of one stretch; see the module's docstring."""
    grid_s = problem.grid_s
    same, division, workout = (
        problem.changeover.same_s, problem.changeover.division_s, problem.changeover.workout_s
    )  # fmt: skip
    needed: list[cp_model.LinearExpr] = []
    blocks: dict[tuple[str, str], list[Portion]] = {}
    workouts: dict[str, list[Portion]] = {}
    spare_s = 0
    for portion in portions:
        kind = portion.kind
        needed.append(portion.heats * _ceil(kind.length_s + same, grid_s))
        blocks.setdefault((kind.workout, kind.block), []).append(portion)
        workouts.setdefault(kind.workout, []).append(portion)
        spare_s = max(spare_s, _ceil(kind.length_s + workout, grid_s) - kind.length_s)
    for group, low_s, high_s in (
        *((mine, same, division) for mine in blocks.values()),
        *((mine, division, workout) for mine in workouts.values()),
    ):
        extra_s = min(
            _ceil(one.kind.length_s + high_s, grid_s) - _ceil(one.kind.length_s + low_s, grid_s)
            for one in group
        )
        if extra_s:
            needed.append(extra_s * _any_present(model, group))
    return Load(cp_model.LinearExpr.sum(needed), spare_s)


def _any_present(model: cp_model.CpModel, group: list[Portion]) -> cp_model.IntVar:
    if len(group) == 1:
        return group[0].present
    present = model.new_bool_var("present")
    for portion in group:
        model.add_implication(portion.present, present)
    return present


def _ceil(value_s: int, grid_s: int) -> int:
    return -(-value_s // grid_s) * grid_s
