"""Simulated days against hand-made ones, slack against even slack, the live pass by hand."""

import string

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Event, Floor, Pause, Plan, Team, Wishes
from callroom.model.catalogue import CatalogueRule
from callroom.model.forecast import Quantiles
from callroom.planner import PlanRequest, check_plan, plan_day
from callroom.planner.punctuality import (
    Course,
    Incidents,
    Spread,
    best_gaps,
    capped_spread,
    course_of,
    forecast_spread,
    gap_said,
    place_slack,
    promise,
    promise_said,
    punctuality,
    simulate,
    slack_left,
    slack_said,
)
from callroom.planner.punctuality.days import run
from callroom.planner.punctuality.rules import RULES
from callroom.planner.solve import solve
from callroom.views.sentences import punctuality as said
from callroom.views.sentences import sentence
from tests.planner import days
from tests.views.building import example_state

MINUTE = 60
NONE = Incidents(per_thousand=0)
FLAT = np.array([0.0, 1.0])


def row(count: int = 3, *, pitch_s: int = 12, gap_s: int = 2) -> Course:
    """Return heats of ten seconds in a row on one floor, published every `pitch_s` seconds."""
    place = np.arange(count)
    return Course(
        heats=tuple(f"h{n}" for n in place),
        floors=("f",) * count,
        published_s=place * pitch_s,
        length_s=np.full(count, 10),
        latest_s=np.full(count, 10**9),
        groups=place,
        before=place[:-1],
        after=place[1:],
        gap_s=np.full(count - 1, gap_s),
        on_floor=np.full(count - 1, True),
    )


def certain(course: Course, stay_s: list[float] | None = None) -> Spread:
    stays = course.length_s if stay_s is None else np.array(stay_s)
    both = np.stack([stays, stays], axis=1).astype(np.float64)
    gaps = np.stack([course.gap_s, course.gap_s], axis=1).astype(np.float64)
    return Spread(FLAT, both, gaps, NONE)


def rng(seed: int = 1) -> np.random.Generator:
    return np.random.default_rng(seed)


def example_day() -> tuple[Event, tuple[Team, ...], Plan]:
    """The example event of the views' tests, with its plan made by hand."""
    state = example_state()
    assert state.event is not None
    assert state.plan is not None
    return state.event, tuple(state.teams.values()), state.plan


def day_of_42() -> tuple[Plan, Course]:
    event, teams = days.demo_like()
    plan = plan_day(PlanRequest(event=event, teams=teams), solve).plan
    assert plan is not None
    return plan, course_of(event, teams, plan)


def test_a_day_without_spread_goes_as_planned() -> None:
    course = row()
    lived = simulate(course, certain(course), rng(), days=5)
    assert (lived.start_s == course.published_s[:, None]).all()
    assert (lived.finish_s == 34).all()


def test_a_late_heat_pushes_the_next_by_hand() -> None:
    course = row()
    lived = simulate(course, certain(course, [15, 10, 10]), rng(), days=2)
    assert lived.start_s[:, 0].tolist() == [0, 17, 29]
    slack = row(pitch_s=14)
    lived = simulate(slack, certain(slack, [15, 10, 10]), rng(), days=2)
    assert lived.start_s[:, 0].tolist() == [0, 17, 29]
    assert (lived.start_s[:, 0] - slack.published_s).tolist() == [0, 3, 1]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(1, 30), min_size=2, max_size=7),
    st.lists(st.integers(0, 40), min_size=2, max_size=7),
)
def test_the_recursion_equals_a_plain_loop(stays: list[int], published: list[int]) -> None:
    count = min(len(stays), len(published))
    starts = np.cumsum(published[:count])
    course = row(count)._replace(published_s=starts)
    lived = run(
        course,
        np.array(stays[:count], dtype=np.float32)[:, None],
        np.full((count - 1, 1), 2, dtype=np.float32),
    )
    free = 0
    for place in range(count):
        start = max(int(starts[place]), free)
        assert lived[place, 0] == start
        free = start + stays[place] + 2


