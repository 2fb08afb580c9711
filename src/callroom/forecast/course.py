"""The course of a part: its tasks and steps prepared for many teams at once."""

import math
from collections.abc import Mapping

import msgspec
import numpy as np

from callroom.forecast.arrays import Flags
from callroom.forecast.athletes import Athletes
from callroom.forecast.parameters import athlete_model
from callroom.forecast.task_work import NO_END, TaskWork, task_work
from callroom.model.division import Division
from callroom.model.movement import Movement
from callroom.model.steps import place_names, tasks_of
from callroom.model.workout import Block, Part, Task


class StepWork(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """One task of one round: `amount` in all, `own` of it for every athlete with ``each``.

    `first` is the place of the line-up that goes on, as far as the middle team is concerned,
    and `moves` how many places further that is each time the round is done again;
    `index` is its place in the running list of work (``callroom.model.steps``),
    `transition_s` what it takes to get to it, `repeats` says that its round is done again
    and again, and `metres` that it covers ground.
    """

    index: int
    task: TaskWork
    amount: float
    own: float
    mark: int
    transition_s: float
    repeats: bool
    first: int
    moves: int
    metres: bool

    def place(self, lap: int) -> int:
        """Return the place of the line-up that goes on in round `lap` of the block."""
        again = lap if self.repeats else 0
        return (self.first + again * self.moves) % len(self.task.demand.pace_s)


class RoundWork(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """One round of a block: strands of steps that run side by side."""

    strands: tuple[tuple[StepWork, ...], ...]
    lap: int
    every_s: float
    open_ended: bool


class Course(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """All the rounds of a part; `step_count` is the length of its running list of work."""

    rounds: tuple[RoundWork, ...]
    step_count: int
    athletes: Athletes


def course_of(
    part: Part,
    division: Division,
    movements: Mapping[str, Movement],
    athletes: Athletes,
    *,
    load_scale: float = 1.0,
    pace: float = 1.0,
) -> Course:
    """Return the course of `part` for `athletes` of `division`.

    `load_scale` multiplies every published load, to try lighter and heavier ones. `pace` is
    what times will be multiplied with, so that rounds on the clock come that much sooner.
    """
    rounds = []
    index = first = 0
    for block in part.blocks:
        tasks = tasks_of(block, division)
        crews = _crews(tasks, division)
        works = {
            task.id: task_work(
                task,
                division,
                movements,
                athletes,
                crew=crews[task.id],
                load_scale=load_scale,
            )
            for task in tasks
        }
        for lap in range(1 if block.open_ended else block.rounds):
            made = _round_work(block, tasks, works, crews, lap=lap, index=index, pace=pace)
            goes_on, first = _carried_on(made, first)
            rounds.append(goes_on)
            index += len(tasks)
    return Course(rounds=tuple(rounds), step_count=index, athletes=athletes)


def _carried_on(made: RoundWork, first: int) -> tuple[RoundWork, int]:
    """Return the round with every step going on where the step before it left the line-up.

    Also returns the place whose turn it is after it. Teams are alike in this, as far as the
    middle one goes, so that one athlete is one row of all arrays.
    """
    begins = first
    firsts = []
    for step in (step for strand in made.strands for step in strand):
        firsts.append(first)
        turns = _turns(step)
        if turns:
            order = step.task.rotation(first, made.lap)
            first = order[turns % len(order)]
    moves = first - begins
    places = iter(firsts)
    strands = tuple(
        tuple(msgspec.structs.replace(step, first=next(places), moves=moves) for step in strand)
        for strand in made.strands
    )
    return msgspec.structs.replace(made, strands=strands), first


def _turns(step: StepWork) -> int:
    """Return how many turns of the line-up the middle team takes in a step; 0 for none."""
    task = step.task
    free = task.group == "one" and task.order == "in_turn" and not task.each
    if not free or step.amount >= NO_END:
        return 0
    pace_s = float(np.median(task.demand.pace_s[list(task.crew)]))
    pieces = max(math.floor(task.turn_s / pace_s / task.quantum), 1)
    return math.ceil(step.amount / min(pieces * task.quantum, task.every))


def may_do(task: Task, division: Division) -> Flags:
    """Return who may do `task`, by place of the line-up, shape ``(athletes,)``."""
    who = task.who
    if who.kind == "category":
        listed = [part.category for part in division.make_up for _ in range(part.count)]
        return np.array([category == who.category for category in listed])
    if who.kind == "places":
        return np.array([place in who.places for place in place_names(division)])
    return np.ones(division.team_size, dtype=np.bool_)


def _crews(tasks: tuple[Task, ...], division: Division) -> dict[str, Flags]:
    """Return who works at each task: parallel strands share the athletes out between them."""
    may = {task.id: may_do(task, division) for task in tasks}
    strands = sorted({task.strand for task in tasks})
    if len(strands) < 2:
        return may
    within = {
        strand: np.any([may[task.id] for task in tasks if task.strand == strand], axis=0)
        for strand in strands
    }
    shared = {strand: np.zeros(division.team_size, dtype=np.bool_) for strand in strands}
    # Who has the fewest choices is placed first; everyone goes where fewest are so far.
    choices = np.sum(list(within.values()), axis=0)
    for place in np.argsort(choices, kind="stable"):
        open_to = [strand for strand in strands if within[strand][place]]
        if open_to:
            shared[min(open_to, key=lambda strand: int(shared[strand].sum()))][place] = True
    crews = {}
    for task in tasks:
        crew = may[task.id] & shared[task.strand]
        crews[task.id] = crew if crew.any() else may[task.id]
    return crews


def _round_work(
    block: Block,
    tasks: tuple[Task, ...],
    works: Mapping[str, TaskWork],
    crews: Mapping[str, Flags],
    *,
    lap: int,
    index: int,
    pace: float,
) -> RoundWork:
    teamwork = athlete_model().teamwork
    strands: dict[int, list[StepWork]] = {}
    for offset, task in enumerate(tasks):
        crew = int(crews[task.id].sum())
        crew = min(crew, 2) if task.who.kind == "pair" else crew
        # With no amount it is as much as fits in the time.
        own = float(task.amounts[min(lap, len(task.amounts) - 1)]) if task.amounts else NO_END
        strands.setdefault(task.strand, []).append(
            StepWork(
                index=index + offset,
                task=works[task.id],
                amount=own * crew if task.sharing == "each" else own,
                own=own,
                mark=task.mark,
                repeats=block.open_ended,
                first=0,
                moves=0,
                metres=task.unit == "metres",
                transition_s=teamwork.team_transition_s if crew > 1 else teamwork.transition_s,
            )
        )
    return RoundWork(
        strands=tuple(tuple(strands[strand]) for strand in sorted(strands)),
        lap=lap,
        every_s=block.every_s / pace,
        open_ended=block.open_ended,
    )
