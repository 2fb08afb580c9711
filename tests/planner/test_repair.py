"""A plan meets the day: every repair passes its judge, and changes as little as it can."""

import string
from collections.abc import Iterable
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import (
    Event,
    Floor,
    Heat,
    LaneTeam,
    Pause,
    Plan,
    RestBetween,
    Team,
    TeamHours,
    Wishes,
)
from callroom.model.catalogue import CatalogueRule
from callroom.planner import Limits, PlanRequest, plan_day
from callroom.planner.check.repair import check_repair
from callroom.planner.check.repair_rules import RULES as CHECK_RULES
from callroom.planner.day_now import DayNow, LostLane, Notice, Repaired
from callroom.planner.repair import (
    At,
    Reordering,
    keep_order,
    night_before,
    repair,
    repair_reordered,
    rest_of,
)
from callroom.planner.repair.rules import RULES
from callroom.planner.solve import reorder, solve
from callroom.views.sentences import repair as said
from callroom.views.sentences import sentence
from tests.planner import days

MINUTE = 60
UNAVOIDABLE = {"check.too_late", "check.thin_heat"}
"""What a day with a lane, a floor or an hour less may come to; then it is said in words."""
DEMO, DEMO_TEAMS = days.demo_like()


@cache
def demo_plan() -> Plan:
    plan = plan_day(PlanRequest(event=DEMO, teams=DEMO_TEAMS), solve).plan
    assert plan is not None
    return plan


def begun_before(plan: Plan, now_s: int, late_s: int = 0) -> dict[str, int]:
    return {h.id: h.start_s + late_s for h in plan.heats if h.start_s + late_s <= now_s}


def errors(found: Repaired) -> list[str]:
    return [finding.rule for finding in found.findings]


def starts(plan: Plan) -> dict[str, int]:
    return {heat.id: heat.start_s for heat in plan.heats}


# ---- a small day by hand: three heats of two workouts on one floor --------------------------


def small() -> tuple[Event, tuple[Team, ...], Plan]:
    """Return heats w1-1, w1-2 (ten minutes, two between) and w2-1, w2-2 half an hour later."""
    event = days.event(
        floors=(Floor(id="main", name="Main", lanes=4),),
        wishes=Wishes(
            rest_s=20 * MINUTE,
            changeover_same_s=2 * MINUTE,
            changeover_division_s=2 * MINUTE,
            changeover_workout_s=5 * MINUTE,
            pauses=(Pause(id="p", name="Lunch", start_s=100 * MINUTE, length_s=30 * MINUTE),),
        ),
        workouts=(days.workout("w1", cap_min=8), days.workout("w2", cap_min=8)),
    )
    teams = days.teams({"a": 7})
    first, second = [f"a0{n}" for n in (5, 6, 7)], [f"a0{n}" for n in (1, 2, 3, 4)]
    plan = Plan(
        revision=3,
        inputs_digest="",
        heats=(
            heat("w1", 1, 0, first),
            heat("w1", 2, 12, second),
            heat("w2", 1, 40, first),
            heat("w2", 2, 52, second),
        ),
        pauses=event.wishes.pauses,
        finish_s=62 * MINUTE,
    )
    return event, teams, plan


def heat(workout: str, number: int, start_min: int, teams: Iterable[str]) -> Heat:
    return Heat(
        id=f"{workout}-{number}",
        workout=workout,
        floor="main",
        number=number,
        start_s=start_min * MINUTE,
        end_s=(start_min + 10) * MINUTE,
        lanes=tuple(LaneTeam(lane=n, team=team) for n, team in enumerate(teams, start=1)),
    )


def minutes(plan: Plan) -> dict[str, float]:
    return {heat.id: heat.start_s / MINUTE for heat in plan.heats}


