"""What the event wishes holds on the day as well, or it is said that it does not."""

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import (
    Apart,
    Event,
    Floor,
    JudgeSpell,
    KitShare,
    Lock,
    OrderInto,
    Pause,
    Plan,
    SharedKit,
    TeamHours,
    Wishes,
    errors_among,
)
from callroom.planner import Limits, PlanRequest, check_plan, plan_day
from callroom.planner.check.repair import check_repair
from callroom.planner.check.repair_wishes import HELD, check_wishes
from callroom.planner.day_now import DayNow, LostLane, Repaired
from callroom.planner.repair import night_before, repair, repair_reordered
from callroom.planner.solve import reorder, solve
from tests.planner import days

MINUTE = 60
TEAMS = days.teams({"a": 10, "b": 6})
KNOWN = {team.id: team for team in TEAMS}
ROWERS = SharedKit(
    id="row",
    name="Rowers",
    count=4,
    shares=(KitShare(workout="w1", per_lane=1), KitShare(workout="w2", per_lane=1)),
)
WISHES: dict[str, dict[str, object]] = {
    "kit": {"shared_kit": (ROWERS,)},
    "judges": {"judge_spells": (JudgeSpell(from_s=40 * MINUTE, until_s=100 * MINUTE, judges=5),)},
    "warm-ups": {"warm_up_s": 600, "warm_up_heats": 1, "briefing_s": 300},
    "briefings": {"briefing_s": 8 * MINUTE, "constant_rhythm": False},
    "waves": {"waves": (("a",), ("b",))},
    "finals": {"finals_last": True},
    "apart": {"apart": (Apart(teams=("a01", "b01"), gap_s=5 * MINUTE),)},
    "promised": {"orders": (OrderInto(workout="w3", order="reseeded"),)},
    "neighbours": {"order": "neighbours"},
    "hours": {"team_hours": (TeamHours(team="b06", until_s=130 * MINUTE),)},
    "lock": {"locks": (Lock(workout="w3", team="b01", at_s=190 * MINUTE),)},
    "finish": {"finish_by_s": 270 * MINUTE},
}
TOO_LATE = {"check.too_late", "check.team_too_late", "check.lock_time"}
"""What no order of the heats can help when the day is late enough."""


def event(name: str) -> Event:
    """A morning on two floors: three workouts, sixteen teams, and one more wish."""
    lunch = Pause(id="lunch", name="Lunch", start_s=150 * MINUTE, length_s=30 * MINUTE)
    plain = Wishes(rest_s=20 * MINUTE, pauses=(lunch,), changeover_division_s=240)
    return days.event(
        divisions=("a", "b"),
        floors=(Floor(id="main", name="Main", lanes=4), Floor(id="yard", name="Yard", lanes=4)),
        workouts=(
            days.workout("w1", cap_min=10),
            days.workout("w2", cap_min=8, floor="yard"),
            days.workout("w3", cap_min=6),
        ),
        wishes=replace(plain, **WISHES[name]),
    )


@cache
def planned(name: str) -> Plan:
    reply = plan_day(PlanRequest(event=event(name), teams=TEAMS, limits=Limits(work=3)), solve)
    assert reply.plan is not None, reply.findings
    assert {finding.rule for finding in reply.findings} <= {"check.thin_heat_unavoidable"}
    return reply.plan


def late(name: str, now_min: int, late_min: int, *, floor: str = "main") -> DayNow:
    """Everything ran as planned until now, and a floor cannot be used for a while."""
    plan, now_s = planned(name), now_min * MINUTE
    return DayNow(
        now_s=now_s,
        begun_s={heat.id: heat.start_s for heat in plan.heats if heat.start_s <= now_s},
        over_s={heat.id: heat.end_s for heat in plan.heats if heat.end_s <= now_s},
        ready_s={floor: now_s + late_min * MINUTE},
    )


def rules(found: Repaired) -> set[str]:
    return {finding.rule for finding in found.findings}


TROUBLES = st.tuples(
    st.sampled_from(sorted(WISHES)),
    st.integers(0, 200),
    st.integers(0, 70),
    st.sampled_from(("main", "yard")),
)


@settings(max_examples=60, deadline=None)
@given(TROUBLES)
def test_a_late_day_keeps_every_wish_that_an_order_can_keep(
    trouble: tuple[str, int, int, str],
) -> None:
    name, now_min, late_min, floor = trouble
    now = late(name, now_min, late_min, floor=floor)
    found = repair(event(name), TEAMS, planned(name), now)
    assert rules(found) <= TOO_LATE


