"""Whole days planned, and every plan judged."""

import json
import subprocess
import sys
from itertools import pairwise
from random import Random

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Event, Floor, Pause, Team, Wishes, errors_among
from callroom.model.wishes import HeatPattern, LanePattern, OrderRule
from callroom.planner import (
    Limits,
    PlanProgress,
    PlanReply,
    PlanRequest,
    check_plan,
    plan_day,
)
from callroom.planner.solve import solve
from tests.planner import days

MINUTE = 60
ORDERS: tuple[OrderRule, ...] = ("kept", "neighbours", "reseeded")
PATTERNS: tuple[HeatPattern, ...] = ("circle", "circle_last_two", "to_and_fro", "best_last")
LANES: tuple[LanePattern, ...] = ("centre_out", "drawn_groups", "numbered")


def planned(event: Event, teams: tuple[Team, ...]) -> PlanReply:
    return plan_day(PlanRequest(event=event, teams=teams, limits=Limits(work=20)), solve)


@pytest.fixture(scope="module")
def demo() -> PlanReply:
    return planned(*days.demo_like())


def test_the_demo_day_is_planned_to_proof_and_keeps_every_wish(demo: PlanReply) -> None:
    event, teams = days.demo_like()
    assert demo.status == "solved"
    assert demo.plan is not None
    assert check_plan(event, teams, demo.plan) == demo.findings == ()
    assert all(aim.proven for aim in demo.aims)
    assert [aim.name for aim in demo.aims] == ["finish", "longest_wait", "changeovers"]
    assert demo.certificate_s <= demo.plan.finish_s == demo.plan.bound_s
    assert len(demo.plan.heats) == 5 * (3 + 2 + 2)


def test_the_demo_day_is_humane(demo: PlanReply) -> None:
    event, teams = days.demo_like()
    assert demo.plan is not None
    lunch = next(pause for pause in event.wishes.pauses if pause.id == "lunch")
    for team in teams:
        day = demo.plan.day_of(team.id)
        assert [heat.workout for heat in day] == ["w1", "w2", "w3", "w4", "w5"]
        for before, after in pairwise(day):
            gap_s = after.start_s - before.end_s
            if before.end_s <= lunch.start_s and after.start_s >= lunch.start_s + lunch.length_s:
                gap_s -= lunch.length_s
            assert event.wishes.rest_s <= gap_s + lunch.length_s
            assert gap_s <= 2 * 3600


def test_the_same_request_gives_the_same_reply(demo: PlanReply) -> None:
    event, teams = days.demo_like()
    assert planned(event, tuple(reversed(teams))) == demo


def test_request_and_reply_go_through_json(demo: PlanReply) -> None:
    event, teams = days.demo_like()
    request = PlanRequest(event=event, teams=teams, revision=4, inputs_digest="abc")
    assert msgspec.json.decode(msgspec.json.encode(request), type=PlanRequest) == request
    assert msgspec.json.decode(msgspec.json.encode(demo), type=PlanReply) == demo
    assert "plan" in json.loads(msgspec.json.encode(demo))


def test_every_plan_met_on_the_way_could_be_kept() -> None:
    event, teams = days.demo_like()
    met: list[PlanProgress] = []
    request = PlanRequest(event=event, teams=teams, revision=3, inputs_digest="abc")
    reply = plan_day(request, solve, met.append)
    assert met
    for progress in met:
        assert check_plan(event, teams, progress.plan, inputs_digest="abc") == ()
        assert progress.bound_s <= progress.value_s
        assert progress.plan.revision == 3
        assert msgspec.json.decode(msgspec.json.encode(progress), type=PlanProgress) == progress
    assert reply.plan is not None
    assert min(progress.plan.finish_s for progress in met) == reply.plan.finish_s


def test_heats_are_numbered_in_the_order_they_are_run(demo: PlanReply) -> None:
    assert demo.plan is not None
    for name in ("w1", "w2", "w3", "w4", "w5"):
        mine = [heat for heat in demo.plan.heats if heat.workout == name]
        assert [heat.id for heat in sorted(mine, key=lambda heat: heat.start_s)] == [
            f"{name}-{number}" for number in range(1, len(mine) + 1)
        ]


