"""Expected starts by hand, and what must hold of them on every day."""

from collections.abc import Callable
from itertools import pairwise

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Event, Heat, LaneTeam, Pause, Plan, Wishes
from callroom.planner.expected import DaySoFar, Expected, expected_starts
from tests.actions.day_building import EVENT, TEAMS

LENGTH_S = 600


def heat(name: str, start_s: int, teams: str, *, floor: str = "main", workout: str = "w1") -> Heat:
    return Heat(
        id=name,
        workout=workout,
        floor=floor,
        number=1,
        start_s=start_s,
        end_s=start_s + LENGTH_S,
        lanes=tuple(LaneTeam(lane=lane, team=f"T{team}") for lane, team in enumerate(teams, 1)),
    )


def event(**wishes: object) -> Event:
    usual: dict[str, object] = {
        "changeover_same_s": 60,
        "changeover_division_s": 120,
        "changeover_workout_s": 300,
        "rest_s": 900,
    }
    return replace(EVENT, wishes=msgspec.convert({**usual, **wishes}, Wishes))


# Two floors: h1, h2, h3 follow each other closely, h4 after a slack of 20 minutes; o1 elsewhere
# has the teams of h1, rested as long as wished.
HEATS = (
    heat("h1", 0, "12"),
    heat("h2", 660, "34"),
    heat("h3", 1320, "5"),
    heat("h4", 3180, "6"),
    heat("o1", 1500, "12", floor="yard", workout="w2"),
)
PLAN = Plan(revision=1, inputs_digest="x", heats=HEATS)
BOTH = frozenset({"main", "yard"})


def starts(day: DaySoFar, plan: Plan = PLAN, at: Event | None = None) -> dict[str, int]:
    return {name: one.start_s for name, one in expected(day, plan, at).items()}


def expected(day: DaySoFar, plan: Plan = PLAN, at: Event | None = None) -> dict[str, Expected]:
    return expected_starts(at or event(), TEAMS, plan, day)


PUBLISHED = {one.id: one.start_s for one in HEATS}


def test_a_day_on_time_is_expected_as_published() -> None:
    assert starts(DaySoFar(now_s=-300, watched=BOTH)) == PUBLISHED
    day = DaySoFar(now_s=300, watched=BOTH, begun_s={"h1": 0})
    assert starts(day) == PUBLISHED


def test_lateness_moves_on_over_floor_and_teams_until_slack_takes_it_up() -> None:
    day = DaySoFar(now_s=400, watched=BOTH, begun_s={"h1": 300})
    # o1 waits for the teams of h1, which left their floor at 900 and rest for 900.
    assert starts(day) == {"h1": 300, "h2": 960, "h3": 1620, "h4": 3180, "o1": 1800}


def test_a_heat_nobody_has_begun_is_expected_no_sooner_than_now() -> None:
    day = DaySoFar(now_s=700, watched=BOTH)
    assert starts(day)["h1"] == 700
    assert starts(day)["h2"] == 1360


def test_a_floor_on_which_nobody_says_anything_runs_as_planned() -> None:
    assert starts(DaySoFar(now_s=5000)) == PUBLISHED


def test_shorter_work_makes_lateness_good() -> None:
    late = {"h1": 300}
    day = DaySoFar(now_s=400, watched=BOTH, begun_s=late, length_s={"h1": 420, "h2": 420})
    assert starts(day)["h2"] == 780
    assert starts(day)["h3"] == 1320


def test_the_real_end_counts_once_it_is_known() -> None:
    day = DaySoFar(now_s=1000, watched=BOTH, begun_s={"h1": 0}, over_s={"h1": 1000})
    assert starts(day)["h2"] == 1060
    unknown_start = DaySoFar(now_s=1000, watched=BOTH, over_s={"h1": 1000})
    assert starts(unknown_start)["h1"] == 400


def test_a_running_heat_that_overruns_ends_no_sooner_than_now() -> None:
    day = DaySoFar(now_s=1200, watched=BOTH, begun_s={"h1": 0})
    assert starts(day)["h2"] == 1260


def test_a_heat_that_was_skipped_waits_for_the_one_that_went_before_it() -> None:
    day = DaySoFar(now_s=800, watched=BOTH, over_s={"h1": 600}, begun_s={"h1": 0, "h3": 700})
    late = starts(day)
    # h3 has the floor until 1300; then the changeover to another division, then h2.
    assert late["h2"] == 1300 + 120
    assert late["h4"] == 3180


def test_only_with_everybody_there_may_a_heat_begin_before_its_time() -> None:
    day = DaySoFar(now_s=100, watched=BOTH, over_s={"h1": 50}, begun_s={"h1": -500})
    assert expected(day)["h2"].may_s == 660
    there = expected(replace(day, present=frozenset({"h2"})))["h2"]
    assert (there.may_s, there.start_s) == (110, 660)


def test_a_floor_that_cannot_be_used_holds_its_heats_up() -> None:
    day = DaySoFar(now_s=0, watched=BOTH, ready_s={"main": 700})
    late = starts(day)
    assert (late["h1"], late["h2"], late["o1"]) == (700, 1360, 2200)
    assert expected(replace(day, present=frozenset({"h4"})))["h4"].may_s > 700


