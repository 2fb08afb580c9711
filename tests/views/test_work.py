"""The table of work: running totals, rounds, and what concerns a division."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import Block, Division, Part, PublishedLoad, Task, TieBreak, Who
from callroom.model.steps import steps
from callroom.views.work import PartWork, part_work
from tests.views.building import example_event

EVENT = example_event()
OPEN, PAIRS = EVENT.divisions

tasks = st.builds(
    lambda amounts, mark, sharing, strand: {
        "amounts": tuple(amounts),
        "mark": mark,
        "sharing": sharing,
        "strand": strand,
    },
    st.lists(st.integers(1, 60), min_size=1, max_size=3),
    st.integers(1, 10),
    st.sampled_from(["split", "each", "together", "carry"]),
    st.integers(0, 1),
)
blocks = st.tuples(st.lists(tasks, min_size=1, max_size=4), st.integers(1, 4), st.booleans())


def part_of(drawn: list[tuple[list[dict[str, object]], int, bool]], *, strands: bool) -> Part:
    """Return a part made of drawn blocks; only the last may be open-ended."""
    made = []
    for number, (fields, rounds, open_ended) in enumerate(drawn):
        listed = tuple(
            Task(
                id=f"t{number}{index}",
                movement="squat",
                amounts=one["amounts"],  # type: ignore[arg-type]
                mark=one["mark"],  # type: ignore[arg-type]
                sharing=one["sharing"],  # type: ignore[arg-type]
                strand=one["strand"] if strands else 0,  # type: ignore[arg-type]
            )
            for index, one in enumerate(fields)
        )
        last = number == len(drawn) - 1
        made.append(
            Block(id=f"b{number}", tasks=listed, rounds=rounds, open_ended=open_ended and last)
        )
    return Part(id="a", kind="work", cap_s=600, blocks=tuple(made))


def in_order(work: PartWork) -> list[tuple[int, int]]:
    """Return (counts, total) of every cell in the order the work is done."""
    return [
        (row.counts[index], row.totals[index])
        for block in work.blocks
        for index in range(block.rounds)
        for row in block.rows
    ]


@given(st.lists(blocks, min_size=1, max_size=3))
def test_every_total_is_the_sum_of_what_came_before(
    drawn: list[tuple[list[dict[str, object]], int, bool]],
) -> None:
    running = 0
    for counts, total in in_order(part_work(part_of(drawn, strands=False), OPEN)):
        running += counts
        assert total == running


@given(st.lists(blocks, min_size=1, max_size=3))
def test_side_by_side_each_strand_counts_from_the_rounds_start(
    drawn: list[tuple[list[dict[str, object]], int, bool]],
) -> None:
    work = part_work(part_of(drawn, strands=True), OPEN)
    before = 0
    for block in work.blocks:
        for index in range(block.rounds):
            for strand in {row.task.strand for row in block.rows}:
                running = before
                for row in block.rows:
                    if row.task.strand == strand:
                        running += row.counts[index]
                        assert row.totals[index] == running
            before += sum(row.counts[index] for row in block.rows)


@given(st.lists(blocks, min_size=1, max_size=3))
def test_the_table_says_what_the_steps_say(
    drawn: list[tuple[list[dict[str, object]], int, bool]],
) -> None:
    part = part_of(drawn, strands=False)
    listed = [(step.counts, step.total) for step in steps(part, PAIRS)]
    table = in_order(part_work(part, PAIRS))
    assert table[: len(listed)] == listed
    assert len(table) == len(listed) or part.blocks[-1].open_ended


def test_a_judge_never_runs_out_of_rounds() -> None:
    """At one count every second and a half, to the end of the clock."""
    work = part_work(EVENT.workout("w2").parts[0], OPEN)
    (block,) = work.blocks
    assert block.round_counts == 15 + 12 + 6
    assert block.rounds * block.round_counts * 1.5 >= 600
    assert work.blocks[0].rows[-1].totals[-1] == block.rounds * block.round_counts


def test_a_single_count_a_round_does_not_fill_the_hall_with_paper() -> None:
    block = Block(id="b", tasks=(Task(id="t", movement="lift", amounts=(1,)),), open_ended=True)
    part = Part(id="a", kind="work", cap_s=3600, blocks=(block,))
    assert part_work(part, OPEN).blocks[0].rounds == 40


def test_loads_are_those_of_the_divisions_own_categories() -> None:
    thruster = part_work(EVENT.workout("w1").parts[0], OPEN).blocks[0].rows[1]
    assert [load.category for load in thruster.loads] == ["women", "men"]
    box = part_work(EVENT.workout("w1").parts[0], PAIRS).blocks[0].rows[2]
    assert [height.category for height in box.heights] == ["women"]


def test_a_task_for_one_category_shows_its_load_only() -> None:
    loads = tuple(PublishedLoad(category=name, kg=Decimal(20)) for name in ("women", "men"))
    task = Task(
        id="t",
        movement="clean",
        amounts=(5,),
        who=Who(kind="category", category="men"),
        loads=loads,
    )
    part = Part(id="a", kind="time", cap_s=60, blocks=(Block(id="b", tasks=(task,)),))
    (row,) = part_work(part, OPEN).blocks[0].rows
    assert [load.category for load in row.loads] == ["men"]


def test_a_task_nobody_in_the_team_may_do_is_left_out() -> None:
    work = part_work(EVENT.workout("w3").parts[0], PAIRS)
    assert [task.id for task in work.lifts] == ["lift_women"]


@pytest.mark.parametrize(("after", "marked"), [("t1", ["t1"]), ("b", ["t2"]), ("round", [])])
def test_the_row_at_which_the_split_is_taken_is_marked(after: str, marked: list[str]) -> None:
    listed = tuple(Task(id=name, movement="squat", amounts=(5,)) for name in ("t1", "t2"))
    part = Part(
        id="a",
        kind="time",
        cap_s=60,
        blocks=(Block(id="b", tasks=listed),),
        tiebreak=TieBreak(after=after),
    )
    work = part_work(part, Division(id="d", name="D", make_up=OPEN.make_up))
    assert [row.task.id for row in work.blocks[0].rows if row.split] == marked
    assert work.split_each_round == (after == "round")