def test_a_day_that_cannot_be_done_has_reasons_and_no_plan() -> None:
    event, teams = days.demo_like()
    short = replace(event, wishes=replace(event.wishes, finish_by_s=500 * MINUTE))
    reply = planned(short, teams)
    assert (reply.status, reply.plan) == ("infeasible", None)
    rules = [finding.rule for finding in reply.findings]
    assert rules == ["planner.floor_overloaded", "planner.nothing_finishes_before"]
    assert reply.findings[1].facts["finish_at_s"] == reply.certificate_s == 515 * MINUTE


def test_wishes_that_contradict_each_other_are_a_reason_not_a_crash() -> None:
    event, teams = days.demo_like()
    odd = replace(event, wishes=replace(event.wishes, changeover_workout_s=0))
    reply = planned(odd, teams)
    assert reply.status == "infeasible"
    assert [finding.rule for finding in reply.findings] == ["planner.changeovers_fall"]


def test_planning_without_the_search_does_not_load_the_solver() -> None:
    code = "import sys, callroom.planner; sys.exit('ortools' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@st.composite
def small_events(draw: st.DrawFn) -> tuple[Event, tuple[Team, ...]]:
    """Draw an event of up to two floors, three workouts and two dozen teams."""
    floors = (
        Floor(id="main", name="Main", lanes=draw(st.integers(3, 7))),
        Floor(id="yard", name="Yard", lanes=draw(st.integers(4, 8)), first_lane=0),
    )
    workouts = tuple(
        days.workout(
            f"w{n}", cap_min=draw(st.integers(4, 20)), floor=draw(st.sampled_from(("main", "yard")))
        )
        for n in range(1, draw(st.integers(1, 3)) + 1)
    )
    wishes = Wishes(
        first_heat_s=draw(st.sampled_from((0, 30 * MINUTE))),
        rest_s=draw(st.sampled_from((0, 20 * MINUTE, 40 * MINUTE))),
        slot_s=draw(st.sampled_from((60, 300))),
        pauses=(
            Pause(
                id="lunch",
                name="Lunch",
                start_s=draw(st.integers(60, 180)) * MINUTE,
                length_s=30 * MINUTE,
                floors=draw(st.sampled_from(((), ("main",)))),
            ),
        ),
        constant_rhythm=draw(st.booleans()),
        order=draw(st.sampled_from(ORDERS)),
        workout_order=draw(st.sampled_from(("listed", "free"))),
        mixed_heats=draw(st.booleans()),
        heat_pattern=draw(st.sampled_from(PATTERNS)),
        lane_pattern=draw(st.sampled_from(LANES)),
        judges_at_once=draw(st.sampled_from((None, 9))),
        draw_seed=draw(st.integers(0, 3)),
    )
    counts = draw(st.dictionaries(st.sampled_from("ab"), st.integers(1, 12), min_size=1))
    ranked = draw(st.booleans())
    teams = tuple(team if ranked else replace(team, entry_rank=None) for team in days.teams(counts))
    event = days.event(divisions="ab", floors=floors, workouts=workouts, wishes=wishes)
    return event, teams


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(small_events())
def test_random_small_days_keep_every_wish(day: tuple[Event, tuple[Team, ...]]) -> None:
    event, teams = day
    reply = planned(event, teams)
    assert reply.status == "solved"
    assert reply.plan is not None
    assert reply.findings == check_plan(event, teams, reply.plan)
    assert errors_among(reply.findings) == ()
    assert {finding.rule for finding in reply.findings} <= {"check.thin_heat_unavoidable"}
    assert reply.certificate_s <= reply.plan.finish_s


@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
@given(small_events(), st.randoms(use_true_random=False), st.integers(60, 400))
def test_the_order_of_entry_changes_nothing(
    day: tuple[Event, tuple[Team, ...]], random: Random, finish_min: int
) -> None:
    event, teams = day
    event = replace(event, wishes=replace(event.wishes, finish_by_s=finish_min * MINUTE))
    shuffled = list(teams)
    random.shuffle(shuffled)
    assert planned(event, tuple(shuffled)) == planned(event, teams)
