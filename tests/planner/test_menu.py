"""What would make an impossible day possible: every line holds, and none is more than needed."""

import string
from collections.abc import Callable, Iterable

import pytest
from hypothesis import given, settings
from msgspec.structs import replace

from callroom.model import Event, Floor, Pause, Team, Wishes
from callroom.model.catalogue import CatalogueRule
from callroom.planner import (
    Break,
    Limits,
    Problem,
    Slot,
    Timetable,
    check_timetable,
    compose,
    pose,
)
from callroom.planner.judged import shared_s
from callroom.planner.solve import calmest, decide, least_finish, solve
from callroom.planner.what_if import knobs
from callroom.planner.what_if.rules import RULES as WHAT_IF_RULES
from callroom.planner.why_not import Line, menu, plain_reasons
from callroom.planner.why_not.rules import RULES as WHY_NOT_RULES
from callroom.views.sentences import sentence, what_if
from tests.planner import days
from tests.planner.tiny_days import tiny_days

MINUTE = 60
STEP = 5 * MINUTE
LUNCH = Pause(id="lunch", name="Lunch", start_s=60 * MINUTE, length_s=40 * MINUTE)


def tight(wishes: Wishes | None = None) -> tuple[Event, tuple[Team, ...]]:
    """Return three workouts of 12 minutes for two heats each; the day takes 2:38."""
    day = days.event(
        floors=(Floor(id="main", name="Main", lanes=4),),
        workouts=[days.workout(name) for name in ("w1", "w2", "w3")],
        wishes=wishes
        or Wishes(
            rest_s=20 * MINUTE,
            finish_by_s=150 * MINUTE,
            pauses=(LUNCH,),
            order="reseeded",
            judges_at_once=4,
        ),
    )
    return day, days.teams({"a": 8})


def by_kind(lines: Iterable[Line]) -> dict[str, Line]:
    return {"+".join((*line.kinds, *filter(None, line.subjects))): line for line in lines}


def changed(event: Event, line: Line, less: int = 0) -> Event:
    for kind, subject, level in zip(line.kinds, line.subjects, line.levels, strict=True):
        knob = next(k for k in knobs(event) if (k.kind, k.subject) == (kind, subject))
        event = knob.apply(event, level - less)
    return event


def finish_s(event: Event, teams: Iterable[Team]) -> int | None:
    return decide(pose(event, compose(event, teams))).finish_s


def test_every_line_that_does_holds_and_a_step_less_does_not() -> None:
    event, teams = tight()
    assert finish_s(event, teams) is None
    lines = menu(event, teams, decide)
    does = [line for line in lines if line.status == "does"]
    assert {"finish_later", "rest_less", "pause_shorter", "order"} == {
        line.kinds[0] for line in does
    }
    for line in does:
        assert finish_s(changed(event, line), teams) is not None, line
        if line.kinds[0] != "order":
            assert line.least
            assert finish_s(changed(event, line, less=STEP), teams) is None, line


def test_the_least_later_finish_is_the_best_finish() -> None:
    event, teams = tight()
    line = by_kind(menu(event, teams, decide))["finish_later"]
    open_day = replace(event, wishes=replace(event.wishes, finish_by_s=None))
    best = solve(pose(open_day, compose(open_day, teams)))
    assert best.finish_s is not None
    late_s = best.finish_s - 150 * MINUTE
    assert line.levels[0] - STEP < late_s <= line.levels[0]
    assert line.outcome.rule == "why_not.does_and_less_does_not"


def test_what_cannot_help_is_in_vain() -> None:
    event, teams = tight()
    lines = by_kind(menu(event, teams, decide))
    assert lines["mixed_heats"].status == "in_vain"  # there is one division only
    assert "start_earlier" not in lines  # the day starts at its first second already


def test_lines_come_as_they_are_known() -> None:
    event, teams = tight()
    heard: list[Line] = []
    assert tuple(heard) == () != menu(event, teams, decide, heard.append) == tuple(heard)


def test_a_solver_that_gives_up_leaves_a_question_mark() -> None:
    def gives_up(_problem: Problem, _limits: Limits) -> Timetable:
        return Timetable(status="undecided")

    lines = menu(*tight(), gives_up)
    assert {line.status for line in lines} == {"undecided"}
    assert {line.outcome.rule for line in lines} == {"why_not.undecided"}


def test_a_bisection_past_a_question_mark_does_not_claim_the_least() -> None:
    event, teams = tight()

    def sometimes(problem: Problem, limits: Limits) -> Timetable:
        answer = decide(problem, limits)
        return Timetable(status="undecided") if answer.status == "infeasible" else answer

    line = by_kind(menu(event, teams, sometimes))["finish_later"]
    assert (line.status, line.least) == ("does", False)
    assert line.outcome.rule == "why_not.does"


