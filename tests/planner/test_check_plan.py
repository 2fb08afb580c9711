"""Every rule of the check has a plan that breaks it, made by hand from a sound one."""

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from callroom.model import (
    Apart,
    Event,
    EventDay,
    Floor,
    FloorChoice,
    Heat,
    JudgeSpell,
    KitShare,
    LaneTeam,
    Lock,
    OrderInto,
    Pause,
    Plan,
    RestBetween,
    SharedKit,
    Team,
    TeamHours,
    Wishes,
)
from callroom.model.finding import Severity
from callroom.planner import check_plan
from callroom.planner.check.rules import RULES
from tests.planner import days

MINUTE = 60
LUNCH = Pause(id="lunch", name="Lunch", start_s=170 * MINUTE, length_s=30 * MINUTE)
WISHES = Wishes(
    first_heat_s=30 * MINUTE,
    finish_by_s=360 * MINUTE,
    pauses=(LUNCH,),
    judges_at_once=4,
    changeover_division_s=240,
    rest_s=20 * MINUTE,
)
EVENT = days.event(
    divisions=("a", "b"),
    floors=(Floor(id="main", name="Main", lanes=5, held_lanes=(5,)),),
    wishes=WISHES,
)
TEAMS = days.teams({"a": 12, "b": 4})

SATURDAY = EventDay(id="sat", name="Saturday", opens_s=0, closes_s=400 * MINUTE)
SUNDAY = EventDay(id="sun", name="Sunday", opens_s=1440 * MINUTE, closes_s=1800 * MINUTE)

Story = tuple[Event, tuple[Team, ...], Plan]


STARTS_MIN = {"w1": (30, 44, 58, 74), "w2": (96, 110, 124, 140)}
COMPANIES = (("a", 9), ("a", 5), ("a", 1), ("b", 1))
"""The division of each heat, and the rank of its best team."""


@pytest.fixture(scope="module")
def plan() -> Plan:
    """A sound plan, made by hand: the short changeovers are two minutes, the long ten."""
    made = tuple(
        Heat(
            id=f"{name}-{number}",
            workout=name,
            floor="main",
            number=number,
            start_s=start_min * MINUTE,
            end_s=start_min * MINUTE + EVENT.workout(name).floor_s,
            lanes=tuple(
                LaneTeam(lane=lane, team=f"{division}{best + lane - 1:02}") for lane in range(1, 5)
            ),
        )
        for name, starts in STARTS_MIN.items()
        for number, (start_min, (division, best)) in enumerate(
            zip(starts, COMPANIES, strict=True), 1
        )
    )
    return Plan(revision=1, inputs_digest="d", heats=made, pauses=(LUNCH,), finish_s=made[-1].end_s)


def heats(plan: Plan, *changed: Heat, without: str = "") -> Plan:
    """Return the plan with some heats put in the place of those with the same id."""
    by_id = {heat.id: heat for heat in plan.heats} | {heat.id: heat for heat in changed}
    by_id.pop(without, None)
    kept = tuple(by_id.values())
    return replace(plan, heats=kept, finish_s=max(heat.end_s for heat in kept))


def moved(plan: Plan, name: str, start_s: int) -> Plan:
    heat = plan.heat(name)
    length_s = heat.end_s - heat.start_s
    return heats(plan, replace(heat, start_s=start_s, end_s=start_s + length_s))


def lane(plan: Plan, name: str, *pairs: tuple[int, str]) -> Plan:
    places = tuple(LaneTeam(lane=lane, team=team) for lane, team in pairs)
    return heats(plan, replace(plan.heat(name), lanes=places))


def lanes_of(plan: Plan, name: str) -> tuple[tuple[int, str], ...]:
    return tuple((place.lane, place.team) for place in plan.heat(name).lanes)


def swapped(plan: Plan, one: str, other: str) -> Plan:
    """Let two heats change times."""
    first, second = plan.heat(one), plan.heat(other)
    return heats(
        plan,
        replace(first, start_s=second.start_s, end_s=second.end_s),
        replace(second, start_s=first.start_s, end_s=first.end_s),
    )


def wished(**wishes: object) -> Callable[[Plan], Story]:
    """Change a wish and leave the plan as it is."""
    return lambda plan: (replace(EVENT, wishes=replace(WISHES, **wishes)), TEAMS, plan)


