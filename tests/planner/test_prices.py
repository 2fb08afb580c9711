"""What a day costs: prices against solving anew, two plans side by side, a choice of plans."""

import string
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Event, Floor, Heat, LaneTeam, Pause, Plan, Team, Wishes
from callroom.model.catalogue import CatalogueRule
from callroom.planner import (
    Limits,
    PlanRequest,
    Problem,
    Timetable,
    check_plan,
    compose,
    plan_day,
    pose,
)
from callroom.planner.prices import (
    Price,
    certificate,
    compare,
    frontier,
    longest_waits,
    price_list,
    spare_lanes,
)
from callroom.planner.prices.rules import RULES
from callroom.planner.solve import calmest, certificate_s, least_finish, solve
from callroom.views.sentences import prices as said
from callroom.views.sentences import sentence
from tests.planner import days

MINUTE = 60
EVENT, TEAMS = days.demo_like()


@cache
def planned(event: Event = EVENT, teams: tuple[Team, ...] = TEAMS) -> Plan:
    plan = plan_day(PlanRequest(event=event, teams=teams), solve).plan
    assert plan is not None
    return plan


def small() -> tuple[Event, tuple[Team, ...]]:
    day = days.event(
        floors=(Floor(id="main", name="Main", lanes=4),),
        wishes=Wishes(rest_s=30 * MINUTE, judges_at_once=4),
    )
    return day, days.teams({"a": 7})


def test_a_price_is_the_difference_of_two_finishes() -> None:
    event, teams = small()
    listed = price_list(event, teams, least_finish)
    assert listed.proven
    for price in listed.prices:
        if price.kind == "rest_less":
            cut = replace(event.wishes, rest_s=event.wishes.rest_s - price.level)
            finish_s = solve(pose(replace(event, wishes=cut), compose(event, teams))).finish_s
            assert listed.finish_s is not None
            assert finish_s == listed.finish_s + (price.by_s or 0)
            assert price.by_s is not None
            assert price.by_s < 0
            break
    else:
        pytest.fail("no price of rest")


def test_prices_go_the_way_they_must() -> None:
    event, teams = small()
    by_kind = {
        (price.kind, price.change.rule): price
        for price in price_list(event, teams, least_finish).prices
    }
    assert (by_kind["rest_more", "what_if.rest_more"].by_s or 0) > 0
    assert by_kind["judges_fewer", "what_if.judges_fewer"].outcome.rule == "price.impossible"
    assert by_kind["order", "what_if.order_reseeded"].by_s is not None
    assert (by_kind["order", "what_if.order_reseeded"].by_s or 0) >= 0
    assert by_kind["starts", "what_if.starts"].level == 5 * MINUTE
    assert (by_kind["starts", "what_if.starts"].by_s or 0) >= 0


@pytest.mark.slow
def test_prices_of_the_demo_day_come_one_by_one() -> None:
    heard: list[Price] = []
    listed = price_list(EVENT, TEAMS, least_finish, heard.append)
    assert tuple(heard) == listed.prices
    assert listed.finish_s == planned().finish_s
    assert len(heard) >= 12
    texts = {
        sentence(p.change, event=EVENT) + " " + sentence(p.outcome, event=EVENT) for p in heard
    }
    assert len(texts) == len(heard)


def test_a_solver_without_an_answer_is_no_price() -> None:
    def gives_up(_problem: Problem, _limits: Limits) -> Timetable:
        return Timetable(status="undecided")

    listed = price_list(*small(), gives_up)
    assert {price.outcome.rule for price in listed.prices} == {"price.undecided"}
    assert {price.by_s for price in listed.prices} == {None}


def test_a_plan_compared_with_itself() -> None:
    plan = planned()
    found = compare(EVENT, TEAMS, plan, plan)
    assert [finding.rule for finding in found.findings] == ["compare.nothing"]
    assert (found.moved, found.waits, found.regrouped) == ((), (), ())


def test_one_heat_later_is_one_move_and_its_teams_wait() -> None:
    plan = planned()
    last = max(plan.heats, key=lambda heat: heat.start_s)
    later = replace(last, start_s=last.start_s + 600, end_s=last.end_s + 600)
    other = replace(
        plan, heats=tuple(later if heat is last else heat for heat in plan.heats), finish_s=0
    )
    found = compare(EVENT, TEAMS, plan, other)
    assert [(move.after, move.by_s) for move in found.moved] == [(last.id, 600)]
    assert found.finish_after_s == found.finish_before_s + 600
    assert {wait.team for wait in found.waits} <= set(last.teams)
    assert all(wait.after_s > wait.before_s for wait in found.waits)
    rules = {finding.rule for finding in found.findings}
    assert {"compare.finish_later", "compare.moved"} <= rules


