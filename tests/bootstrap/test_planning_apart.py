"""A plan is searched for in another process, streams what it meets, and can be stopped."""

import threading
from pathlib import Path

import pytest
from msgspec.structs import replace

from callroom.actions.planning import plan_request
from callroom.bootstrap.planning import plan_apart, search_apart
from callroom.model import Event, EventDay, Team, Wishes
from callroom.planner import Limits, PlanProgress, PlanRequest, check_plan
from tests.actions.day_building import EVENT, TEAMS
from tests.bootstrap.day_books import day_book


def request(event: Event = EVENT, teams: tuple[Team, ...] = TEAMS) -> PlanRequest:
    return PlanRequest(event=event, teams=teams, inputs_digest="x", limits=Limits(work=5))


def test_the_child_answers_with_a_plan_that_keeps_the_rules() -> None:
    met: list[PlanProgress] = []
    reply = plan_apart(request(), met.append)
    assert reply.status == "solved"
    assert reply.plan is not None
    assert met
    assert not [
        found for found in check_plan(EVENT, TEAMS, reply.plan) if found.severity == "error"
    ]


def test_an_impossible_day_comes_back_with_reasons() -> None:
    hurried = replace(EVENT, wishes=Wishes(finish_by_s=600, least_per_heat=2))
    reply = plan_apart(request(hurried))
    assert reply.status == "infeasible"
    assert reply.plan is None
    assert reply.findings


def test_a_search_that_is_stopped_keeps_the_best_plan_met() -> None:
    stop = threading.Event()

    def stop_at_once(_met: PlanProgress) -> None:
        stop.set()

    reply = plan_apart(request(), stop_at_once, stop)
    assert reply.plan is not None


def test_of_several_days_a_stop_at_once_leaves_a_plan_of_all() -> None:
    days = (
        EventDay(id="sat", name="Saturday", opens_s=0, closes_s=36_000, workouts=("w1",)),
        EventDay(id="sun", name="Sunday", opens_s=86_400, closes_s=122_400, workouts=("w2",)),
    )
    event = replace(EVENT, wishes=replace(EVENT.wishes, days=days, least_per_heat=1))
    stop = threading.Event()
    met: list[PlanProgress] = []

    def stop_at_once(progress: PlanProgress) -> None:
        met.append(progress)
        stop.set()

    searched = search_apart(request(event), stop_at_once, stop=stop)
    assert met[0].day == 2, "the first plan is whole as soon as the last day has one"
    plan = searched.reply.plan
    assert plan is not None
    assert {heat.workout for heat in plan.heats} == {"w1", "w2"}
    assert check_plan(event, TEAMS, plan) == ()


@pytest.mark.store
def test_the_question_leaves_out_who_has_left(tmp_path: Path) -> None:
    from callroom.actions import day as ask
    from callroom.bootstrap.books import AT_THE_KEYBOARD

    book = day_book(tmp_path / "day.book")
    book.ask_now(AT_THE_KEYBOARD, ask.withdraw_team("T2", ""), key="out")
    asked = plan_request(book.state)
    assert [team.id for team in asked.teams] == ["T1", "T3", "T4"]
    assert asked.revision == 2
    book.close()


def test_a_day_that_cannot_be_done_is_told_why_and_then_what_would_do() -> None:
    told: list[str] = []
    tight = replace(EVENT, wishes=Wishes(finish_by_s=2200, rest_s=600, least_per_heat=2))
    searched = search_apart(
        request(tight), on_reply=lambda reply: told.append(reply.status),
        on_line=lambda line: told.append(line.status),
    )  # fmt: skip
    assert searched.reply.plan is None
    assert told[0] == "infeasible"
    assert told[1:] == [line.status for line in searched.menu]
    assert "does" in told


def test_a_plan_comes_with_what_carries_its_certificate() -> None:
    searched = search_apart(request())
    assert searched.reply.plan is not None
    assert searched.because
    assert not searched.menu
