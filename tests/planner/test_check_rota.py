"""Every rule of the rota's check has a rota that breaks it."""

from collections.abc import Mapping

import pytest

from callroom.model import CrewMember, Duty, Owing, Plan, Rota, RotaRules, Shift
from callroom.planner.check import check_rota
from callroom.planner.check.rota_rules import RULES
from callroom.planner.rota.posts import judging_shifts
from tests.planner.rota_days import NO_POSTS, event, heat, judge, plan, row_of_heats, teams

ENTERED = teams(4)
DESK = Shift(id="desk", post="desk", start_s=0, end_s=3600)


def found(
    crew: tuple[CrewMember, ...],
    held: Mapping[str, str],
    day: Plan | None = None,
    *,
    rules: RotaRules = NO_POSTS,
    extra: tuple[Shift, ...] = (),
    revision: int = 1,
    more: tuple[Duty, ...] = (),
) -> set[str]:
    """Return the rules a rota breaks, open lanes left out unless they are all there is."""
    day = day or row_of_heats(2)
    by_id = {team.id: team for team in ENTERED}
    shifts = judging_shifts(event(), by_id, day) + extra
    duties = tuple(Duty(shift=shift, person=person) for shift, person in held.items())
    rota = Rota(plan_revision=revision, shifts=shifts, duties=(*duties, *more))
    return {one.rule for one in check_rota(event(), ENTERED, day, crew, rota=rota, rules=rules)}


ALL_HELD = {"w1-1/1": "a", "w1-1/2": "b", "w1-2/1": "a", "w1-2/2": "b"}
PAIR = (judge("a", experienced=True), judge("b", experienced=True))


def test_a_sound_rota_passes() -> None:
    assert found(PAIR, ALL_HELD) == set()


def test_a_lane_without_a_judge() -> None:
    assert found(PAIR, {k: v for k, v in ALL_HELD.items() if k != "w1-2/2"}) == {
        "check.rota_lane_open"
    }


def test_a_lane_whose_team_has_left_needs_no_judge() -> None:
    day = plan(heat("w1-1", start_min=0, teams=["T0", "gone"]))
    assert found(PAIR, {"w1-1/1": "a"}, day) == set()


def test_a_shift_that_ends_before_its_heat_does_not_count() -> None:
    day = plan(heat("w1-1", start_min=0, teams=["T0"]))
    short = Shift(id="short", post="judge", start_s=0, end_s=60, floor="main", heat="w1-1", lane=1)
    rota = Rota(plan_revision=1, shifts=(short,), duties=(Duty(shift="short", person="a"),))
    rules = {one.rule for one in check_rota(event(), ENTERED, day, PAIR, rota=rota, rules=NO_POSTS)}
    assert rules == {"check.rota_lane_open"}


TWO_FLOORS = plan(
    heat("w1-1", start_min=0, teams=["T0"]), heat("w2-1", start_min=13, teams=["T1"], floor="yard")
)
AT_ONCE = plan(
    heat("w1-1", start_min=0, teams=["T0"]), heat("w2-1", start_min=5, teams=["T1"], floor="yard")
)
FIVE = row_of_heats(5, lanes=1)

BREACHES = {
    "check.rota_shift_unknown": lambda: found(PAIR, ALL_HELD | {"ghost": "a"}),
    "check.rota_shift_doubled": lambda: found(
        PAIR, ALL_HELD, more=(Duty(shift="w1-1/1", person="b"),)
    ),
    "check.rota_person_unknown": lambda: found(PAIR, ALL_HELD | {"w1-1/1": "stranger"}),
    "check.rota_two_places": lambda: found(PAIR, {"w1-1/1": "a", "w2-1/1": "a"}, AT_ONCE),
    "check.rota_own_team": lambda: found(
        (judge("a", family_in=("T0",), experienced=True), PAIR[1]), ALL_HELD
    ),
    "check.rota_competing": lambda: found((judge("a", team="T1"), PAIR[1]), ALL_HELD),
    "check.rota_not_there": lambda: found((judge("a", free_until_s=1000), PAIR[1]), ALL_HELD),
    "check.rota_too_close_to_heat": lambda: found(
        (judge("a", team="T1"), PAIR[1]), {"w1-1/1": "a", "w2-1/1": "b"}, TWO_FLOORS
    ),
    "check.rota_no_time_to_walk": lambda: found(PAIR, {"w1-1/1": "a", "w2-1/1": "a"}, TWO_FLOORS),
    "check.rota_cannot": lambda: found(PAIR, ALL_HELD | {"desk": "a"}, extra=(DESK,)),
    "check.rota_not_experienced": lambda: found(
        (judge("a"), PAIR[1]), ALL_HELD, rules=RotaRules(posts=(), experienced_workouts=("w1",))
    ),
    "check.rota_no_break": lambda: found(PAIR, {f"w1-{n}/1": "a" for n in range(1, 6)}, FIVE),
    "check.rota_lane_open": lambda: found(PAIR, {}),
    "check.rota_post_open": lambda: found(PAIR, ALL_HELD, extra=(DESK,)),
    "check.rota_debt_left": lambda: found(
        PAIR, ALL_HELD, rules=RotaRules(posts=(), owing=(Owing(team="T3", heats=1),))
    ),
    "check.rota_other_revision": lambda: found(PAIR, ALL_HELD, revision=2),
    "check.rota_alone": lambda: found((judge("a"), judge("b")), ALL_HELD),
}


@pytest.mark.parametrize("rule", BREACHES)
def test_a_planted_breach_is_found(rule: str) -> None:
    assert rule in BREACHES[rule]()


def test_own_gym_is_counted() -> None:
    entered = teams(2, gyms=("north",))
    day = row_of_heats(2)
    shifts = judging_shifts(event(), {team.id: team for team in entered}, day)
    duties = tuple(Duty(shift=shift, person=person) for shift, person in ALL_HELD.items())
    crew = (judge("a", gym="north", experienced=True), PAIR[1])
    rota = Rota(plan_revision=1, shifts=shifts, duties=duties)
    (one,) = check_rota(event(), entered, day, crew, rota=rota, rules=NO_POSTS)
    assert one.rule == "check.rota_own_gym"
    assert one.facts == {"person": "a", "gym": "north", "times": 2}


def test_every_rule_is_broken_by_some_rota() -> None:
    assert set(BREACHES) | {"check.rota_own_gym"} == {rule.rule for rule in RULES}


def test_the_ends_of_a_break_are_exact() -> None:
    held = {f"w1-{n}/1": "a" for n in range(1, 6)}
    long_break = row_of_heats(5, lanes=1, pitch_min=22)
    assert "check.rota_no_break" not in found(PAIR, held, long_break)
    short_break = row_of_heats(5, lanes=1, pitch_min=21)
    assert "check.rota_no_break" in found(PAIR, held, short_break)