def test_a_timetable_that_fails_its_judge_is_not_offered() -> None:
    def lies(problem: Problem, limits: Limits) -> Timetable:
        answer = decide(problem, limits)
        shifted = tuple(replace(place, start_s=place.start_s // 2) for place in answer.placed)
        return replace(answer, placed=shifted)

    assert not [line for line in menu(*tight(), lies) if line.status == "does"]


def test_a_pair_is_found_where_it_takes_two() -> None:
    wishes = Wishes(
        rest_s=150 * MINUTE,
        finish_by_s=200 * MINUTE,
        pauses=(replace(LUNCH, start_s=30 * MINUTE, length_s=300 * MINUTE),),
        slot_s=60,
    )
    event, teams = tight(wishes)
    lines = menu(event, teams, decide)
    singles = [line for line in lines if len(line.kinds) == 1]
    pairs = [line for line in lines if len(line.kinds) == 2]
    if any(line.status == "does" for line in singles):
        pytest.fail("the day was meant to need two changes")
    assert pairs
    for line in pairs:
        assert finish_s(changed(event, line), teams) is not None
        assert len(line.changes) == 2


def test_plain_reasons_need_no_solver() -> None:
    event, teams = tight(Wishes(finish_by_s=60 * MINUTE, judges_at_once=3))
    rules = {finding.rule for finding in plain_reasons(event, teams)}
    assert {"planner.floor_overloaded", "planner.judges_short"} <= rules
    fits, teams = tight(Wishes())
    assert plain_reasons(fits, teams) == ()


def test_a_refused_question_is_a_plain_reason() -> None:
    wishes = Wishes(changeover_same_s=600, changeover_division_s=60)
    found = plain_reasons(*tight(wishes))
    assert [finding.rule for finding in found] == ["planner.changeovers_fall"]


def test_the_demo_day_cut_short() -> None:
    event, teams = days.demo_like()
    short = replace(event, wishes=replace(event.wishes, finish_by_s=8 * 3600))
    lines = by_kind(menu(short, teams, decide))
    line = lines["finish_later"]
    assert line.status == "does"
    said = [sentence(finding, event=short) for finding in (*line.changes, line.outcome)]
    assert said[0].startswith("Finish by 1")
    assert said[0].endswith("later.")


def test_short_questions_agree_with_the_whole_search() -> None:
    event, teams = days.demo_like()
    problem = pose(event, compose(event, teams))
    whole, quick = solve(problem), least_finish(problem)
    assert quick.finish_s == whole.finish_s
    assert check_timetable(problem, quick) == ()
    assert check_timetable(problem, decide(problem)) == ()
    assert whole.finish_s is not None
    late = replace(problem, closes_s=whole.finish_s + 1800)
    calm = calmest(late)
    assert check_timetable(late, calm) == ()
    waits = [aim.value_s for aim in (*calm.aims, *whole.aims) if aim.name == "longest_wait"]
    assert waits[0] <= waits[1]


@settings(max_examples=60, deadline=None)
@given(tiny_days())
def test_the_bound_by_judges_holds(problem: Problem) -> None:
    answer = least_finish(problem, Limits(work=2))
    if answer.finish_s is not None:
        assert shared_s(problem) <= answer.finish_s


def test_heats_that_leave_no_judge_to_spare_count_in_full() -> None:
    slots = tuple(
        Slot(id=f, workout=f, block="d", rank=1, floors=(f,), length_s=10, judges=7) for f in "abc"
    )
    pause = Break(id="p", start_s=15, end_s=20)
    day = Problem(floors=("a", "b", "c"), slots=slots, judges_limit=12, breaks=(pause,))
    assert shared_s(day) == 35  # thirty seconds one after the other, five of them a pause
    assert least_finish(day).finish_s == 40  # no heat runs through the pause
    assert shared_s(replace(day, judges_limit=14)) == 15
    assert shared_s(replace(day, judges_limit=None)) == 0


@pytest.mark.parametrize("ask", [decide, least_finish, calmest])
def test_short_questions_have_short_answers(ask: Callable[[Problem], Timetable]) -> None:
    assert ask(Problem(floors=("f",), slots=())).status == "solved"
    event, teams = tight(Wishes(finish_by_s=60 * MINUTE))
    assert ask(pose(event, compose(event, teams))).status == "infeasible"
    event, teams = tight()
    assert ask(pose(event, compose(event, teams))).status == "infeasible"


@pytest.mark.parametrize("rule", [*WHAT_IF_RULES, *WHY_NOT_RULES], ids=lambda rule: rule.rule)
def test_a_change_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = what_if.SENTENCES[rule.rule]
    used = {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}
    assert used <= set(rule.facts)
    assert template.endswith(".")


def test_no_sentence_is_without_a_rule() -> None:
    known = {rule.rule for rule in (*WHAT_IF_RULES, *WHY_NOT_RULES)}
    prices = {rule for rule in what_if.SENTENCES if rule.startswith("price.")}
    assert what_if.SENTENCES.keys() - prices == known