def test_a_rest_of_its_own_between_two_workouts_is_kept() -> None:
    event, teams, plan = small()
    late = DayNow(now_s=18 * MINUTE, begun_s={"w1-1": 8 * MINUTE}, over_s={"w1-1": 18 * MINUTE})
    usual = repair(event, teams, plan, late)
    assert minutes(usual.plan)["w2-1"] == 40
    rests = (RestBetween(before="w1", after="w2", rest_s=25 * MINUTE),)
    longer = replace(event, wishes=replace(event.wishes, rests=rests))
    found = repair(longer, teams, plan, late)
    assert minutes(found.plan)["w2-1"] == 43
    assert errors(found) == []


def test_on_time_nothing_changes() -> None:
    event, teams, plan = small()
    found = repair(event, teams, plan, DayNow(now_s=60, begun_s={"w1-1": 0}))
    assert (found.how, found.plan, found.notices, found.cost) == ("unchanged", plan, (), 0)
    assert found.findings == ()


def test_a_late_heat_by_hand() -> None:
    event, teams, plan = small()
    now = DayNow(now_s=14 * MINUTE, begun_s={"w1-1": 5 * MINUTE})
    found = repair(event, teams, plan, now)
    # It ends at 15; the next may follow at 17; what comes after is not reached by it.
    assert minutes(found.plan) == {"w1-1": 0, "w1-2": 17, "w2-1": 40, "w2-2": 52}
    assert (found.how, found.plan.revision, errors(found)) == ("kept_order", 4, [])
    (notice,) = found.notices
    assert (notice.heat, notice.teams) == ("w1-2", ("a01", "a02", "a03", "a04"))
    said_so = sentence(notice.said, event=event)
    assert said_so == "Heat w1-2 starts at 08:17 on floor main, 5:00 later than 08:12."
    # Four teams, next in line: weight four, five minutes and five for being told.
    assert found.cost == 4 * 4 * (5 + 5)


def test_a_long_delay_keeps_rests_and_goes_round_lunch() -> None:
    event, teams, plan = small()
    now = DayNow(now_s=70 * MINUTE, over_s={"w1-1": 70 * MINUTE})
    found = repair(event, teams, plan, now)
    # w1-2 at 72 to 82; w2-1 rested at 90, but it would run into lunch at 100 only if later.
    assert minutes(found.plan) == {"w1-1": 0, "w1-2": 72, "w2-1": 90, "w2-2": 130}
    assert errors(found) == []


def test_a_withdrawn_team_leaves_its_lane_empty_and_nothing_is_solved() -> None:
    event, teams, plan = small()
    found = repair(event, teams, plan, DayNow(now_s=15 * MINUTE, begun_s={"w1-1": 0, "w1-2": 720},
                                              withdrawn=("a05",)))  # fmt: skip
    assert (found.how, found.plan) == ("unchanged", plan)
    assert [(n.said.rule, n.heat, n.teams) for n in found.notices] == [
        ("tell.lane_empty", "w2-1", ())
    ]
    assert errors(found) == []


def test_a_heat_without_any_team_left_is_not_run() -> None:
    event, teams, plan = small()
    now = DayNow(now_s=30 * MINUTE, over_s={"w1-1": 600, "w1-2": 1320},
                 withdrawn=("a05", "a06", "a07"))  # fmt: skip
    found = repair(event, teams, plan, now)
    assert "w2-1" not in starts(found.plan)
    assert [notice.said.rule for notice in found.notices] == ["tell.heat_closed"]
    assert errors(found) == []


def test_a_lost_lane_moves_one_team_to_the_heat_with_room() -> None:
    event, teams, plan = small()
    now = DayNow(now_s=0, lost_lanes=(LostLane(floor="main", lane=4),))
    found = repair(event, teams, plan, now)
    # Three lanes: 3 + 4 teams need a third heat; the fourth lane's team and a companion take it.
    assert [h.id for h in found.plan.heats if h.workout == "w1"] == ["w1-1", "w1-2", "w1-3"]
    assert all(place.lane != 4 for heat in found.plan.heats for place in heat.lanes)
    assert set(errors(found)) <= UNAVOIDABLE
    room = replace(plan, heats=(heat("w1", 1, 0, ["a05", "a06"]), heat("w1", 2, 12, ["a01", "a02", "a03"]),
                                heat("w1", 3, 24, ["a04"])))  # fmt: skip
    lane = DayNow(now_s=0, lost_lanes=tuple(LostLane(floor="main", lane=n) for n in (3, 4)))
    one = replace(event, workouts=event.workouts[:1])
    found = repair(one, teams[:6], room, lane)
    assert {team: h.id for h in found.plan.heats for team in h.teams}["a03"] == "w1-3"
    assert [notice.said.rule for notice in found.notices] == ["tell.team_heat"]
    assert errors(found) == ["check.thin_heat"]


