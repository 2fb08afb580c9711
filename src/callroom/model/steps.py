"""Steps: the work of a part as a running list, from the first repetition to the last.

Cards print it, pads and the desk count along it, the forecast walks it, and scoring reads
from it how much there was to do.
"""

from typing import TypeVar

import msgspec

from callroom.model.division import Division
from callroom.model.errors import CallroomError
from callroom.model.mass import PublishedHeight, PublishedLoad
from callroom.model.workout import Block, Part, Task, Unit

Published = TypeVar("Published", PublishedLoad, PublishedHeight)


class Step(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One task of one round, with the running total at its end.

    Attributes
    ----------
    block, round_number, task, movement, strand
        Where it stands; rounds count from 1.
    parallel
        Other strands of the block run beside it.
    unit, amount, mark
        The amount one athlete (or the team, if it is shared) does, in `unit`, nought where
        it is "as much as you can" or a lift; every complete `mark` of it counts one.
    athletes
        How many do that amount, each for themselves; 1 unless the task is done by ``each``.
    counts
        What the step adds to the result.
    total
        The running total when the step ends. In a round with strands the others are left
        out: the work done is then the sum of what each strand has beyond `round_start`.
    round_start, round_total
        The total before the round, and the counts of the whole round, all strands.
    open_ended
        The block repeats until time is up; only its first round is listed.
    loads, heights
        What is published for the division.
    """

    block: str
    round_number: int
    task: str
    movement: str
    strand: int
    parallel: bool
    unit: Unit
    amount: int
    mark: int
    athletes: int
    counts: int
    total: int
    round_start: int
    round_total: int
    open_ended: bool
    loads: tuple[PublishedLoad, ...] = ()
    heights: tuple[PublishedHeight, ...] = ()


def steps(part: Part, division: Division) -> tuple[Step, ...]:
    """Return the running list of work of `part` for teams of `division`.

    Every round of every block is listed; of a block that repeats until time is up, the
    first round. The division matters where every athlete does the amount, for loads, and
    for tasks that nobody in it may do, which are left out.
    """
    listed: list[Step] = []
    start = 0
    for block, number in _rounds(part):
        done = _round(block, division, number, start)
        listed.extend(done)
        start += done[0].round_total if done else 0
    return tuple(listed)


def total_counts(part: Part, division: Division) -> int | None:
    """Return all there is to count in `part`; None if it never ends or is a load."""
    if part.kind == "load" or any(block.open_ended for block in part.blocks):
        return None
    return sum(_round_counts(block, division, number) for block, number in _rounds(part))


def doers(task: Task, division: Division) -> int:
    """Return how many athletes of a team of `division` may do `task`."""
    who = task.who
    if who.kind == "category":
        return sum(part.count for part in division.make_up if part.category == who.category)
    if who.kind == "places":
        return len(set(who.places) & set(place_names(division)))
    if who.kind == "pair":
        return min(2, division.team_size)
    return division.team_size


def tasks_of(block: Block, division: Division) -> tuple[Task, ...]:
    """Return the tasks of `block` that somebody in a team of `division` may do."""
    return tuple(task for task in block.tasks if doers(task, division))


def place_names(division: Division) -> tuple[str, ...]:
    """Return the places in the line-up of a team on the floor: ``A``, ``B``, …."""
    return tuple(chr(ord("A") + index) for index in range(division.team_size))


def counted_in_rounds(part: Part) -> bool:
    """Return whether "rounds + counts" can be said of `part` without doubt.

    That is so where one block is all there is and it is done more than once. With work
    before or after it, people disagree about what the first round is.
    """
    if part.kind == "load" or len(part.blocks) != 1:
        return False
    block = part.blocks[0]
    repeated = block.open_ended or block.rounds > 1
    return repeated and all(task.amounts for task in block.tasks)


def rounds_and_counts(part: Part, division: Division, rounds: int, counts: int) -> int:
    """Return the work done [counts] of somebody who says "4 + 17".

    Parameters
    ----------
    rounds, counts
        Whole rounds, and counts of the round after them (a full round is accepted).

    Raises
    ------
    CallroomError
        If the part is not counted in rounds, or there are not so many.
    """
    sizes = _round_sizes(part, division)
    if part.blocks[0].open_ended:
        sizes *= rounds + 1
    if rounds < 0 or counts < 0 or rounds > len(sizes):
        raise CallroomError(
            "work.rounds_impossible", part=part.id, rounds=rounds, counts=counts, listed=len(sizes)
        )
    begun = sizes[rounds] if rounds < len(sizes) else 0
    if counts > begun:
        raise CallroomError(
            "work.counts_beyond_round", part=part.id, rounds=rounds, counts=counts, in_round=begun
        )
    return sum(sizes[:rounds]) + counts


def as_rounds(part: Part, division: Division, work: int) -> tuple[int, int]:
    """Return `work` [counts] as whole rounds and the counts of the round after them.

    Raises
    ------
    CallroomError
        If the part is not counted in rounds.
    """
    sizes = _round_sizes(part, division)
    if part.blocks[0].open_ended:
        return divmod(work, sizes[0])
    rounds = 0
    while rounds < len(sizes) and work >= sizes[rounds]:
        work -= sizes[rounds]
        rounds += 1
    return rounds, work


class Stretch(msgspec.Struct, frozen=True):
    """A length of a course [m] with a mark every so many metres; 0: without end.

    A `lap` is gone again and again: it is the length of all stretches that are [m].
    """

    length_m: int
    mark_m: int
    lap_m: int = 0


def stretches(part: Part, division: Division) -> tuple[Stretch, ...]:
    """Return the course of `part`: its tasks in metres, in the order they are gone."""
    course = [step for step in steps(part, division) if step.unit == "metres"]
    lap_m = sum(step.amount * step.athletes for step in course if step.open_ended)
    return tuple(
        Stretch(step.amount * step.athletes, step.mark, lap_m if step.open_ended else 0)
        for step in course
    )


def whole_stretches(part: Part, division: Division, metres: int) -> int:
    """Return how much of `metres` lies in complete marked stretches of `part` [m]."""
    return complete_metres(stretches(part, division), metres)


def complete_metres(course: tuple[Stretch, ...], metres: int) -> int:
    """Return how much of `metres` lies in complete marked stretches of `course` [m]."""
    covered = 0
    for stretch in course:
        left = max(metres - covered, 0)
        if stretch.lap_m:
            covered += left // stretch.lap_m * stretch.lap_m
            left = max(metres - covered, 0)
        if left < stretch.length_m or not stretch.length_m:
            return covered + left // stretch.mark_m * stretch.mark_m
        covered += stretch.length_m
    return covered


def loads_for(task: Task, division: Division) -> tuple[PublishedLoad, ...]:
    """Return the loads of `task` that hold in `division`, its own before general ones."""
    return _most_particular(task.loads, division)


def heights_for(task: Task, division: Division) -> tuple[PublishedHeight, ...]:
    """Return the heights of `task` that hold in `division`, its own before general ones."""
    return _most_particular(task.heights, division)


def _most_particular(things: tuple[Published, ...], division: Division) -> tuple[Published, ...]:
    own = tuple(thing for thing in things if thing.division == division.id)
    covered = {thing.category for thing in own}
    return own + tuple(
        thing for thing in things if not thing.division and not covered & {"", thing.category}
    )


def _rounds(part: Part) -> list[tuple[Block, int]]:
    return [
        (block, number)
        for block in part.blocks
        for number in range(1, 2 if block.open_ended else block.rounds + 1)
    ]


def _round(block: Block, division: Division, number: int, start: int) -> list[Step]:
    in_round = _round_counts(block, division, number)
    done = tasks_of(block, division)
    strands = {task.strand for task in done}
    running = dict.fromkeys(strands, start)
    listed = []
    for task in done:
        counts = _counts(task, division, number)
        running[task.strand] += counts
        listed.append(
            Step(
                block=block.id,
                round_number=number,
                task=task.id,
                movement=task.movement,
                strand=task.strand,
                parallel=len(strands) > 1,
                unit=task.unit,
                amount=_amount(task, number),
                mark=task.mark,
                athletes=_each(task, division),
                counts=counts,
                total=running[task.strand],
                round_start=start,
                round_total=in_round,
                open_ended=block.open_ended,
                loads=loads_for(task, division),
                heights=heights_for(task, division),
            )
        )
    return listed


def _round_counts(block: Block, division: Division, number: int) -> int:
    return sum(_counts(task, division, number) for task in tasks_of(block, division))


def _round_sizes(part: Part, division: Division) -> list[int]:
    sizes = [_round_counts(block, division, number) for block, number in _rounds(part)]
    if not counted_in_rounds(part) or not all(sizes):
        raise CallroomError("work.not_in_rounds", part=part.id)
    return sizes


def _counts(task: Task, division: Division, number: int) -> int:
    return _amount(task, number) // task.mark * _each(task, division)


def _amount(task: Task, number: int) -> int:
    if not task.amounts:
        return 0
    return task.amounts[min(number, len(task.amounts)) - 1]


def _each(task: Task, division: Division) -> int:
    return doers(task, division) if task.sharing == "each" else 1