def planned(change: Callable[[Plan], Plan]) -> Callable[[Plan], Story]:
    """Change the plan and leave the event as it is."""
    return lambda plan: (EVENT, TEAMS, change(plan))


# w1-1 to w1-3 are division a (w1-3 its leaders), w1-4 is division b; the same for w2.
BREACHES: dict[str, Callable[[Plan], Story]] = {
    "heat_named_twice": planned(
        lambda p: replace(p, heats=(*p.heats, replace(p.heat("w1-1"), start_s=0, end_s=720)))
    ),
    "unknown_workout": planned(lambda p: heats(p, replace(p.heat("w1-1"), workout="w9"))),
    "unknown_floor": planned(lambda p: heats(p, replace(p.heat("w1-1"), floor="roof"))),
    "other_floor": lambda p: (
        replace(EVENT, floors=(*EVENT.floors, Floor(id="yard", name="Yard", lanes=5))),
        TEAMS,
        heats(p, replace(p.heat("w1-1"), floor="yard")),
    ),
    "ends_before_start": planned(lambda p: heats(p, replace(p.heat("w1-1"), end_s=0))),
    "heat_too_short": planned(
        lambda p: heats(p, replace(p.heat("w1-1"), end_s=p.heat("w1-1").end_s - 1))
    ),
    "floor_doubled": planned(lambda p: moved(p, "w1-2", p.heat("w1-1").end_s - MINUTE)),
    "changeover_short": planned(lambda p: moved(p, "w1-2", p.heat("w1-1").end_s + MINUTE)),
    "pause_broken": planned(lambda p: moved(p, "w1-1", LUNCH.start_s + MINUTE)),
    "too_early": planned(lambda p: moved(p, "w1-1", WISHES.first_heat_s - MINUTE)),
    "too_late": planned(lambda p: moved(p, "w2-4", 350 * MINUTE)),
    "odd_start": planned(lambda p: moved(p, "w2-4", p.heat("w2-4").start_s + 30)),
    "judges_short": wished(judges_at_once=3),
    "before_release": lambda p: (
        replace(
            EVENT,
            workouts=(
                replace(EVENT.workouts[0], release_s=p.heat("w1-1").start_s + 1),
                *EVENT.workouts[1:],
            ),
        ),
        TEAMS,
        p,
    ),
    "rhythm_broken": planned(lambda p: moved(p, "w1-1", p.heat("w1-1").start_s - MINUTE)),
    "block_interrupted": planned(lambda p: swapped(p, "w1-3", "w1-4")),
    "numbers_out_of_order": planned(lambda p: heats(p, replace(p.heat("w1-1"), number=7))),
    "lane_doubled": planned(lambda p: lane(p, "w1-4", (1, "b01"), (1, "b02"))),
    "unknown_lane": planned(lambda p: lane(p, "w1-4", (6, "b01"))),
    "held_lane_used": planned(lambda p: lane(p, "w1-4", (5, "b01"))),
    "heat_empty": planned(lambda p: lane(p, "w1-4")),
    "unknown_team": planned(lambda p: lane(p, "w1-4", (1, "nobody"))),
    "team_twice": planned(lambda p: lane(p, "w1-1", (1, "b01"), *lanes_of(p, "w1-1")[1:])),
    "team_missing": planned(lambda p: lane(p, "w1-4", *lanes_of(p, "w1-4")[1:])),
    "mixed_heat": planned(lambda p: lane(p, "w1-1", *lanes_of(p, "w1-1")[1:], (4, "b01"))),
    "thin_heat": planned(lambda p: lane(p, "w1-4", *lanes_of(p, "w1-4")[2:])),
    "thin_heat_unavoidable": lambda p: (
        EVENT,
        tuple(team for team in TEAMS if team.id not in {"b03", "b04"}),
        lane(p, "w1-4", (2, "b01"), (3, "b02")),
    ),
    "leaders_not_last": planned(lambda p: swapped(p, "w1-1", "w1-3")),
    "team_in_two_places": planned(lambda p: moved(p, "w2-1", p.heat("w1-1").end_s - MINUTE)),
    "rest_short": planned(lambda p: moved(p, "w2-1", p.heat("w1-1").end_s + MINUTE)),
    "rest_not_promised": wished(order="reseeded", rest_s=60 * MINUTE),
    "workouts_out_of_order": planned(lambda p: swapped(p, "w1-4", "w2-4")),
    "long_wait": planned(lambda p: moved(p, "w2-4", 450 * MINUTE)),
    "revision_negative": planned(lambda p: replace(p, revision=-1)),
    "made_from_other_data": planned(lambda p: replace(p, inputs_digest="other")),
    "pauses_differ": wished(pauses=(replace(LUNCH, name="Long lunch"),)),
    "finish_wrong": planned(lambda p: replace(p, finish_s=p.finish_s - MINUTE)),
    "outside_days": wished(days=(replace(SATURDAY, closes_s=60 * MINUTE),)),
    "wrong_day": wished(days=(replace(SATURDAY, workouts=("w1",)),)),
    "kit_short": wished(
        shared_kit=(
            SharedKit(
                id="bikes", name="Bikes", count=7, shares=(KitShare(workout="w1", per_lane=2),)
            ),
        )
    ),
    "warm_ups_crowded": wished(warm_up_s=15 * MINUTE, warm_up_heats=1),
    "briefings_overlap": wished(briefing_s=15 * MINUTE),
    "no_time_to_warm_up": wished(warm_up_s=31 * MINUTE),
    "wave_overlapped": wished(waves=(("b",), ("a",))),
    "final_not_last": lambda p: (
        replace(EVENT, wishes=replace(WISHES, finals_last=True)),
        TEAMS,
        swapped(p, "w2-2", "w2-4"),
    ),
    "lock_time": wished(locks=(Lock(workout="w1", division="a", heat=2, at_s=30 * MINUTE),)),
    "lock_floor": wished(locks=(Lock(workout="w1", team="a01", floor="yard"),)),
    "lock_heat": wished(locks=(Lock(workout="w1", team="a01", heat=1),)),
    "lock_lane": wished(locks=(Lock(team="a01", lane=2),)),
    "lock_without_heat": wished(locks=(Lock(workout="w1", division="a", heat=9, at_s=0),)),
    "team_too_early": wished(team_hours=(TeamHours(team="b01", from_s=75 * MINUTE),)),
    "team_too_late": wished(team_hours=(TeamHours(team="b01", until_s=151 * MINUTE),)),
    "not_apart": wished(apart=(Apart(teams=("b01", "a01"), gap_s=5 * MINUTE),)),
    "wish_names_no_team": wished(team_hours=(TeamHours(team="nobody"),)),
}
OF_TIMETABLES = {
    "bound_wrong",
    "not_placed_once",
    "floor_not_allowed",
    "link_broken",
    "ranks_out_of_order",
    "pool_short",
    "slot_hours_broken",
}


