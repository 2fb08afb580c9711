"""The running list of work, worked by hand for small workouts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import (
    Block,
    CallroomError,
    CategoryCount,
    Division,
    Part,
    PublishedLoad,
    Task,
    Who,
    as_rounds,
    counted_in_rounds,
    rounds_and_counts,
    steps,
    total_counts,
)
from callroom.model.steps import doers, loads_for, whole_stretches

FOURS = Division(
    id="fours",
    name="Fours",
    make_up=(CategoryCount(category="women", count=2), CategoryCount(category="men", count=2)),
)
PAIRS = Division(id="pairs", name="Pairs", make_up=(CategoryCount(category="women", count=2),))


def part(*blocks: Block, kind: str = "time") -> Part:
    return Part(id="a", kind=kind, cap_s=600, blocks=blocks)  # type: ignore[arg-type]


DESCENDING = part(
    Block(
        id="b",
        rounds=3,
        tasks=(
            Task(id="dl", movement="deadlift", amounts=(21, 15, 9)),
            Task(id="burp", movement="burpee", amounts=(10,)),
        ),
    )
)
UNTIL_TIME = part(
    Block(
        id="b",
        open_ended=True,
        tasks=(
            Task(id="row", movement="row", unit="metres", amounts=(50,), mark=5),
            Task(id="jump", movement="box_jump", amounts=(10,)),
        ),
    ),
    kind="work",
)


def test_every_round_is_listed_with_its_running_total() -> None:
    listed = [
        (step.round_number, step.task, step.counts, step.total) for step in steps(DESCENDING, FOURS)
    ]
    # 21, then +10 = 31; +15 = 46, +10 = 56; +9 = 65, +10 = 75
    assert listed == [
        (1, "dl", 21, 21),
        (1, "burp", 10, 31),
        (2, "dl", 15, 46),
        (2, "burp", 10, 56),
        (3, "dl", 9, 65),
        (3, "burp", 10, 75),
    ]
    assert [step.round_start for step in steps(DESCENDING, FOURS)] == [0, 0, 31, 31, 56, 56]
    assert total_counts(DESCENDING, FOURS) == 75


def test_metres_count_by_their_mark_and_an_open_end_lists_one_round() -> None:
    row, jump = steps(UNTIL_TIME, FOURS)
    assert (row.amount, row.counts, row.total) == (50, 10, 10)
    assert (jump.counts, jump.total, jump.round_total) == (10, 20, 20)
    assert row.open_ended
    assert total_counts(UNTIL_TIME, FOURS) is None


def test_what_every_athlete_does_counts_for_every_athlete() -> None:
    each = part(
        Block(id="b", tasks=(Task(id="b", movement="burpee", amounts=(10,), sharing="each"),))
    )
    women = part(
        Block(
            id="b",
            tasks=(
                Task(
                    id="b",
                    movement="burpee",
                    amounts=(10,),
                    sharing="each",
                    who=Who(kind="category", category="women"),
                ),
            ),
        )
    )
    in_step = part(
        Block(
            id="b",
            tasks=(Task(id="b", movement="burpee", amounts=(10,), sharing="together", working=4),),
        )
    )
    assert total_counts(each, FOURS) == 40
    assert total_counts(each, PAIRS) == 20
    assert total_counts(women, FOURS) == 20
    assert total_counts(in_step, FOURS) == 10


def test_strands_run_beside_each_other_and_the_next_round_starts_from_their_sum() -> None:
    beside = part(
        Block(
            id="in",
            tasks=(Task(id="run", movement="run", unit="metres", amounts=(400,), mark=100),),
        ),
        Block(
            id="b",
            rounds=2,
            tasks=(
                Task(id="row", movement="row", unit="calories", amounts=(30,), strand=0),
                Task(id="lift", movement="deadlift", amounts=(12,), strand=1),
                Task(id="jump", movement="box_jump", amounts=(8,), strand=1),
            ),
        ),
    )
    listed = [(step.task, step.round_start, step.total) for step in steps(beside, FOURS)]
    # The run is 4. Round one: the row ends its own strand at 4 + 30, the lifters theirs at
    # 4 + 12 and 4 + 12 + 8. Round two starts at 4 + 50.
    assert listed == [
        ("run", 0, 4),
        ("row", 4, 34),
        ("lift", 4, 16),
        ("jump", 4, 24),
        ("row", 54, 84),
        ("lift", 54, 66),
        ("jump", 54, 74),
    ]
    assert [step.parallel for step in steps(beside, FOURS)] == [False, *[True] * 6]
    assert total_counts(beside, FOURS) == 104


def test_a_load_has_no_count() -> None:
    lift = part(Block(id="b", tasks=(Task(id="cj", movement="clean", unit="lift"),)), kind="load")
    (step,) = steps(lift, FOURS)
    assert step.counts == 0
    assert total_counts(lift, FOURS) is None


def test_who_may_do_a_task() -> None:
    def task(who: Who) -> Task:
        return Task(id="t", movement="m", amounts=(1,), who=who)

    assert doers(task(Who()), FOURS) == 4
    assert doers(task(Who(kind="pair")), FOURS) == 2
    assert doers(task(Who(kind="places", places=("A", "C"))), FOURS) == 2
    assert doers(task(Who(kind="places", places=("A", "C"))), PAIRS) == 1
    assert doers(task(Who(kind="category", category="men")), PAIRS) == 0


def test_four_and_seventeen_becomes_a_total_and_comes_back() -> None:
    assert rounds_and_counts(UNTIL_TIME, FOURS, 4, 17) == 4 * 20 + 17
    assert as_rounds(UNTIL_TIME, FOURS, 97) == (4, 17)


def test_unequal_rounds_are_added_as_they_are() -> None:
    assert rounds_and_counts(DESCENDING, FOURS, 1, 7) == 31 + 7
    assert rounds_and_counts(DESCENDING, FOURS, 2, 0) == 56
    assert rounds_and_counts(DESCENDING, FOURS, 3, 0) == 75
    assert as_rounds(DESCENDING, FOURS, 38) == (1, 7)
    assert as_rounds(DESCENDING, FOURS, 75) == (3, 0)


def test_a_full_round_said_as_counts_is_accepted() -> None:
    assert rounds_and_counts(DESCENDING, FOURS, 1, 25) == rounds_and_counts(DESCENDING, FOURS, 2, 0)


@pytest.mark.parametrize(
    ("rounds", "counts", "rule"),
    [
        (4, 0, "work.rounds_impossible"),
        (-1, 0, "work.rounds_impossible"),
        (1, -1, "work.rounds_impossible"),
        (1, 26, "work.counts_beyond_round"),
        (3, 1, "work.counts_beyond_round"),
    ],
)
def test_impossible_rounds_are_refused_with_what_was_given(
    rounds: int, counts: int, rule: str
) -> None:
    with pytest.raises(CallroomError) as refused:
        rounds_and_counts(DESCENDING, FOURS, rounds, counts)
    assert refused.value.rule == rule
    assert refused.value.facts["rounds"] == rounds
    assert refused.value.facts["counts"] == counts


def test_rounds_are_said_only_where_nobody_can_mistake_them() -> None:
    single = part(Block(id="b", tasks=(Task(id="t", movement="m", amounts=(5,)),)))
    with_way_in = part(single.blocks[0], UNTIL_TIME.blocks[0], kind="work")
    as_far_as_you_can = part(
        Block(id="b", open_ended=True, tasks=(Task(id="row", movement="row", unit="metres"),)),
        kind="distance",
    )
    assert counted_in_rounds(DESCENDING)
    assert counted_in_rounds(UNTIL_TIME)
    for unclear in (single, with_way_in, as_far_as_you_can):
        assert not counted_in_rounds(unclear)
        with pytest.raises(CallroomError):
            as_rounds(unclear, FOURS, 5)


@given(st.integers(0, 400))
def test_any_work_survives_being_said_in_rounds(work: int) -> None:
    assert rounds_and_counts(UNTIL_TIME, FOURS, *as_rounds(UNTIL_TIME, FOURS, work)) == work
    within = min(work, 75)
    assert rounds_and_counts(DESCENDING, FOURS, *as_rounds(DESCENDING, FOURS, within)) == within


@pytest.mark.parametrize(
    ("metres", "whole"),
    # A way in of 20 m marked every 10, then laps of 50 m marked every 5 and back 12 m unmarked
    # on the way (one mark of 12): 20, 70, 82, 132, 144, ...
    [
        (0, 0),
        (9, 0),
        (19, 10),
        (20, 20),
        (24, 20),
        (29, 25),
        (73, 70),
        (81, 70),
        (82, 82),
        (88, 87),
        (143, 132),
    ],
)
def test_metres_are_complete_marked_stretches(metres: int, whole: int) -> None:
    course = part(
        Block(
            id="in", tasks=(Task(id="w", movement="walk", unit="metres", amounts=(20,), mark=10),)
        ),
        Block(
            id="laps",
            open_ended=True,
            tasks=(
                Task(id="out", movement="carry", unit="metres", amounts=(50,), mark=5),
                Task(id="back", movement="carry", unit="metres", amounts=(12,), mark=12),
            ),
        ),
        kind="distance",
    )
    assert whole_stretches(course, FOURS, metres) == whole


def test_a_machine_counts_every_metre_it_shows() -> None:
    machine = part(
        Block(id="b", open_ended=True, tasks=(Task(id="row", movement="row", unit="metres"),)),
        kind="distance",
    )
    assert whole_stretches(machine, FOURS, 1234) == 1234


def test_a_closed_course_ends_where_it_ends() -> None:
    course = part(
        Block(
            id="b",
            rounds=2,
            tasks=(Task(id="w", movement="walk", unit="metres", amounts=(20,), mark=10),),
        ),
        kind="distance",
    )
    assert whole_stretches(course, FOURS, 39) == 30
    assert whole_stretches(course, FOURS, 50) == 40


def test_a_divisions_own_load_goes_before_the_general_one() -> None:
    general = (PublishedLoad(category="women"), PublishedLoad(category="men"))
    own = PublishedLoad(division="fours", category="men")
    all_of_pairs = PublishedLoad(division="pairs")
    task = Task(id="t", movement="m", amounts=(1,), loads=(*general, own, all_of_pairs))
    assert loads_for(task, FOURS) == (own, general[0])
    assert loads_for(task, PAIRS) == (all_of_pairs,)


def test_a_task_nobody_of_the_division_may_do_is_left_out() -> None:
    mixed = part(
        Block(
            id="b",
            tasks=(
                Task(
                    id="w", movement="m", amounts=(7,), who=Who(kind="category", category="women")
                ),
                Task(id="m", movement="m", amounts=(5,), who=Who(kind="category", category="men")),
            ),
        )
    )
    assert [step.task for step in steps(mixed, PAIRS)] == ["w"]
    assert (total_counts(mixed, FOURS), total_counts(mixed, PAIRS)) == (12, 7)