def test_a_team_changes_its_lane_before_its_heat() -> None:
    event, teams, plan = small()
    now = DayNow(now_s=0, lost_lanes=(LostLane(floor="main", lane=2),), withdrawn=("a01",))
    found = repair(event, teams, plan, now)
    rules = {(notice.heat, notice.said.rule) for notice in found.notices}
    assert ("w1-1", "tell.team_lane") in rules
    assert {h.id for h in found.plan.heats} == {h.id for h in plan.heats}
    assert errors(found) == []


def test_broken_kit_and_a_missing_judge_make_heats_smaller() -> None:
    event, teams, plan = small()
    kit = repair(event, teams, plan, DayNow(now_s=0, kit_lanes={"w2": 3}))
    assert {h.id for h in kit.plan.heats if h.workout == "w1"} == {"w1-1", "w1-2"}
    assert max(len(h.lanes) for h in kit.plan.heats if h.workout == "w2") == 3
    assert set(errors(kit)) == {"check.thin_heat"}
    judges = repair(event, teams, plan, DayNow(now_s=0, judges_at_once=3))
    assert max(len(h.lanes) for h in judges.plan.heats) == 3
    assert set(errors(judges)) <= UNAVOIDABLE


def test_a_team_without_any_lane_is_reported() -> None:
    event, teams, plan = small()
    lost = tuple(LostLane(floor="main", lane=n) for n in (1, 2, 3, 4))
    found = repair(event, teams, plan, DayNow(now_s=0, lost_lanes=lost))
    assert errors(found).count("tell.no_room") == 14


def test_a_lost_floor_moves_to_the_other() -> None:
    plan = demo_plan()
    now_s = 3 * 3600
    begun = begun_before(plan, now_s)
    over = {name: start + 60 for name, start in begun.items()}
    now = DayNow(now_s=now_s, over_s=over, lost_floors=("course",))
    found = repair(DEMO, DEMO_TEAMS, plan, now)
    assert {h.floor for h in found.plan.heats if h.id not in begun} == {"main"}
    assert errors(found) == ["check.too_late"], "one floor does not do by the hour wished"
    assert any(notice.said.rule == "tell.heat_floor" for notice in found.notices)


def test_a_heat_of_present_teams_may_be_run_early_and_no_other() -> None:
    event, teams, plan = small()
    later = {h.id: h for h in plan.heats}["w1-2"]
    early = replace(later, start_s=11 * MINUTE, end_s=21 * MINUTE)
    changed = replace(plan, revision=4, heats=tuple(early if h is later else h for h in plan.heats))
    told = (notice(later.id, later.teams),)
    event = replace(event, wishes=replace(event.wishes, changeover_same_s=60))
    now = DayNow(now_s=10 * MINUTE, over_s={"w1-1": 10 * MINUTE})
    rules = [f.rule for f in check_repair(event, teams, plan, changed, now=now, notices=told)]
    assert rules == ["check.repair_too_early"] * 4
    here = replace(now, present=later.teams)
    assert check_repair(event, teams, plan, changed, now=here, notices=told) == ()


def notice(heat_id: str, teams: tuple[str, ...]) -> Notice:
    found = RULES.found("tell.heat_floor", "", heat=heat_id, floor="", new_at_s=0)
    return Notice(heat=heat_id, teams=teams, said=found)