def test_a_pause_is_kept_whole_however_late_it_begins() -> None:
    lunch = Pause(id="lunch", name="Lunch", start_s=600, length_s=1800)
    plan = replace(PLAN, heats=(heat("h1", 0, "12"), heat("h2", 2460, "34")))
    day = DaySoFar(now_s=0, watched=BOTH, begun_s={"h1": 600})
    assert starts(day, plan, event(pauses=[msgspec.to_builtins(lunch)]))["h2"] == 1200 + 1800
    assert starts(day, plan)["h2"] == 2460


def test_a_plan_that_leaves_less_than_wished_is_no_reason_to_be_late() -> None:
    tight = replace(PLAN, heats=(heat("h1", 0, "12"), heat("h2", 600, "12", workout="w2")))
    assert starts(DaySoFar(now_s=0, watched=BOTH), tight) == {"h1": 0, "h2": 600}


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Heats one behind the other on two floors, with teams that go to and fro."""
    heats: list[Heat] = []
    for floor in ("main", "yard"):
        start_s = 0
        for number in range(draw(st.integers(1, 5))):
            start_s += draw(st.integers(0, 900))
            teams = "".join(draw(st.lists(st.sampled_from("123456"), unique=True, max_size=3)))
            workout = draw(st.sampled_from(["w1", "w2"]))
            heats.append(heat(f"{floor}{number}", start_s, teams, floor=floor, workout=workout))
            start_s += LENGTH_S
    return Plan(revision=1, inputs_digest="x", heats=tuple(heats))


@st.composite
def days(draw: st.DrawFn) -> tuple[Plan, DaySoFar]:
    plan = draw(plans())
    now_s = draw(st.integers(-600, 6000))
    begun: dict[str, int] = {}
    over: dict[str, int] = {}
    for one in plan.heats:
        how_far = draw(st.sampled_from(["waiting", "begun", "over"]))
        if how_far != "waiting":
            begun[one.id] = draw(st.integers(-600, max(now_s, -600)))
        if how_far == "over":
            over[one.id] = draw(st.integers(begun[one.id], max(now_s, begun[one.id])))
    ids = [one.id for one in plan.heats]
    return plan, DaySoFar(
        now_s=now_s,
        watched=frozenset(draw(st.sets(st.sampled_from(["main", "yard"])))),
        begun_s=begun,
        over_s=over,
        present=frozenset(draw(st.sets(st.sampled_from(ids)))),
        length_s=draw(st.dictionaries(st.sampled_from(ids), st.integers(60, 900), max_size=4)),
    )


def later(delay_s: int, draw: Callable[[str], int]) -> Callable[[DaySoFar, str], DaySoFar]:
    def change(day: DaySoFar, what: str) -> DaySoFar:
        if what == "now":
            return replace(day, now_s=day.now_s + delay_s)
        if what == "begun":
            return replace(day, begun_s={name: at + draw(name) for name, at in day.begun_s.items()})
        if what == "over":
            return replace(day, over_s={name: at + draw(name) for name, at in day.over_s.items()})
        longer = {name: at + draw(name) for name, at in day.length_s.items()}
        return replace(day, length_s=longer)

    return change


@settings(max_examples=40)
@given(days(), st.integers(0, 2000), st.data())
def test_more_delay_never_makes_anything_earlier(
    given_day: tuple[Plan, DaySoFar], delay_s: int, data: st.DataObject
) -> None:
    plan, day = given_day
    change = later(delay_s, lambda name: data.draw(st.integers(0, delay_s), label=name))
    before = starts(day, plan)
    for what in ("now", "begun", "over", "length"):
        after = starts(change(day, what), plan)
        assert all(after[name] >= at for name, at in before.items() if not day.touched(name)), what


@settings(max_examples=40)
@given(days())
def test_what_holds_of_every_day(given_day: tuple[Plan, DaySoFar]) -> None:
    plan, day = given_day
    assert starts(day, replace(plan, heats=plan.heats[::-1])) == starts(day, plan)
    times = expected(day, plan)
    coming = [one for one in plan.heats if not day.touched(one.id)]
    not_before_published_or_allowed(coming, times, day)
    one_at_a_time_on_each_floor(coming, times)


def not_before_published_or_allowed(
    coming: list[Heat], times: dict[str, Expected], day: DaySoFar
) -> None:
    for heat in coming:
        one = times[heat.id]
        assert one.start_s >= heat.start_s
        assert one.may_s <= one.start_s
        if one.may_s < heat.start_s:
            assert heat.id in day.present
            assert one.may_s >= day.now_s
        if heat.floor in day.watched:
            assert one.start_s >= day.now_s


def one_at_a_time_on_each_floor(coming: list[Heat], times: dict[str, Expected]) -> None:
    for floor in ("main", "yard"):
        row = sorted(
            (times[one.id] for one in coming if one.floor == floor), key=lambda at: at.start_s
        )
        assert all(one.free_s <= other.start_s for one, other in pairwise(row))
