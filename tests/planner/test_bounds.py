"""What counting proves: the certificate, heats that come in turns, things that are shared."""

from msgspec.structs import replace

from callroom.planner import Break, Link, Need, Pool, Problem, Slot
from callroom.planner.judged import shared_s
from callroom.planner.solve import certificate_s, least_finish
from callroom.planner.solve.listed import listed
from callroom.planner.solve.turns import tightened


def slot(name: str, workout: str, rank: int, length_s: int, block: str = "a") -> Slot:
    return Slot(
        id=name, workout=workout, block=block, rank=rank, floors=("f",), length_s=length_s, judges=3
    )


LONG_THEN_SHORT = Problem(
    floors=("f",),
    slots=(
        slot("w1/1", "w1", 1, 40),
        slot("w1/2", "w1", 2, 40),
        slot("w2/1", "w2", 1, 30),
        slot("w2/2", "w2", 2, 30),
    ),
    links=(Link(before="w1/1", after="w2/1"), Link(before="w1/2", after="w2/2")),
    breaks=(Break(id="lunch", start_s=60, end_s=70),),
)


def test_the_certificate_knows_that_short_heats_come_after_long_ones() -> None:
    # The two short heats alone would fill the morning, but a long one has to come first.
    assert certificate_s(LONG_THEN_SHORT) == 170
    assert least_finish(LONG_THEN_SHORT).finish_s == 170
    free = replace(LONG_THEN_SHORT, links=())
    assert certificate_s(free) == 150


def test_the_certificate_knows_a_division_that_comes_whole() -> None:
    links = (Link(before="w1/2", after="w2/1"),)
    lunch = (Break(id="lunch", start_s=75, end_s=80),)
    day = replace(LONG_THEN_SHORT, links=links, breaks=lunch)
    assert certificate_s(day) == 180
    assert least_finish(day).finish_s == 180


def test_a_later_turn_starts_when_the_one_before_can_be_over() -> None:
    day = Problem(
        floors=("f", "g"),
        slots=(
            slot("a1", "w1", 1, 30),
            slot("a2", "w1", 2, 30),
            replace(slot("b1", "w2", 1, 20, "b"), floors=("g",)),
        ),
        links=(Link(before="a2", after="b1"),),
        turns=(("a1", "a2"), ("b1",)),
    )
    tight, finish_s = tightened(day)
    assert finish_s == 80
    assert tight.slot_table()["b1"].opens_s == 60
    assert least_finish(day).finish_s == 80


def test_lists_find_a_first_timetable_where_judges_are_scarce() -> None:
    slots = tuple(
        replace(slot(f"{w}{n}", w, n, 20), floors=(floor,))
        for w, floor in (("w1", "f"), ("w2", "g"))
        for n in range(1, 5)
    )
    day = Problem(floors=("f", "g"), slots=slots, judges_limit=5)
    # Three judges each and five in all: the eight heats come one after the other.
    placed = listed(day, 4, seed=1)
    assert max(place.start_s for place in placed) == 140
    assert least_finish(day).finish_s == shared_s(day) == 160


def test_what_floors_share_bounds_the_finish_unless_it_is_needed_outside_the_heat() -> None:
    needs = (Need(slot="w1/1", count=2, length_s=40), Need(slot="w1/2", count=2, length_s=40))
    day = replace(LONG_THEN_SHORT, pools=(Pool(id="bikes", limit=3, needs=needs),))
    assert shared_s(day) == 90  # one after the other, and lunch in between
    ahead = tuple(replace(need, from_s=-40) for need in needs)
    assert shared_s(replace(day, pools=(Pool(id="bikes", limit=3, needs=ahead),))) == 0
