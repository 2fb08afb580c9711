"""Days that cannot be done say why."""

import pytest
from msgspec.structs import replace

from callroom.model import Fact, Finding
from callroom.planner import Break, Changeover, Either, Limits, Link, Problem, Slot
from callroom.planner.solve import certificate_s, solve
from tests.planner.shops import instances, job_shop


def heats(count: int, *, workout: str = "w", length_s: int = 10, judges: int = 0) -> list[Slot]:
    return [
        Slot(
            id=f"{workout}{rank}",
            workout=workout,
            block="d",
            rank=rank,
            floors=("f",),
            length_s=length_s,
            judges=judges,
        )
        for rank in range(1, count + 1)
    ]


def day(*slots: Slot, closes_s: int | None = None, breaks: tuple[Break, ...] = ()) -> Problem:
    return Problem(floors=("f", "g"), slots=slots, closes_s=closes_s, breaks=breaks)


def why(problem: Problem) -> dict[str, Finding]:
    answer = solve(problem, Limits(work=5))
    assert answer.status == "infeasible"
    assert answer.placed == ()
    assert {finding.severity for finding in answer.findings} == {"error"}
    return {finding.rule: finding for finding in answer.findings}


def facts(problem: Problem, rule: str) -> dict[str, Fact]:
    return dict(why(problem)[f"planner.{rule}"].facts)


SAME = Changeover(same_s=5, division_s=5, workout_s=5)


def test_a_floor_with_too_much_to_carry() -> None:
    problem = replace(day(*heats(5), closes_s=50), changeover=SAME)
    found = facts(problem, "floor_overloaded")
    assert found == {"floor": "f", "heats": 5, "work_s": 70, "open_s": 50, "over_s": 20}


def test_a_changeover_may_hide_in_a_break() -> None:
    pause = Break(id="p", start_s=10, end_s=15)
    problem = replace(day(*heats(2), closes_s=25, breaks=(pause,)), changeover=SAME)
    assert solve(problem, Limits(work=5)).finish_s == 25


def test_a_heat_longer_than_every_stretch() -> None:
    breaks = (Break(id="p", start_s=8, end_s=12), Break(id="q", start_s=19, end_s=21))
    found = facts(day(*heats(2), closes_s=30, breaks=breaks), "heat_fits_nowhere")
    assert found == {"workout": "w", "division": "d", "length_s": 10, "longest_open_s": 9}


def test_a_chain_of_rests_past_closing() -> None:
    one, other = heats(1, workout="a"), heats(1, workout="b")
    link = Link(before="a1", after="b1", lag_s=100)
    problem = replace(day(*one, *other, closes_s=90), links=(link,))
    found = facts(problem, "chain_too_long")
    assert (found["finish_at_s"], found["closes_at_s"]) == (120, 90)


def test_links_in_a_circle() -> None:
    slots = heats(1, workout="a") + heats(1, workout="b")
    links = (Link(before="a1", after="b1"), Link(before="b1", after="a1"))
    assert facts(replace(day(*slots), links=links), "links_in_a_circle") == {"heats": 2}


def test_too_few_judges_for_one_heat_and_for_the_day() -> None:
    few = replace(day(*heats(1, judges=4)), judges_limit=3)
    assert facts(few, "judges_short") == {
        "workout": "w", "division": "d", "needed": 4, "limit": 3,
    }  # fmt: skip
    many = [replace(slot, floors=("g",)) for slot in heats(4, workout="v", judges=2)]
    busy = replace(day(*heats(4, judges=2), *many, closes_s=45), judges_limit=2)
    assert facts(busy, "judges_overloaded") == {
        "limit": 2, "work_s": 160, "open_s": 45, "least": 4,
    }  # fmt: skip


def test_the_certificate_as_a_reason() -> None:
    # Three heats of ten seconds fit into 19 and 19, were they not whole heats.
    slots = [heat for workout in "abc" for heat in heats(1, workout=workout)]
    breaks = (Break(id="p", start_s=19, end_s=30),)
    problem = day(*slots, closes_s=49, breaks=breaks)
    found = facts(problem, "nothing_finishes_before")
    assert found == {"finish_at_s": 50, "closes_at_s": 49, "over_s": 1}
    assert certificate_s(problem) == 50
    assert solve(replace(problem, closes_s=50)).finish_s == 50


def test_what_only_search_can_rule_out_names_the_finish_that_would_do() -> None:
    # Each floor has room for its heats, but no two heats may be on floors at the same time.
    here, elsewhere = heats(2), [replace(s, floors=("g",)) for s in heats(2, workout="v")]
    apart = tuple(
        Either(one=Link(before=one.id, after=other.id), other=Link(before=other.id, after=one.id))
        for one in here
        for other in elsewhere
    )
    problem = replace(day(*here, *elsewhere, closes_s=39), eithers=apart)
    found = facts(problem, "finish_by_too_early")
    assert found == {"finish_at_s": 40, "closes_at_s": 39, "over_s": 1}


def test_judges_that_are_few_are_counted_before_anything_is_searched() -> None:
    elsewhere = [replace(s, floors=("g",)) for s in heats(2, workout="v", judges=2)]
    problem = replace(day(*heats(2, judges=2), *elsewhere, closes_s=39), judges_limit=3)
    found = facts(problem, "nothing_finishes_before")
    assert found == {"finish_at_s": 40, "closes_at_s": 39, "over_s": 1}


def test_wishes_that_no_later_finish_mends() -> None:
    one, other, third = (heats(1, workout=workout)[0] for workout in "abc")
    both_ways = (
        Either(
            one=Link(before="a1", after="b1", lag_s=1), other=Link(before="a1", after="c1", lag_s=1)
        ),
        Either(
            one=Link(before="b1", after="a1", lag_s=1), other=Link(before="b1", after="a1", lag_s=2)
        ),
        Either(
            one=Link(before="c1", after="a1", lag_s=1), other=Link(before="c1", after="a1", lag_s=2)
        ),
    )
    problem = replace(day(one, other, third, closes_s=500), eithers=both_ways)
    assert facts(problem, "wishes_conflict") == {"heats": 3}


def test_a_limit_that_comes_first_is_no_answer() -> None:
    row = instances("job_shop")["abz5"]
    problem = job_shop(row["machines_by_job"], row["durations_by_job"])
    answer = solve(problem, Limits(work=0))
    assert answer.status == "undecided"
    assert [finding.rule for finding in answer.findings] == ["planner.no_answer_in_time"]


def test_an_empty_day_is_solved() -> None:
    assert solve(day()).status == "solved"


@pytest.mark.parametrize("closes_s", [None, 100])
def test_a_day_that_fits_has_no_findings(closes_s: int | None) -> None:
    answer = solve(day(*heats(3), closes_s=closes_s))
    assert (answer.status, answer.findings, answer.finish_s) == ("solved", (), 30)