@settings(max_examples=15, deadline=None)
@given(TROUBLES)
def test_another_order_breaks_no_wish_that_the_published_one_keeps(
    trouble: tuple[str, int, int, str],
) -> None:
    name, now_min, late_min, floor = trouble
    now, limits = late(name, now_min, late_min, floor=floor), Limits(work=0.2)
    usual = repair(event(name), TEAMS, planned(name), now)
    other = repair_reordered(event(name), TEAMS, planned(name), now, reorder=reorder, limits=limits)
    if other is not None:
        assert rules(other) <= TOO_LATE
        assert len(other.findings) <= len(usual.findings)


@settings(max_examples=40, deadline=None)
@given(TROUBLES, st.sampled_from(("main", "yard")), st.integers(1, 4), st.booleans())
def test_what_a_loss_breaks_is_never_impossible_and_always_said(
    trouble: tuple[str, int, int, str], floor: str, lane: int, gone: bool
) -> None:
    name, now_min, late_min, _ = trouble
    now = replace(
        late(name, now_min, late_min),
        lost_lanes=(LostLane(floor=floor, lane=lane),),
        withdrawn=("a03",) if gone else (),
        judges_at_once=None if late_min % 2 else 4,
    )
    found = repair(event(name), TEAMS, planned(name), now)
    assert errors_among(found.findings) == ()
    there = [team for team in TEAMS if team.id not in now.withdrawn]
    for heat in found.plan.heats:  # nobody was put where nothing had begun to break it unsaid
        assert len({place.lane for place in heat.lanes}) == len(heat.lanes)
    broken = {one.rule for one in check_plan(event(name), there, found.plan)} & TOO_LATE
    kept = {one.rule for one in check_plan(event(name), there, planned(name))}
    assert broken - kept <= rules(found)


@pytest.mark.parametrize(
    ("name", "rule", "by_min"),
    [
        ("kit", "check.kit_short", None),
        ("judges", "check.judges_short", None),
        ("warm-ups", "check.warm_ups_crowded", None),
        ("briefings", "check.briefings_overlap", None),
        ("waves", "check.wave_overlapped", None),
        ("finals", "check.final_not_last", None),
        ("apart", "check.not_apart", None),
        ("promised", "check.rest_not_promised", None),
        ("hours", "check.team_too_late", 120),
        ("lock", "check.lock_time", 1),
        ("finish", "check.too_late", 200),
    ],
)
def test_a_planted_breach_of_a_wish_is_found(name: str, rule: str, by_min: int | None) -> None:
    """One heat is moved to where it breaks the wish; the other heats stay."""
    plan, day = planned(name), event(name)
    now = DayNow(now_s=-1)
    found: set[str] = set()
    starts = {heat.start_s for heat in plan.heats}
    for heat in plan.heats:
        aims = [heat.start_s + by_min * MINUTE] if by_min is not None else sorted(starts)
        for start_s in aims:
            moved = replace(heat, start_s=start_s, end_s=start_s + heat.end_s - heat.start_s)
            after = replace(plan, heats=tuple(moved if h is heat else h for h in plan.heats))
            found |= {one.rule for one in check_wishes(day, KNOWN, plan, after, now)}
            if rule in found:
                whole = check_repair(day, TEAMS, plan, after, now=now, notices=())
                assert rule in {one.rule for one in whole}
                assert list(check_wishes(day, KNOWN, after, after, now)) == [], "known before"
                return
    pytest.fail(f"{rule} is never found")


def test_what_has_begun_is_history() -> None:
    name = "hours"
    plan = planned(name)
    last = max((h for h in plan.heats if "b06" in h.teams), key=lambda heat: heat.end_s)
    began_s = 125 * MINUTE
    now = DayNow(now_s=140 * MINUTE, begun_s={last.id: began_s})
    assert list(check_wishes(event(name), KNOWN, plan, plan, now)) == []
    soon = replace(now, begun_s={})
    later = replace(last, start_s=began_s, end_s=began_s + last.end_s - last.start_s)
    after = replace(plan, heats=tuple(later if h is last else h for h in plan.heats))
    assert [one.rule for one in check_wishes(event(name), KNOWN, plan, after, soon)] == [
        "check.team_too_late"
    ]


def test_of_heats_past_the_end_only_the_last_is_told() -> None:
    found = repair(event("finish"), TEAMS, planned("finish"), late("finish", 100, 150))
    (told,) = (one for one in found.findings if one.rule == "check.too_late")
    assert told.facts["end_at_s"] == found.plan.finish_s


@settings(max_examples=15, deadline=None)
@given(
    st.sampled_from(("kit", "judges", "apart", "finals", "waves", "hours")),
    st.sets(st.sampled_from([team.id for team in TEAMS]), max_size=6),
)
def test_the_night_before_no_move_breaks_a_wish(name: str, gone: set[str]) -> None:
    found = night_before(event(name), TEAMS, planned(name), sorted(gone))
    assert found.findings == ()


def test_the_wishes_held_on_the_day_have_rules() -> None:
    from callroom.planner.check.rules import RULES

    assert {rule.rule for rule in RULES} >= HELD