# ---- another order --------------------------------------------------------------------------


def crossing() -> tuple[Event, tuple[Team, ...], Plan]:
    """Return two divisions in turn: a's second workout waits for its rest, b could go first."""
    event = days.event(
        divisions=("a", "b"),
        floors=(Floor(id="main", name="Main", lanes=4), Floor(id="side", name="Side", lanes=4)),
        workouts=(days.workout("w1", cap_min=8, floor="side"), days.workout("w2", cap_min=8)),
        wishes=Wishes(rest_s=20 * MINUTE, constant_rhythm=False),
    )
    teams = days.teams({"a": 4, "b": 4})
    a, b = [f"a0{n}" for n in (1, 2, 3, 4)], [f"b0{n}" for n in (1, 2, 3, 4)]
    plan = Plan(
        revision=1,
        inputs_digest="",
        heats=(
            replace(heat("w1", 1, 0, b), floor="side"),
            replace(heat("w1", 2, 15, a), floor="side"),
            heat("w2", 1, 50, a),
            heat("w2", 2, 65, b),
        ),
    )
    return event, teams, plan


def test_another_order_is_offered_where_it_pays() -> None:
    event, teams, plan = crossing()
    # Workout 1 of division a ends an hour late; b need not wait for a's rest, if it is present.
    now = DayNow(now_s=80 * MINUTE, over_s={"w1-1": 600, "w1-2": 80 * MINUTE})
    kept = repair(event, teams, plan, now)
    assert minutes(kept.plan)["w2-1"] == 100
    assert minutes(kept.plan)["w2-2"] == 115
    better = repair_reordered(event, teams, plan, now, reorder=reorder)
    assert better is not None
    assert (better.how, errors(better)) == ("reordered", [])
    assert minutes(better.plan)["w2-2"] == 80
    assert minutes(better.plan)["w2-1"] == 100
    assert better.cost < kept.cost


def test_another_order_is_not_offered_where_it_does_not_pay() -> None:
    event, teams, plan = small()
    now = DayNow(now_s=14 * MINUTE, begun_s={"w1-1": 5 * MINUTE})
    assert repair_reordered(event, teams, plan, now, reorder=reorder) is None
    on_time = DayNow(now_s=60, begun_s={"w1-1": 0})

    def not_asked(_question: Reordering, _limits: Limits) -> dict[str, At] | None:
        pytest.fail("nothing is to be repaired")

    assert repair_reordered(event, teams, plan, on_time, reorder=not_asked) is None


def test_another_order_is_offered_where_it_keeps_a_wish_whatever_it_costs() -> None:
    event, teams, plan = crossing()
    now = DayNow(now_s=41 * MINUTE, over_s={"w1-1": 600, "w1-2": 40 * MINUTE})
    usual = repair(event, teams, plan, now)
    assert minutes(usual.plan)["w2-2"] == 75
    assert errors(usual) == []
    assert repair_reordered(event, teams, plan, now, reorder=reorder) is None
    leaves = (TeamHours(team="b01", until_s=80 * MINUTE),)
    event = replace(event, wishes=replace(event.wishes, team_hours=leaves))
    assert errors(repair(event, teams, plan, now)) == ["check.team_too_late"]
    better = repair_reordered(event, teams, plan, now, reorder=reorder)
    assert better is not None
    assert errors(better) == []
    assert minutes(better.plan)["w2-2"] == 65
    assert better.cost > usual.cost


def test_called_heats_keep_their_turn() -> None:
    event, teams, plan = crossing()
    now = DayNow(now_s=80 * MINUTE, over_s={"w1-1": 600, "w1-2": 80 * MINUTE}, called=("w2-1",))
    assert repair_reordered(event, teams, plan, now, reorder=reorder) is None


