"""What the day taught: minutes told where they were lost, orders compared, rates with ranges."""

import pytest
from msgspec.structs import replace

from callroom.model import Duty, HeatRun, NoRepCount, Rota, Shift, State, milliseconds
from callroom.model.course import left_floor_ms, walked_on_ms
from callroom.model.steps import total_counts
from callroom.views.agreement import no_rep_rate, rank_agreement
from callroom.views.lateness_picture import floors_of, lateness_svg, most_late_s
from callroom.views.lessons import Lessons, Separated, lessons
from callroom.views.lessons_used import posts_held
from callroom.views.timetable import CREW, workout_title
from tests.views.building import example_event, example_state
from tests.web.building import FakeBook, played_book


@pytest.fixture(scope="module")
def late() -> FakeBook:
    heats = len(played_book(0).state.plan.heats) - 2  # type: ignore[union-attr]
    return played_book(heats, confirm=heats)


def test_kendall_and_spearman_are_those_of_the_library_s_own_examples() -> None:
    # scipy.stats.kendalltau and spearmanr, documentation examples, SciPy 1.17.1.
    kendall = rank_agreement([12, 2, 1, 12, 2], [1, 4, 7, 1, 0])
    spearman = rank_agreement([1, 2, 3, 4, 5], [5, 6, 7, 8, 7])
    assert kendall is not None
    assert spearman is not None
    assert kendall.tau == pytest.approx(-0.4714045207910316)
    assert spearman.rho == pytest.approx(0.8207826816681233)


def test_too_few_or_all_level_say_nothing() -> None:
    assert rank_agreement([1, 2, 3], [1, 2, 3]) is None
    assert rank_agreement([1, 1, 1, 1], [1, 2, 3, 4]) is None
    same = rank_agreement([1, 2, 3, 4], [1, 2, 3, 4])
    assert same is not None
    assert same.tau == pytest.approx(1)
    assert same.rho == pytest.approx(1)


@pytest.mark.parametrize(
    ("no_reps", "tries", "low", "high"),
    [
        # Newcombe, Statistics in Medicine 17:857-872, 1998, table of methods, method 5
        # (Clopper-Pearson "exact"): 81 of 263, 15 of 148, 0 of 20, 1 of 29. The counts are seen in
        # print, the exact limits recalled; they are what scipy's binomial test gives.
        (81, 263, 0.2527, 0.3676),
        (15, 148, 0.0578, 0.1617),
        (0, 20, 0.0, 0.1684),
        (1, 29, 0.0009, 0.1776),
    ],
)
def test_a_rate_has_its_exact_interval(no_reps: int, tries: int, low: float, high: float) -> None:
    rate = no_rep_rate(no_reps, tries)
    assert (round(rate.low, 4), round(rate.high, 4)) == (low, high)
    assert rate.low <= rate.share <= rate.high


def with_times(heats: dict[str, tuple[int, int]]) -> State:
    """The example with heats that began and ended so much later than planned [s]."""
    state, event = example_state(), example_event()
    assert state.plan is not None
    runs = {}
    for heat_id, (late_s, over_s) in heats.items():
        heat = state.plan.heat(heat_id)
        workout = event.workout(heat.workout)
        on_ms = milliseconds(event.instant(heat.start_s + late_s))
        planned_off = left_floor_ms(workout, HeatRun(stage="finished", finished_ms=on_ms)) or 0
        tail_ms = planned_off - on_ms
        end_ms = milliseconds(event.instant(heat.end_s + late_s + over_s)) - tail_ms
        start_ms = on_ms + 1000 * (workout.walk_on_s + workout.countdown_s)
        run = HeatRun(stage="finished", on_floor_ms=on_ms, started_ms=start_ms, finished_ms=end_ms)
        assert walked_on_ms(workout, run) == on_ms
        runs[heat_id] = run
    return replace(state, heats=runs)


