"""How much work of which kind a workout holds, by plain arithmetic."""

from collections.abc import Iterator, Mapping

import msgspec

from callroom.forecast.athletes import line_up
from callroom.forecast.pace import usual_pace
from callroom.model.division import Division
from callroom.model.movement import Movement
from callroom.model.steps import doers, tasks_of
from callroom.model.workout import Block, Part, Task, Workout

# Common practice, no source: a try at a heavy lift with the steps before it, and how many.
SECONDS_PER_TRY = 10.0
USUAL_TRIES = 4


class TaskAmount(msgspec.Struct, frozen=True, kw_only=True):
    """All a team does of one task in a part: `total` in the task's unit, and the time [s].

    `each` is what one athlete does of it if it is shared evenly.
    """

    part: Part
    task: Task
    total: float
    each: float
    work_s: float


def amounts(
    workout: Workout, division: Division, movements: Mapping[str, Movement]
) -> tuple[TaskAmount, ...]:
    """Return the amounts of every task of `workout`, in order.

    Of a block that repeats until time is up, as many rounds as fit in the cap at the middle
    of the intermediate rates, one athlete working at a time.
    """
    return tuple(
        amount
        for part in workout.parts
        for block in part.blocks
        for amount in _of_block(part, block, division, movements)
    )


def _of_block(
    part: Part, block: Block, division: Division, movements: Mapping[str, Movement]
) -> Iterator[TaskAmount]:
    tasks = tasks_of(block, division)
    paces = {task.id: _pace_s(task, division, movements.get(task.movement)) for task in tasks}
    once = {task.id: _rounds_total(task, block, division) for task in tasks}
    round_s = sum(once[task.id] * paces[task.id] for task in tasks)
    for task in tasks:
        total = once[task.id]
        if block.open_ended and not total:
            total = part.cap_s / paces[task.id]
        elif block.open_ended and round_s:
            total *= part.cap_s / round_s
        at_once = doers(task, division) if task.sharing in {"together", "carry"} else 1
        share = total if at_once > 1 else total / max(doers(task, division), 1)
        yield TaskAmount(
            part=part, task=task, total=total, each=share, work_s=total * paces[task.id]
        )


def _rounds_total(task: Task, block: Block, division: Division) -> float:
    if task.unit == "lift":
        return float(task.tries or USUAL_TRIES)
    if not task.amounts:
        return 0.0
    rounds = 1 if block.open_ended else block.rounds
    total = sum(task.amounts[min(number, len(task.amounts) - 1)] for number in range(rounds))
    return float(total * (doers(task, division) if task.sharing == "each" else 1))


def _pace_s(task: Task, division: Division, movement: Movement | None) -> float:
    if task.unit == "lift":
        return SECONDS_PER_TRY
    paces = [usual_pace(movement, task.unit, category)[0] for category in line_up(division)]
    return sum(paces) / len(paces)