@settings(max_examples=15, deadline=None)
@given(st.data())
def test_random_troubles_of_the_demo_day_are_repaired_soundly(data: st.DataObject) -> None:
    plan = demo_plan()
    now_s = data.draw(st.integers(1, 8)) * 3600
    late_s = data.draw(st.sampled_from((0, 7 * MINUTE, 40 * MINUTE)))
    begun = begun_before(plan, now_s)
    over = {n: max(now_s - 600, s + 60) if late_s == 0 else s + 660 for n, s in begun.items()}
    now = DayNow(
        now_s=now_s,
        over_s={name: min(end_s, now_s) for name, end_s in over.items()},
        begun_s=begun,
        ready_s=data.draw(st.sampled_from(({}, {"main": now_s + late_s}))),
        withdrawn=tuple(
            data.draw(st.sets(st.sampled_from([t.id for t in DEMO_TEAMS]), max_size=4))
        ),
        lost_lanes=tuple(
            LostLane(floor="main", lane=n)
            for n in data.draw(st.sets(st.integers(1, 7), max_size=2))
        ),
        judges_at_once=data.draw(st.sampled_from((None, 14, 9))),
    )
    found = repair(DEMO, DEMO_TEAMS, plan, now)
    assert set(errors(found)) <= UNAVOIDABLE


@pytest.mark.parametrize("delay_min", [3, 12, 45])
def test_the_kept_order_is_the_best_for_that_order(delay_min: int) -> None:
    event, teams, plan = small()
    now = DayNow(now_s=delay_min * MINUTE, ready_s={"main": delay_min * MINUTE})
    rest = rest_of(event, teams, plan, now)
    placed = keep_order(rest)
    for name, at in placed.items():
        for earlier_s in range(0, at.start_s, MINUTE):
            trial = {**placed, name: At(at.floor, earlier_s)}
            heats = tuple(
                replace(h, start_s=trial[h.id].start_s, end_s=trial[h.id].start_s + 600)
                for h in plan.heats
            )
            # Any earlier start of one heat, the others as they are, is refused by the judge.
            changed = replace(plan, revision=4, heats=heats)
            found = check_repair(event, teams, plan, changed, now=now, notices=())
            real = [f for f in found if f.rule != "check.repair_not_told"]
            assert real, (name, earlier_s)


# ---- the night before -----------------------------------------------------------------------


def test_a_thin_heat_is_closed_into_the_lanes_that_became_free() -> None:
    event, teams, plan = small()
    found = night_before(event, teams, plan, ["a01", "a02", "a05"])
    assert len(found.plan.heats) == 2
    assert errors(found) == []
    assert {n.said.rule for n in found.notices} == {"tell.team_heat", "tell.heat_closed"}
    assert starts(found.plan).items() <= starts(plan).items()
    moved = [team for n in found.notices for team in n.teams]
    assert len(moved) == len(set(moved)) == 4  # two teams in each workout, nobody twice


def test_a_thin_heat_that_cannot_be_closed_is_filled_up() -> None:
    event, teams, plan = small()
    found = night_before(event, teams, plan, ["a05"])
    assert {h.id: len(h.lanes) for h in found.plan.heats} == {
        "w1-1": 3, "w1-2": 3, "w2-1": 3, "w2-2": 3,
    }  # fmt: skip
    assert errors(found) == []


def test_a_move_that_cuts_a_rest_is_not_made() -> None:
    event, teams, plan = small()
    tight = replace(event, wishes=replace(event.wishes, rest_s=28 * MINUTE))
    found = night_before(tight, teams, plan, ["a05"])
    # Teams of the later heat of workout 1 rest 28 minutes only before their own next heat.
    assert errors(found) == []


def test_without_drop_outs_the_night_is_quiet() -> None:
    event, teams, plan = small()
    found = night_before(event, teams, plan, [])
    assert (found.how, found.plan, found.notices) == ("unchanged", plan, ())


@settings(max_examples=25, deadline=None)
@given(st.sets(st.sampled_from([team.id for team in DEMO_TEAMS]), max_size=12))
def test_any_drop_outs_of_the_demo_day_leave_a_sound_plan(gone: set[str]) -> None:
    found = night_before(DEMO, DEMO_TEAMS, demo_plan(), sorted(gone))
    assert errors(found) == []
    assert starts(found.plan).items() <= starts(demo_plan()).items()
    assert not gone & {team for h in found.plan.heats for team in h.teams}


