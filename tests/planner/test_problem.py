"""What is refused at the door of the timetable."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given

from callroom.planner import BadProblem, Break, Changeover, Link, Problem, Slot
from callroom.planner.problem import Stretch
from tests.planner.tiny_days import tiny_days


def slot(**changes: Any) -> Slot:
    facts: dict[str, Any] = {
        "id": "s", "workout": "w", "block": "d", "rank": 1, "floors": ("f",), "length_s": 60,
    }  # fmt: skip
    return Slot(**facts | changes)


def problem(**changes: Any) -> Problem:
    return Problem(**{"floors": ("f",), "slots": (slot(),)} | changes)


@pytest.mark.parametrize(
    "make",
    [
        lambda: slot(length_s=60.0),
        lambda: slot(rank=1.5),
        lambda: slot(judges=True),
        lambda: Break(id="b", start_s=0.5, end_s=2),  # type: ignore[arg-type]
        lambda: Changeover(same_s=0.0),  # type: ignore[arg-type]
        lambda: Link(before="s", after="s", lag_s="30"),  # type: ignore[arg-type]
        lambda: problem(opens_s=0.0),
        lambda: problem(closes_s=3600.0),
        lambda: problem(judges_limit=2.0),
        lambda: problem(grid_s=60.0),
    ],
)
def test_what_is_no_whole_number_is_refused_by_name(make: Callable[[], object]) -> None:
    with pytest.raises(BadProblem) as refused:
        make()
    assert refused.value.rule == "planner.not_whole"
    assert "." in str(refused.value.facts["where"])


@pytest.mark.parametrize(
    ("rule", "make"),
    [
        ("break_backwards", lambda: Break(id="b", start_s=5, end_s=5)),
        ("changeovers_fall", lambda: Changeover(same_s=5, division_s=4, workout_s=9)),
        ("changeovers_fall", lambda: Changeover(same_s=-1)),
        ("slot_empty", lambda: slot(length_s=0)),
        ("slot_empty", lambda: slot(floors=())),
        ("slot_empty", lambda: slot(judges=-1)),
        ("grid_too_fine", lambda: problem(grid_s=0)),
        ("rhythm_needs_blocks", lambda: problem(rhythm=True, shape="heats")),
        ("named_twice", lambda: problem(slots=(slot(), slot()))),
        ("named_twice", lambda: problem(floors=("f", "f"))),
        ("unknown", lambda: problem(slots=(slot(floors=("roof",)),))),
        ("unknown", lambda: problem(links=(Link(before="s", after="ghost"),))),
        ("unknown", lambda: problem(waits=(("s", "ghost"),))),
        ("unknown", lambda: problem(breaks=(Break(id="b", start_s=0, end_s=1, floors=("x",)),))),
    ],
)
def test_what_contradicts_itself_is_refused(rule: str, make: Callable[[], object]) -> None:
    with pytest.raises(BadProblem) as refused:
        make()
    assert refused.value.rule == f"planner.{rule}"


def test_stretches_lie_between_the_breaks_of_a_floor() -> None:
    day = problem(
        floors=("f", "g"),
        breaks=(
            Break(id="late", start_s=80, end_s=90, floors=("f",)),
            Break(id="early", start_s=10, end_s=20),
            Break(id="over", start_s=15, end_s=30),
        ),
        opens_s=5,
        closes_s=100,
    )
    assert day.stretches("f") == (Stretch(5, 10), Stretch(30, 80), Stretch(90, 100))
    assert day.stretches("g") == (Stretch(5, 10), Stretch(30, 100))


def test_without_a_closing_hour_the_last_stretch_has_no_end() -> None:
    assert problem(opens_s=7).stretches("f") == (Stretch(7, None),)


def test_a_floor_closed_before_it_opens_has_no_stretch() -> None:
    assert problem(opens_s=7, closes_s=7).stretches("f") == ()


@given(tiny_days())
def test_stretches_and_breaks_share_no_second(day: Problem) -> None:
    for floor in day.floors:
        stretches = day.stretches(floor)
        for stretch in stretches:
            assert stretch.start_s >= day.opens_s
            assert stretch.end_s is None or stretch.end_s > stretch.start_s
            for pause in day.breaks_on(floor):
                after = stretch.start_s >= pause.end_s
                before = stretch.end_s is not None and stretch.end_s <= pause.start_s
                assert after or before