def test_a_sound_plan_has_no_finding(plan: Plan) -> None:
    assert check_plan(EVENT, TEAMS, plan, inputs_digest="d") == ()


@pytest.mark.parametrize("rule", BREACHES)
def test_a_breach_is_found(rule: str, plan: Plan) -> None:
    event, teams, broken = BREACHES[rule](plan)
    found = check_plan(event, teams, broken, inputs_digest="d")
    ours = [finding for finding in found if finding.rule == f"check.{rule}"]
    assert ours
    listed = RULES[f"check.{rule}"]
    assert {finding.severity for finding in ours} == {listed.severity}
    assert all(set(finding.facts) == set(listed.facts) for finding in ours)


def test_every_rule_has_a_breach() -> None:
    names = {rule.rule.removeprefix("check.") for rule in RULES}
    assert names == BREACHES.keys() | OF_TIMETABLES


@pytest.mark.parametrize(
    ("rule", "severity"),
    [
        ("floor_doubled", "error"),
        ("lane_doubled", "error"),
        ("team_in_two_places", "error"),
        ("unknown_team", "error"),
        ("unknown_lane", "error"),
        ("team_missing", "error"),
        ("rest_short", "warning"),
        ("pause_broken", "warning"),
        ("mixed_heat", "warning"),
        ("thin_heat_unavoidable", "note"),
    ],
)
def test_the_impossible_is_an_error_and_a_broken_wish_a_warning(
    rule: str, severity: Severity
) -> None:
    assert RULES[f"check.{rule}"].severity == severity