def test_pure_and_mixed_heats_differ_in_company() -> None:
    mixed = replace(EVENT, wishes=replace(EVENT.wishes, mixed_heats=True))
    found = compare(EVENT, TEAMS, planned(), planned(mixed))
    assert found.regrouped
    assert "compare.other_company" in {finding.rule for finding in found.findings}


def test_waits_leave_out_the_pauses_of_all_floors() -> None:
    event, _ = small()
    wishes = replace(
        event.wishes,
        pauses=(
            Pause(id="a", name="A", start_s=1000, length_s=500),
            Pause(id="b", name="B", start_s=1600, length_s=100, floors=("main",)),
        ),
    )
    plan = Plan(revision=1, inputs_digest="", heats=(heat("w1", 0, 900), heat("w2", 2000, 2900)))
    assert longest_waits(replace(event, wishes=wishes), plan) == {"t": 2000 - 900 - 500}


def test_spare_lanes_are_what_a_block_can_lose() -> None:
    event, teams = small()
    plan = planned(event, teams)
    assert spare_lanes(event, teams, plan) == 0  # 4 and 3 in four lanes
    assert spare_lanes(event, teams[:6], planned(event, teams[:6])) == 1
    assert spare_lanes(event, teams[:2], planned(event, teams[:2])) == 2


def heat(workout: str, start_s: int, end_s: int) -> Heat:
    lanes = (LaneTeam(lane=1, team="t"),)
    return Heat(
        id=f"{workout}-1", workout=workout, floor="main", number=1,
        start_s=start_s, end_s=end_s, lanes=lanes,
    )  # fmt: skip


@pytest.mark.slow
def test_no_plan_on_the_frontier_is_beaten_and_all_are_sound() -> None:
    open_day = replace(EVENT, wishes=replace(EVENT.wishes, finish_by_s=None))
    options = frontier(open_day, TEAMS, solve, calmest)
    assert 2 <= len(options) <= 4
    assert [option.finish_s for option in options] == sorted(o.finish_s for o in options)
    for option in options:
        assert not any(other.beats(option) for other in options)
        assert check_plan(option.event, TEAMS, option.plan) == ()
        assert option.longest_wait_s == max(longest_waits(option.event, option.plan).values())
    assert any(option.spare_lanes > options[0].spare_lanes for option in options[1:])
    waits = [option.longest_wait_s for option in options]
    assert min(waits) < waits[0]


def test_a_day_that_cannot_be_done_has_no_frontier() -> None:
    event, teams = small()
    short = replace(event, wishes=replace(event.wishes, finish_by_s=MINUTE))
    assert frontier(short, teams, solve, calmest) == ()


def test_the_certificate_names_the_floor_that_carries_it() -> None:
    problem = pose(EVENT, compose(EVENT, TEAMS))
    least_s = certificate_s(problem)
    why, how = certificate(problem, least_s, planned().finish_s)
    assert why.rule == "certificate.stretches"  # 22 heats leave gaps before lunch
    assert why.facts["floor"] == "main"
    assert how.rule in {"certificate.reached", "certificate.above"}
    assert "nothing is over before" in sentence(why, event=EVENT)


def test_a_floor_without_pauses_carries_the_bound_by_itself() -> None:
    event, teams = small()
    calm = replace(event, wishes=replace(event.wishes, rest_s=0))
    problem = pose(calm, compose(calm, teams))
    why, how = certificate(problem, certificate_s(problem), planned(calm, teams).finish_s)
    assert (why.rule, how.rule) == ("certificate.floor", "certificate.reached")
    assert (why.facts["heats"], why.facts["work_s"]) == (4, 4 * 12 * MINUTE)


def test_the_certificate_names_a_chain() -> None:
    event, teams = small()
    rests = replace(event, wishes=replace(event.wishes, rest_s=5 * 3600))
    problem = pose(rests, compose(rests, teams))
    why, how = certificate(problem, certificate_s(problem), 10**6)
    assert (why.rule, how.rule) == ("certificate.chain", "certificate.above")


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(0, 20_000), min_size=2, max_size=6, unique=True))
def test_a_comparison_turned_round_turns_its_moves_round(starts: list[int]) -> None:
    event, _ = small()
    one = Plan(revision=1, inputs_digest="", heats=(heat("w1", starts[0], starts[0] + 9),))
    other = Plan(revision=2, inputs_digest="", heats=(heat("w1", starts[1], starts[1] + 9),))
    forth, back = compare(event, (), one, other), compare(event, (), other, one)
    assert [move.by_s for move in forth.moved] == [-move.by_s for move in back.moved] != []


@pytest.mark.parametrize("rule", list(RULES), ids=lambda rule: rule.rule)
def test_a_price_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    used = {n for _, n, _, _ in string.Formatter().parse(said.SENTENCES[rule.rule]) if n}
    assert used <= set(rule.facts)


def test_no_sentence_is_without_a_rule() -> None:
    assert said.SENTENCES.keys() == {rule.rule for rule in RULES}
