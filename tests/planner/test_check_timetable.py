"""Timetables that break their question, made by hand from one that keeps to it."""

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from callroom.planner import (
    Break,
    Changeover,
    Dip,
    Either,
    Link,
    Need,
    Placed,
    Pool,
    Problem,
    Slot,
    Timetable,
    check_timetable,
)


def slot(name: str, workout: str, block: str, rank: int = 1) -> Slot:
    return Slot(
        id=name, workout=workout, block=block, rank=rank, floors=("f",), length_s=10, judges=2
    )


PROBLEM = Problem(
    floors=("f", "g"),
    slots=(
        slot("1a1", "1", "a", 1),
        slot("1a2", "1", "a", 2),
        slot("1a3", "1", "a", 3),
        slot("1b", "1", "b"),
        replace(slot("2a1", "2", "a", 1), floors=("g",)),
        replace(slot("2b", "2", "b"), floors=("g",)),
    ),
    links=(Link(before="1a1", after="2a1", lag_s=20),),
    eithers=(
        Either(
            one=Link(before="1b", after="2b", lag_s=30),
            other=Link(before="2b", after="1b", lag_s=30),
        ),
    ),
    breaks=(Break(id="lunch", start_s=70, end_s=80),),
    changeover=Changeover(same_s=2, division_s=4, workout_s=6),
    opens_s=6,
    closes_s=120,
    grid_s=2,
    rhythm=True,
    shape="blocks",
    judges_limit=4,
)
SOUND = Timetable(
    status="solved",
    placed=(
        Placed(slot="1a1", floor="f", start_s=6),
        Placed(slot="1a2", floor="f", start_s=18),
        Placed(slot="1a3", floor="f", start_s=30),
        Placed(slot="1b", floor="f", start_s=44),
        Placed(slot="2a1", floor="g", start_s=36),
        Placed(slot="2b", floor="g", start_s=84),
    ),
    finish_s=94,
    certificate_s=94,
)


BIKES = Pool(
    id="bikes",
    limit=4,
    needs=(
        Need(slot="1a3", count=2, length_s=10),
        Need(slot="2a1", count=1, from_s=-4, length_s=14),
    ),
    dips=(Dip(start_s=34, end_s=40, count=1),),
)


def with_slot(name: str, **changes: int) -> Problem:
    slots = tuple(replace(slot, **changes) if slot.id == name else slot for slot in PROBLEM.slots)
    return replace(PROBLEM, slots=slots)


def moved(**starts: int) -> Timetable:
    """Return the sound timetable with some slots at other times, its finish put right."""
    names = {f"s{place.slot}": place for place in SOUND.placed}
    placed = tuple(
        replace(place, start_s=starts.get(name, place.start_s)) for name, place in names.items()
    )
    return replace(SOUND, placed=placed, finish_s=max(p.start_s + 10 for p in placed))


BREACHES: dict[str, Callable[[], tuple[Problem, Timetable]]] = {
    "not_placed_once": lambda: (PROBLEM, replace(SOUND, placed=SOUND.placed[:1] + SOUND.placed)),
    "floor_not_allowed": lambda: (
        PROBLEM,
        replace(SOUND, placed=(*SOUND.placed[:5], replace(SOUND.placed[5], floor="f"))),
    ),
    "link_broken": lambda: (PROBLEM, moved(s2a1=34)),
    "ranks_out_of_order": lambda: (PROBLEM, moved(s1a1=18, s1a2=6)),
    "floor_doubled": lambda: (PROBLEM, moved(s1a2=14)),
    "changeover_short": lambda: (PROBLEM, moved(s1b=42)),
    "pause_broken": lambda: (PROBLEM, moved(s2b=72)),
    "too_early": lambda: (PROBLEM, moved(s1a1=4)),
    "too_late": lambda: (PROBLEM, moved(s2b=112)),
    "odd_start": lambda: (PROBLEM, moved(s2b=85)),
    "judges_short": lambda: (replace(PROBLEM, judges_limit=3), SOUND),
    "rhythm_broken": lambda: (PROBLEM, moved(s1a3=32, s1b=46)),
    "block_interrupted": lambda: (PROBLEM, moved(s1a3=44, s1b=30)),
    "finish_wrong": lambda: (PROBLEM, replace(SOUND, finish_s=100)),
    "slot_hours_broken": lambda: (with_slot("1b", closes_s=53), SOUND),
    "pool_short": lambda: (replace(PROBLEM, pools=(replace(BIKES, limit=2),)), SOUND),
    "bound_wrong": lambda: (PROBLEM, replace(SOUND, certificate_s=95)),
}


def test_a_sound_timetable_has_no_finding() -> None:
    assert check_timetable(PROBLEM, SOUND) == ()


@pytest.mark.parametrize("rule", BREACHES)
def test_a_breach_is_found(rule: str) -> None:
    problem, broken = BREACHES[rule]()
    assert f"check.{rule}" in {finding.rule for finding in check_timetable(problem, broken)}


def test_hours_and_pools_that_are_kept_have_no_finding() -> None:
    problem = replace(with_slot("1b", opens_s=44, closes_s=54), pools=(BIKES,))
    assert check_timetable(problem, SOUND) == ()


def test_one_of_two_links_is_enough_and_none_is_not() -> None:
    either = PROBLEM.eithers[0]
    assert SOUND.starts()["2b"] >= SOUND.starts()["1b"] + 10 + either.one.lag_s
    near = moved(s2b=54, s2a1=36)
    assert "check.link_broken" in {finding.rule for finding in check_timetable(PROBLEM, near)}


def test_an_unknown_slot_is_found() -> None:
    strange = replace(SOUND, placed=(*SOUND.placed, Placed(slot="9", floor="f", start_s=90)))
    found = [f for f in check_timetable(PROBLEM, strange) if f.rule == "check.not_placed_once"]
    assert [finding.facts["heat"] for finding in found] == ["9"]