# ---- planted breaches -----------------------------------------------------------------------


def late() -> tuple[Event, tuple[Team, ...], Plan, DayNow, Repaired]:
    event, teams, plan = small()
    now = DayNow(now_s=14 * MINUTE, begun_s={"w1-1": 5 * MINUTE})
    return event, teams, plan, now, repair(event, teams, plan, now)


def with_heat(plan: Plan, name: str, start_min: float, **changes: object) -> Plan:
    def changed(one: Heat) -> Heat:
        start_s = int(start_min * MINUTE)
        moved = replace(one, start_s=start_s, end_s=start_s + one.end_s - one.start_s)
        return replace(moved, **changes)

    return replace(plan, heats=tuple(changed(h) if h.id == name else h for h in plan.heats))


BREACHES: dict[str, tuple[str, float, dict[str, object], dict[str, object]]] = {
    "check.repair_rewrites": ("w1-1", 1, {}, {}),
    "check.repair_in_the_past": ("w1-2", 13, {}, {}),
    "check.repair_too_early": ("w2-1", 39, {}, {}),
    "check.repair_lost_lane": ("w1-2", 17, {}, {"lost_lanes": (LostLane(floor="main", lane=1),)}),
    "check.repair_lost_floor": ("w1-2", 17, {}, {"lost_floors": ("main",)}),
    "check.repair_not_ready": ("w1-2", 17, {}, {"ready_s": {"main": 18 * MINUTE}}),
    "check.repair_no_kit": ("w1-2", 17, {}, {"kit_lanes": {"w1": 3}}),
    "check.repair_team_lost": ("w1-2", 17, {"lanes": ()}, {}),
    "check.repair_not_told": ("w2-2", 53, {}, {}),
    "check.repair_told_for_nothing": ("w1-2", 12, {}, {}),
    "check.repair_floor_doubled": ("w1-2", 14.5, {}, {}),
    "check.repair_changeover_short": ("w1-2", 16, {}, {}),
    "check.repair_rest_short": ("w1-2", 25, {}, {}),
    "check.repair_pause_broken": ("w2-2", 95, {}, {}),
    "check.repair_judges_short": ("w1-2", 17, {}, {"judges_at_once": 3}),
}


@pytest.mark.parametrize("rule", BREACHES)
def test_a_planted_breach_is_found(rule: str) -> None:
    event, teams, plan, now, sound = late()
    name, start_min, changes, trouble = BREACHES[rule]
    broken = with_heat(sound.plan, name, start_min, **changes)
    what = replace(now, **trouble)
    found = check_repair(event, teams, plan, broken, now=what, notices=sound.notices)
    assert rule in {finding.rule for finding in found}
    clean = check_repair(event, teams, plan, sound.plan, now=now, notices=sound.notices)
    assert rule not in {finding.rule for finding in clean}


def test_a_changed_plan_needs_the_next_revision() -> None:
    event, teams, plan, now, sound = late()
    same = replace(sound.plan, revision=3)
    (finding,) = check_repair(event, teams, plan, same, now=now, notices=sound.notices)
    assert finding.rule == "check.repair_revision"


ALL = {rule.rule: rule for rule in (*RULES, *CHECK_RULES)}


def test_every_check_has_a_planted_breach() -> None:
    tried = {*BREACHES, "check.repair_revision"}
    assert tried == {rule.rule for rule in CHECK_RULES}


@pytest.mark.parametrize("rule", ALL.values(), ids=lambda rule: rule.rule)
def test_a_repair_has_sentences_with_its_facts(rule: CatalogueRule) -> None:
    used = {n for _, n, _, _ in string.Formatter().parse(said.SENTENCES[rule.rule]) if n}
    assert used <= set(rule.facts)
    assert said.SENTENCES.keys() == ALL.keys()
