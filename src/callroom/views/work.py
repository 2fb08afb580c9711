"""The work of a workout's part as a table: tasks down, rounds across, running totals in it."""

from functools import lru_cache
from typing import TypeVar

import msgspec

from callroom.model import Division, Part, PublishedHeight, PublishedLoad, Task
from callroom.model.permitted import switches
from callroom.model.steps import Step, counted_in_rounds, steps, total_counts
from callroom.model.workout import PartKind

Published = TypeVar("Published", PublishedLoad, PublishedHeight)

# A judge must not run out of rounds on the card: nobody counts faster than this for long.
# Common practice, no source.
_QUICKEST_COUNT_MS = 1500
_LEAST_ROUNDS, _MOST_ROUNDS = 4, 40


class WorkRow(msgspec.Struct, frozen=True, kw_only=True):
    """One task in every listed round.

    `amounts`, `counts` and `totals` have one value for each round: how much to do [the
    task's unit], what that adds, and the running total when it is done. `athletes` is how
    many do the amount each for themselves. Loads and heights are those of the division's
    categories only; `variations` are those that division or task allow (True) or bar. `split` marks the row at whose end the tie-break time is taken.
    """

    task: Task
    amounts: tuple[int, ...]
    counts: tuple[int, ...]
    totals: tuple[int, ...]
    athletes: int
    loads: tuple[PublishedLoad, ...]
    heights: tuple[PublishedHeight, ...]
    variations: tuple[tuple[str, bool], ...] = ()
    split: bool = False


class WorkBlock(msgspec.Struct, frozen=True, kw_only=True):
    """Tasks done in order, round after round.

    Of an `open_ended` block as many rounds are listed as anybody could need; every further
    one adds `round_counts`. `parallel`: its strands run side by side, and each row's total
    leaves the other strands of that round out. `every_s` starts rounds on the clock [s].
    """

    id: str
    name: str
    rows: tuple[WorkRow, ...]
    rounds: int
    open_ended: bool
    parallel: bool
    every_s: int
    round_counts: int


class PartWork(msgspec.Struct, frozen=True, kw_only=True):
    """A scored part for teams of one division.

    `total` is all there is to count, None where that has no end or the result is a load;
    `in_rounds` says whether "4 rounds + 17" means something. `split_each_round`: the
    tie-break is the time at which the last complete round ended.
    """

    id: str
    name: str
    kind: PartKind
    part: Part
    blocks: tuple[WorkBlock, ...]
    total: int | None
    in_rounds: bool
    split_each_round: bool

    @property
    def lifts(self) -> tuple[Task, ...]:
        """The tasks whose result is a load."""
        rows = (row for block in self.blocks for row in block.rows)
        return tuple(row.task for row in rows if row.task.unit == "lift")


# Every team and lane of a day asks for the same few.
@lru_cache(maxsize=1024)
def part_work(part: Part, division: Division) -> PartWork:
    """Return the work of `part` as teams of `division` do it."""
    listed = steps(part, division)
    after = part.tiebreak.after if part.tiebreak is not None else ""
    return PartWork(
        id=part.id,
        name=part.name,
        kind=part.kind,
        part=part,
        blocks=tuple(
            _block(part, index, [step for step in listed if step.block == block.id], division)
            for index, block in enumerate(part.blocks)
        ),
        total=total_counts(part, division),
        in_rounds=counted_in_rounds(part),
        split_each_round=after == "round",
    )


def _block(part: Part, index: int, listed: list[Step], division: Division) -> WorkBlock:
    block = part.blocks[index]
    tasks = [task for task in block.tasks if any(step.task == task.id for step in listed)]
    round_counts = listed[0].round_total if listed else 0
    rounds = _rounds_listed(part, round_counts) if block.open_ended else block.rounds
    after = part.tiebreak.after if part.tiebreak is not None else ""
    split_task = tasks[-1].id if tasks and after == block.id else after
    return WorkBlock(
        id=block.id,
        name=block.name,
        rows=tuple(
            _row(task, _rounds_of(task, listed, rounds), division, split=task.id == split_task)
            for task in tasks
        ),
        rounds=rounds,
        open_ended=block.open_ended,
        parallel=any(step.parallel for step in listed),
        every_s=block.every_s,
        round_counts=round_counts,
    )


def _rounds_listed(part: Part, round_counts: int) -> int:
    if not round_counts:
        return 1
    quickest = -(-part.cap_s * 1000 // (round_counts * _QUICKEST_COUNT_MS))
    return min(max(quickest, _LEAST_ROUNDS), _MOST_ROUNDS)


def _rounds_of(task: Task, listed: list[Step], rounds: int) -> list[Step]:
    """Return the task's steps, an open-ended one carried on from its first round."""
    own = [step for step in listed if step.task == task.id]
    if not own[0].open_ended:
        return own
    return [
        msgspec.structs.replace(own[0], total=own[0].total + done * own[0].round_total)
        for done in range(rounds)
    ]


def _row(task: Task, done: list[Step], division: Division, *, split: bool) -> WorkRow:
    return WorkRow(
        task=task,
        amounts=tuple(step.amount for step in done),
        counts=tuple(step.counts for step in done),
        totals=tuple(step.total for step in done),
        athletes=done[0].athletes,
        loads=_of_team(done[0].loads, task, division),
        heights=_of_team(done[0].heights, task, division),
        variations=tuple(switches(task, division).items()),
        split=split,
    )


def _of_team(
    published: tuple[Published, ...], task: Task, division: Division
) -> tuple[Published, ...]:
    """Return the loads or heights that some athlete of this division needs in this task."""
    in_team = {part.category for part in division.make_up if part.count}
    wanted = in_team & {task.who.category} if task.who.kind == "category" else in_team
    return tuple(one for one in published if not one.category or one.category in wanted)