def test_minutes_are_told_where_they_were_lost_and_not_where_they_were_handed_on() -> None:
    plan = example_state().plan
    assert plan is not None
    first, second = [
        heat.id for heat in sorted(plan.heats, key=lambda one: one.start_s) if heat.floor == "hall"
    ][:2]
    told = lessons(with_times({first: (0, 240), second: (240, 0)}))
    one, other = told.heats
    assert (one.late_s, one.over_s, one.gap_s) == (0, 240, 0)
    # The second heat is late by what the first handed on: none of it is its own doing.
    assert (other.late_s, other.over_s, other.gap_s) == (240, 0, 0)
    assert [lost.heat for lost in told.lost] == [first]
    between = lessons(with_times({first: (0, 0), second: (300, 0)}))
    assert [(lost.heat, lost.gap_s) for lost in between.lost] == [(second, 300)]


def test_the_picture_has_a_line_for_each_floor(late: FakeBook) -> None:
    told = lessons(late.state)
    svg = lateness_svg(told.heats)
    assert svg.count('stroke-width="3"') == len(floors_of(told.heats)) == 2
    assert most_late_s(told.heats) >= 60
    assert lateness_svg(told.heats[:1]) == ""


def test_every_counted_part_is_told_for_every_division(late: FakeBook) -> None:
    told = lessons(late.state)
    assert {one.division for one in told.separated} == {"Open fours", "Pairs"}
    for one in told.separated:
        assert 0 <= one.apart_percent <= 100
        assert one.largest_tie <= one.teams
    assert told.agreements
    assert all(-1 <= one.agreement.tau <= 1 for one in told.agreements)
    counted = len([one for one in told.separated if one.division == "Pairs" and one.places > 1])
    between = [one for one in told.between if one.division == "Pairs"]
    assert len(between) == counted * (counted - 1) // 2
    taus = sorted((one.agreement.tau for one in told.between), reverse=True)
    assert [one.agreement.tau for one in told.alike] == taus[:10]


def test_all_apart_is_a_hundred_and_all_level_nought() -> None:
    event = example_event()
    title = workout_title(event, event.workouts[0], CREW)
    row = Separated(
        workout=title,
        part="a",
        part_name="",
        division="open",
        teams=5,
        places=5,
        capped=0,
        largest_tie=1,
    )
    assert row.apart_percent == 100
    assert replace(row, places=1).apart_percent == 0


def test_the_posts_of_the_crew_are_told_with_how_long_each_was_on_duty() -> None:
    hour = 3600
    shifts = (
        Shift(id="a", post="judge", start_s=0, end_s=hour),
        Shift(id="b", post="judge", start_s=hour, end_s=3 * hour),
        Shift(id="c", post="judge", start_s=hour, end_s=2 * hour),
        Shift(id="d", post="desk", start_s=0, end_s=9 * hour),
    )
    duties = tuple(Duty(shift=name, person="p") for name in "ab")
    judge, desk = posts_held(Rota(plan_revision=1, shifts=shifts, duties=duties))
    assert (judge.post, judge.shifts, judge.held, judge.people) == ("judge", 3, 2, 1)
    assert (judge.each_s, desk.held, desk.each_s) == (3 * hour, 0, 0)
    assert posts_held(None) == ()


def test_a_finished_part_counts_all_of_its_repetitions_as_tries(late: FakeBook) -> None:
    state = late.state
    assert state.event is not None
    sheet = next(
        one
        for one in state.sheets.values()
        if one.reports and one.reports[0].report.result.outcome == "finished"
    )
    kept = sheet.reports[0]
    report = replace(kept.report, no_reps=(NoRepCount(task="any", count=7),))
    alone = replace(sheet, reports=(replace(kept, report=report),))
    (judge,) = lessons(replace(state, sheets={"one": alone})).judges
    part = state.event.workout(report.workout).part(report.part)
    whole = total_counts(part, state.event.division(state.teams[report.team].division))
    assert whole
    assert (judge.rate.no_reps, judge.rate.tries) == (7, whole + 7)


def test_an_empty_book_teaches_nothing() -> None:
    assert lessons(State()) == Lessons(
        heats=(), separated=(), agreements=(), judges=(), athletes=0, crew=0, posts=(), kit=()
    )
