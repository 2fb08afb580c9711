"""Which variations of a movement a team may use: what its division says, and what a task says."""

from callroom.model.division import Division
from callroom.model.workout import Task


def task_switches(task: Task, division_id: str) -> dict[str, bool]:
    """Return what a task itself says of variations for a division: allowed or not, by id."""
    said = {task.variation: True} if task.variation else {}
    for general in (True, False):
        said |= {
            rule.variation: rule.allowed
            for rule in task.variation_rules
            if rule.division == ("" if general else division_id)
        }
    return said


def division_switches(movement_id: str, division: Division) -> dict[str, bool]:
    """Return what a division says of a movement's variations in every workout, by id."""
    return {
        rule.variation: rule.allowed
        for rule in division.movement_rules
        if rule.movement == movement_id and rule.variation
    }


def switches(task: Task, division: Division) -> dict[str, bool]:
    """Return what holds for teams of `division` in `task`; what is not in it is as usual."""
    return division_switches(task.movement, division) | task_switches(task, division.id)
