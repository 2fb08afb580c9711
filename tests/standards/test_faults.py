"""Drawn faults: each misses one measured point, plainly, and nothing else."""

import pytest

from callroom.model.movement import THROUGHOUT, Angle, Movement, Over, Touch
from callroom.standards import all_movements, built_in, faults, holds, scene_of
from callroom.standards.faults import PLAIN_DEG, PLAIN_M
from callroom.standards.measuring import misses_by

POSES = built_in().poses
MOVEMENTS = all_movements()


@pytest.mark.parametrize("movement", MOVEMENTS, ids=lambda one: one.id)
def test_a_fault_misses_its_own_point_plainly_and_no_other(movement: Movement) -> None:
    for fault in faults(movement, POSES):
        scene = scene_of(fault.figure, {fault.pose.id: fault.pose})
        asked = [one for one in movement.points if one.at in {fault.figure.stage, THROUGHOUT}]
        assert fault.point in asked
        missed = [one for one in asked if not all(holds(m, scene) for m in one.measures)]
        assert missed == [fault.point]
        worst = max(
            misses_by(measure, scene) / (PLAIN_DEG if isinstance(measure, Angle) else PLAIN_M)
            for measure in fault.point.measures
        )
        assert worst >= 1


def test_most_movements_have_faults_to_draw() -> None:
    found = {movement.id: faults(movement, POSES) for movement in MOVEMENTS}
    assert sum(bool(some) for some in found.values()) >= 55
    assert sum(len(some) for some in found.values()) >= 130
    squat = {fault.point.says for fault in found["air_squat"]}
    assert "The crease of the hip is below the top of the knee." in squat


@pytest.mark.parametrize("movement", MOVEMENTS, ids=lambda one: one.id)
def test_a_measure_holds_exactly_where_it_is_missed_by_nothing(movement: Movement) -> None:
    figures = [(figure, POSES) for figure in movement.figures]
    figures += [(one.figure, {one.pose.id: one.pose}) for one in faults(movement, POSES)]
    for figure, poses in figures:
        scene = scene_of(figure, poses)
        for point in movement.points:
            if point.at != figure.stage:
                continue
            for measure in point.measures:
                missed = misses_by(measure, scene)
                slack = 0.004 if not isinstance(measure, Angle | Touch | Over) else 1e-4
                if abs(missed) > slack:
                    assert holds(measure, scene) == (missed < 0), (point.says, missed)