def test_a_withdrawn_team_needs_no_heat_and_may_keep_its_lane(plan: Plan) -> None:
    without = lane(plan, "w2-4", *(p for p in lanes_of(plan, "w2-4") if p[1] != "b04"))
    rules = {f.rule for f in check_plan(EVENT, TEAMS, without, withdrawn={"b04"})}
    assert "check.team_missing" not in rules
    assert check_plan(EVENT, TEAMS, plan, withdrawn={"b04"}) == ()


@pytest.mark.parametrize(
    "wishes",
    [
        {"days": (SATURDAY, SUNDAY)},
        {"warm_up_s": 10 * MINUTE, "warm_up_heats": 1, "briefing_s": 5 * MINUTE},
        {"locks": (Lock(workout="w1", division="a", heat=2, at_s=44 * MINUTE, floor="main"),)},
        {"locks": (Lock(team="a01", heat=3, lane=1),)},
        {"team_hours": (TeamHours(team="b01", from_s=74 * MINUTE, until_s=152 * MINUTE),)},
        {"apart": (Apart(teams=("b01", "a01"), gap_s=4 * MINUTE),)},
        {"judge_spells": (JudgeSpell(from_s=0, until_s=60 * MINUTE, judges=4),)},
        {"orders": (OrderInto(workout="w1", order="reseeded"),)},
        {"rests": (RestBetween(before="w2", after="w1", rest_s=9000),)},
        {"floor_choices": (FloorChoice(workout="w1", floors=("main", "yard")),)},
    ],
    ids=lambda wishes: next(iter(wishes)),
)
def test_a_wish_that_is_kept_has_no_finding(wishes: dict[str, object], plan: Plan) -> None:
    event = replace(EVENT, wishes=replace(WISHES, **wishes))
    assert check_plan(event, TEAMS, plan, inputs_digest="d") == ()


@pytest.mark.parametrize(
    ("wishes", "rule"),
    [
        (
            {"judge_spells": (JudgeSpell(from_s=35 * MINUTE, until_s=40 * MINUTE, judges=3),)},
            "judges_short",
        ),
        (
            {
                "judge_spells": (
                    JudgeSpell(from_s=0, until_s=300 * MINUTE, judges=4),
                    JudgeSpell(from_s=75 * MINUTE, until_s=76 * MINUTE, judges=1),
                )
            },
            "judges_short",
        ),
        ({"rests": (RestBetween(before="w1", after="w2", rest_s=60 * MINUTE),)}, "rest_short"),
        (
            {"orders": (OrderInto(workout="w2", order="reseeded"),), "rest_s": 30 * MINUTE},
            "rest_not_promised",
        ),
        ({"finals_last": True}, "changeover_short"),
    ],
)
def test_a_wish_for_one_time_or_pair_is_judged_there(
    wishes: dict[str, object], rule: str, plan: Plan
) -> None:
    event = replace(EVENT, wishes=replace(WISHES, **wishes))
    found = {finding.rule for finding in check_plan(event, TEAMS, plan, inputs_digest="d")}
    assert f"check.{rule}" in found


def test_of_long_waits_the_longest_is_told_with_how_many_there_are(plan: Plan) -> None:
    late = moved(moved(plan, "w2-4", 480 * MINUTE), "w2-3", 450 * MINUTE)
    (wait,) = (one for one in check_plan(EVENT, TEAMS, late) if one.rule == "check.long_wait")
    lunch_s = LUNCH.length_s
    ended_s = plan.heat("w1-4").end_s
    assert wait.facts["wait_s"] == 480 * MINUTE - ended_s - lunch_s
    assert wait.facts["teams"] == len(plan.heat("w2-4").teams) + len(plan.heat("w2-3").teams)
    two_days = replace(EVENT, wishes=replace(WISHES, days=(SATURDAY, SUNDAY)))
    sunday = moved(plan, "w2-4", SUNDAY.opens_s)
    rules = {finding.rule for finding in check_plan(two_days, TEAMS, sunday)}
    assert "check.long_wait" not in rules, "a night is no wait"


def test_an_empty_plan_is_judged_too() -> None:
    found = check_plan(EVENT, TEAMS, Plan(revision=1, inputs_digest="", heats=()))
    missing = [finding for finding in found if finding.rule == "check.team_missing"]
    assert len(missing) == len(TEAMS) * len(EVENT.workouts)