def test_draws_follow_their_quantiles_and_their_seed() -> None:
    course = row(1)
    spread = Spread(
        np.array([0.0, 0.5, 1.0]), np.array([[10.0, 20.0, 50.0]]), np.zeros((0, 3)), NONE
    )
    one, other = (simulate(course, spread, rng(7)) for _ in range(2))
    assert (one.stay_s == other.stay_s).all()
    share = float((one.stay_s < 20).mean())
    assert abs(share - 0.5) < 0.02  # four standard errors of 10,000 draws
    assert one.stay_s.min() >= 10
    assert one.stay_s.max() <= 50


def test_incidents_are_as_rare_as_said() -> None:
    course = row(1)
    spread = certain(course)._replace(incidents=Incidents(100, 60, 90))
    lived = simulate(course, spread, rng())
    hit = lived.stay_s[0] > 10
    assert abs(float(hit.mean()) - 0.1) < 0.012
    assert 70 <= lived.stay_s[0][hit].min() <= lived.stay_s[0].max() <= 100


def test_chances_are_counted() -> None:
    course = row(2, pitch_s=600, gap_s=0)
    spread = Spread(
        np.array([0.0, 1.0]), np.array([[400.0, 1400.0], [10.0, 10.0]]), np.zeros((1, 2)), NONE
    )
    found = punctuality(course, simulate(course, spread, rng()), incidents=Incidents())
    # The second heat is later than two minutes when the first takes over 720 of 400 to 1400.
    assert abs(found.heats[1].late_permille - 680) < 20
    assert found.heats[0].late_permille == 0
    assert found.any_late_permille == found.heats[1].late_permille
    assert [finding.rule for finding in found.findings] == [
        "punctuality.end",
        "punctuality.end_nine_in_ten",
        "punctuality.latest_heat",
        "punctuality.incidents",
    ]


def test_the_course_of_a_plan_knows_floors_pauses_and_teams() -> None:
    plan, course = day_of_42()
    assert (np.diff(course.published_s) >= 0).all()
    arcs = list(zip(course.before, course.after, course.gap_s, course.on_floor, strict=True))
    assert all(before < after for before, after, _, _ in arcs)
    for before, after, gap_s, _ in arcs:
        end_s = course.published_s[before] + course.length_s[before]
        assert course.published_s[after] >= end_s + gap_s
    rests = {gap_s for _, _, gap_s, on_floor in arcs if not on_floor}
    assert rests == {30 * MINUTE}
    assert max(gap_s for _, _, gap_s, on_floor in arcs if on_floor) == 45 * MINUTE  # lunch
    assert course.finish_s == plan.finish_s
    event, teams = days.demo_like()
    cut = course_of(event, teams, plan, kept_pause_s=20 * MINUTE)
    assert max(cut.gap_s[cut.on_floor]) == 20 * MINUTE


def test_slack_that_is_placed_makes_a_sound_plan_and_beats_even_slack() -> None:
    event, teams = days.demo_like()
    event = replace(event, wishes=replace(event.wishes, finish_by_s=None))
    plan, course = day_of_42()
    spread = capped_spread(event, plan, course)
    sample, fresh = simulate(course, spread, rng(1), days=60), simulate(course, spread, rng(2))
    budget_s = 40 * MINUTE
    placed = place_slack(course, sample, budget_s=budget_s)
    moved = dict(zip(course.heats, (placed - course.published_s).tolist(), strict=True))
    assert 0 < max(moved.values()) <= budget_s
    shifted = replace(
        plan,
        heats=tuple(
            replace(heat, start_s=heat.start_s + moved[heat.id], end_s=heat.end_s + moved[heat.id])
            for heat in plan.heats
        ),
        finish_s=max(heat.end_s + moved[heat.id] for heat in plan.heats),
    )
    assert check_plan(event, teams, shifted) == ()
    share = (course.published_s - course.published_s[0]) / course.published_s.max()
    even = np.minimum(course.published_s + (share * budget_s).astype(np.int64), course.latest_s)
    due_s = course.finish_s + budget_s
    ours, theirs = (float((fresh.on(course.at(t)).finish_s > due_s).mean()) for t in (placed, even))
    assert ours < theirs


