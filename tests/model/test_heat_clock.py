"""The clock of a workout: parts one after the other, and rounds that start on the clock."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

from callroom.model import Block, ClockSpan, Part, Task, Workout, clock_spans

TASK = Task(id="t", movement="air_squat", amounts=(10,))


def part(part_id: str, cap_s: int, *blocks: Block, starts_s: int = 0) -> Part:
    held = blocks or (Block(id="b", tasks=(TASK,)),)
    return Part(id=part_id, kind="time", cap_s=cap_s, starts_s=starts_s, blocks=held)


def spans(*parts: Part) -> tuple[ClockSpan, ...]:
    return clock_spans(Workout(id="w", name="W", floor="main", parts=parts))


def edges(found: tuple[ClockSpan, ...]) -> list[tuple[int, int, str, int, int]]:
    return [
        (span.from_ms // 1000, span.until_ms // 1000, span.part, span.round_number, span.rounds)
        for span in found
    ]


def test_one_part_is_one_span() -> None:
    assert edges(spans(part("a", 600))) == [(0, 600, "a", 0, 0)]


def test_between_two_parts_is_a_rest() -> None:
    found = spans(part("a", 180), part("b", 300, starts_s=240))
    assert edges(found) == [(0, 180, "a", 0, 0), (180, 240, "", 0, 0), (240, 540, "b", 0, 0)]


def test_a_part_that_overlaps_begins_at_its_own_start() -> None:
    found = spans(part("a", 600), part("b", 300, starts_s=480))
    assert edges(found) == [(0, 480, "a", 0, 0), (480, 780, "b", 0, 0)]


def test_rounds_on_the_clock_are_spans_and_the_rest_follows() -> None:
    every = Block(id="e", tasks=(TASK,), rounds=3, every_s=120)
    found = spans(part("a", 600, every, Block(id="b", tasks=(TASK,))))
    assert edges(found) == [
        (0, 120, "a", 1, 3),
        (120, 240, "a", 2, 3),
        (240, 360, "a", 3, 3),
        (360, 600, "a", 0, 0),
    ]


def test_rounds_without_end_go_on_until_the_cap() -> None:
    every = Block(id="e", tasks=(TASK,), open_ended=True, every_s=60)
    assert edges(spans(part("a", 150, every))) == [
        (0, 60, "a", 1, 3),
        (60, 120, "a", 2, 3),
        (120, 150, "a", 3, 3),
    ]


@given(
    st.lists(
        st.tuples(
            st.integers(30, 900), st.integers(0, 300), st.integers(1, 5), st.integers(0, 200)
        ),
        min_size=1,
        max_size=3,
    )
)
def test_there_is_no_gap_and_no_overlap(given_parts: list[tuple[int, int, int, int]]) -> None:
    parts, starts_s = [], 0
    for index, (cap_s, gap_s, rounds, every_s) in enumerate(given_parts):
        block = Block(id="b", tasks=(TASK,), rounds=rounds, every_s=every_s)
        parts.append(part(f"p{index}", cap_s, block, starts_s=starts_s))
        starts_s += cap_s + gap_s
    found = spans(*parts)
    assert found[0].from_ms == 0
    assert all(one.until_ms == other.from_ms for one, other in itertools.pairwise(found))
    assert all(span.from_ms < span.until_ms for span in found)
    assert found[-1].until_ms == max(one.starts_s + one.cap_s for one in parts) * 1000