def test_no_budget_moves_nothing_and_a_pause_is_not_moved_into() -> None:
    course = row(3)._replace(published_s=np.array([0, 120, 240]), length_s=np.full(3, 60))
    spread = Spread(FLAT, np.array([[60.0, 180.0]] * 3), np.zeros((2, 2)), NONE)
    sample = simulate(course, spread, rng(), days=50)
    assert (place_slack(course, sample, budget_s=0) == course.published_s).all()
    pinned = course._replace(latest_s=np.array([0, 120, 10**6]))
    placed = place_slack(pinned, sample, budget_s=600)
    assert placed[:2].tolist() == [0, 120]
    assert placed[2] > 240


def test_heats_of_a_rhythm_move_together() -> None:
    course = row(4)._replace(groups=np.array([0, 1, 1, 2]), published_s=np.arange(4) * 120)
    spread = Spread(FLAT, np.array([[60.0, 240.0]] * 4), np.zeros((3, 2)), NONE)
    placed = place_slack(course, simulate(course, spread, rng(), days=80), budget_s=900)
    shift = placed - course.published_s
    assert shift[1] == shift[2] > 0


def test_the_best_gap_is_behind_the_uncertain_heat() -> None:
    course = row(4)._replace(published_s=np.arange(4) * 120, length_s=np.full(4, 60))
    wild = np.array([[60.0, 60.0], [60.0, 500.0], [60.0, 60.0], [60.0, 60.0]])
    lived = simulate(course, Spread(FLAT, wild, np.zeros((3, 2)), NONE), rng(), days=2000)
    gaps = best_gaps(course, lived)
    assert gaps[0].heat == "h2"
    assert gaps[0].saved_s > 0
    assert gaps[-1].saved_s <= gaps[0].saved_s
    assert gap_said(gaps[0], 300).facts["heat"] == "h2"
    nowhere = course._replace(latest_s=course.published_s)
    assert best_gaps(nowhere, lived) == ()


def test_a_promise_is_kept_on_days_it_has_not_seen() -> None:
    course = row(6)._replace(published_s=np.arange(6) * 660, length_s=np.full(6, 600))
    spread = Spread(FLAT, np.array([[540.0, 900.0]] * 6), np.full((5, 2), 60.0), NONE)
    made = promise(course, spread, rng(), wanted_permille=900, days=4000)
    assert made is not None
    assert made.kept_permille >= 900
    lived = simulate(course.at(made.published_s), spread, rng(99))
    assert float((lived.finish_s <= made.end_s).mean()) > 0.88
    assert made.end_s == course.finish_s + made.budget_s
    assert promise_said(made, 900).rule == "punctuality.promise"
    hopeless = spread._replace(stay_s=np.array([[3000.0, 9000.0]] * 6))
    assert promise(course, hopeless, rng(), days=500) is None
    assert promise_said(None, 900).rule == "punctuality.no_promise"


def test_slack_left_by_hand() -> None:
    course = row(4, pitch_s=20)  # eight seconds to spare behind every heat
    left = slack_left(course, now_s=0, begun_s={}, over_s={}, deadline_s=100)
    (floor,) = left.floors
    assert (floor.heat, floor.late_s, floor.until_late_s, floor.until_deadline_s) == (
        "h0",
        0,
        0,
        54,
    )
    # The first heat began five seconds late: the second still starts in time.
    left = slack_left(course, now_s=10, begun_s={"h0": 5}, over_s={}, deadline_s=100)
    assert left.expected_s.tolist() == [5, 20, 40, 60]
    # It is over thirteen seconds late: 23 + 2 = 25, then 37 + ... catches up at the third.
    left = slack_left(course, now_s=23, begun_s={"h0": 5}, over_s={"h0": 23}, deadline_s=71)
    assert left.expected_s.tolist() == [5, 25, 40, 60]
    (floor,) = left.floors
    assert (floor.heat, floor.late_s, floor.until_late_s) == ("h1", 5, 0)
    assert floor.until_deadline_s == 61 - 24 - 25
    assert left.finish_s == 70
    assert [finding.rule for finding in slack_said(left)] == ["punctuality.late_now"]


def test_a_lost_day_says_how_late_it_ends() -> None:
    course = row(2)
    left = slack_left(course, now_s=50, begun_s={}, over_s={"h0": 50}, deadline_s=40)
    assert left.floors[0].until_deadline_s == -22
    rules = [finding.rule for finding in slack_said(left)]
    assert rules == ["punctuality.ends_late", "punctuality.late_now"]
    over = slack_left(course, now_s=99, begun_s={}, over_s={"h0": 50, "h1": 60}, deadline_s=60)
    assert over.floors == ()


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 60), st.integers(10, 30))
def test_losing_the_slack_left_and_no_more_keeps_the_day(lost_s: int, pitch_s: int) -> None:
    course = row(4, pitch_s=max(12, pitch_s))
    begun = {"h0": 0}
    free = slack_left(course, now_s=10, begun_s=begun, over_s={"h0": 10}, deadline_s=130)
    (floor,) = free.floors
    late = slack_left(
        course, now_s=int(free.expected_s[1]) + lost_s, begun_s=begun, over_s={"h0": 10},
        deadline_s=130,
    )  # fmt: skip
    assert (late.finish_s <= 130) == (lost_s <= floor.until_deadline_s)


@pytest.mark.parametrize("rule", list(RULES), ids=lambda rule: rule.rule)
def test_punctuality_has_sentences_with_its_facts(rule: CatalogueRule) -> None:
    used = {n for _, n, _, _ in string.Formatter().parse(said.SENTENCES[rule.rule]) if n}
    assert used == set(rule.facts)
    assert said.SENTENCES.keys() == {one.rule for one in RULES}


def test_the_demo_day_in_words() -> None:
    event, _ = days.demo_like()
    plan, course = day_of_42()
    lived = simulate(course, capped_spread(event, plan, course), rng())
    texts = [sentence(f, event=event) for f in punctuality(course, lived).findings]
    assert texts[0].startswith("On ")
    assert "the plan says" in texts[1]


def test_mixed_floors_and_pauses_of_one_floor() -> None:
    wishes = Wishes(
        pauses=(Pause(id="p", name="P", start_s=3600, length_s=1800, floors=("b",)),), rest_s=0
    )
    event = days.event(
        floors=(Floor(id="a", name="A", lanes=4), Floor(id="b", name="B", lanes=4)),
        workouts=(days.workout("w1", floor="a"), days.workout("w2", floor="b")),
        wishes=wishes,
    )
    teams = days.teams({"a": 8})
    plan = plan_day(PlanRequest(event=event, teams=teams), solve).plan
    assert plan is not None
    course = course_of(event, teams, plan)
    bounded = [
        floor for floor, last in zip(course.floors, course.latest_s, strict=True) if last < 2**39
    ]
    assert set(bounded) == {"b"}


def test_a_forecast_sets_how_long_heats_hold_their_floor() -> None:
    event, teams, plan = example_day()
    course = course_of(event, teams, plan)
    sure = Quantiles(p10=300, p25=300, p50=300, p75=300, p90=300)
    held_s = {(workout.id, division.id): sure for workout in event.workouts
              for division in event.divisions}  # fmt: skip
    spread = forecast_spread(event, teams, plan, course, held_s=held_s)
    capped = capped_spread(event, plan, course)
    assert (spread.stay_s[:, -1] < capped.stay_s[:, -1]).all()
    without = forecast_spread(event, teams, plan, course, held_s={})
    assert (without.stay_s[:, 0] == capped.stay_s[:, 0]).all()
    assert (without.stay_s[:, -1] == capped.stay_s[:, -1]).all()
    assert len(without.levels) == without.gap_s.shape[1] == without.stay_s.shape[1]


def test_what_a_forecast_does_not_know_stays_at_the_level_below() -> None:
    event, teams, plan = example_day()
    course = course_of(event, teams, plan)
    half = Quantiles(p10=400, p25=500, p50=None, p75=None, p90=None)
    held_s = {(workout.id, division.id): half for workout in event.workouts
              for division in event.divisions}  # fmt: skip
    spread = forecast_spread(event, teams, plan, course, held_s=held_s)
    assert (np.diff(spread.stay_s, axis=1) >= 0).all()
