"""Each wish of the director from the event to the plan, which the independent check lets pass."""

import pytest
from msgspec.structs import replace

from callroom.model import (
    Apart,
    CrewMember,
    Event,
    EventDay,
    Floor,
    FloorChoice,
    Heat,
    JudgeSpell,
    KitShare,
    Lock,
    OrderInto,
    Pause,
    Plan,
    RestBetween,
    SharedKit,
    Team,
    TeamHours,
    Wishes,
)
from callroom.planner import (
    Aim,
    Limits,
    PlanProgress,
    PlanReply,
    PlanRequest,
    Problem,
    Timetable,
    check_plan,
    plan_day,
)
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.event_days import days_of
from callroom.planner.prices import frontier
from callroom.planner.solve import calmest, decide, solve
from callroom.planner.timetable import OnIncumbent
from callroom.planner.why_not import menu, plain_reasons
from tests.planner import days

MINUTE = 60
TEAMS = days.teams({"a": 10, "b": 6})
FLOORS = (Floor(id="main", name="Main", lanes=4), Floor(id="yard", name="Yard", lanes=4))
LUNCH = Pause(id="lunch", name="Lunch", start_s=150 * MINUTE, length_s=30 * MINUTE)
PLAIN = Wishes(rest_s=20 * MINUTE, pauses=(LUNCH,), changeover_division_s=240)


def event(**wishes: object) -> Event:
    """A morning on two floors: three workouts, sixteen teams, five heats each."""
    return days.event(
        divisions=("a", "b"),
        floors=FLOORS,
        workouts=(
            days.workout("w1", cap_min=10),
            days.workout("w2", cap_min=8, floor="yard"),
            days.workout("w3", cap_min=6),
        ),
        wishes=replace(PLAIN, **wishes),
    )


def asked(day: Event, teams: tuple[Team, ...] = TEAMS) -> PlanReply:
    return plan_day(PlanRequest(event=day, teams=teams, limits=Limits(work=4)), solve)


def planned(**wishes: object) -> Plan:
    """Plan the morning with more wishes; they are all kept, or this fails."""
    reply = asked(event(**wishes))
    assert reply.plan is not None, reply.findings
    assert reply.findings == ()
    return reply.plan


def of(plan: Plan, workout: str, division: str = "") -> list[Heat]:
    return [h for h in plan.heats if h.workout == workout and h.teams[0].startswith(division)]


@pytest.fixture(scope="module")
def plain() -> Plan:
    return planned()


def broken(plan: Plan, **wishes: object) -> set[str]:
    """What the check has to say of a plan if more had been wished."""
    return {finding.rule for finding in check_plan(event(**wishes), TEAMS, plan)}


def test_kit_that_floors_share_keeps_them_from_working_at_once(plain: Plan) -> None:
    shares = (KitShare(workout="w1", per_lane=1), KitShare(workout="w2", per_lane=1))
    kit = (SharedKit(id="bikes", name="Bikes", count=5, shares=shares),)
    assert "check.kit_short" in broken(plain, shared_kit=kit)
    assert planned(shared_kit=kit).finish_s > plain.finish_s


def test_kit_that_one_heat_alone_cannot_have_is_said() -> None:
    kit = (
        SharedKit(id="bikes", name="Bikes", count=3, shares=(KitShare(workout="w1", per_lane=1),)),
    )
    assert [f.rule for f in asked(event(shared_kit=kit)).findings] == ["planner.pool_short"]


def test_few_judges_over_noon_are_enough_for_one_floor(plain: Plan) -> None:
    spells = (JudgeSpell(from_s=30 * MINUTE, until_s=100 * MINUTE, judges=4),)
    assert "check.judges_short" in broken(plain, judge_spells=spells)
    planned(judge_spells=spells)


def test_waves_come_one_after_the_other(plain: Plan) -> None:
    assert "check.wave_overlapped" in broken(plain, waves=(("b",), ("a",)))
    plan = planned(waves=(("b",), ("a",)))
    last = max(heat.end_s for heat in plan.heats if heat.teams[0].startswith("b"))
    assert all(h.start_s >= last for h in plan.heats if h.teams[0].startswith("a"))


def test_waves_share_no_mixed_heat() -> None:
    plan = planned(waves=(("a",), ("b",)), mixed_heats=True)
    assert all(len({team[0] for team in heat.teams}) == 1 for heat in plan.heats)


def test_finals_end_the_day(plain: Plan) -> None:
    plan = planned(finals_last=True)
    ends = sorted(plan.heats, key=lambda heat: heat.end_s)[-2:]
    assert {heat.workout for heat in ends} == {"w3"}
    assert {team for heat in ends for team in heat.teams} >= {"a01", "b01"}
    assert max(h.end_s for h in plan.heats if h not in ends) <= ends[0].start_s
    assert plan.finish_s >= plain.finish_s


def test_a_heat_fixed_at_a_time_and_on_a_floor_is_there() -> None:
    choice = (FloorChoice(workout="w2", floors=("main", "yard")),)
    lock = Lock(workout="w2", division="b", heat=1, at_s=100 * MINUTE, floor="main")
    heat = of(planned(locks=(lock,), floor_choices=choice), "w2", "b")[0]
    assert (heat.start_s, heat.floor) == (100 * MINUTE, "main")


def test_a_team_fixed_in_a_heat_and_a_lane_is_there() -> None:
    plan = planned(locks=(Lock(team="a02", heat=1, lane=4), Lock(workout="w2", team="a09", lane=1)))
    for workout in ("w1", "w2", "w3"):
        assert "a02" in of(plan, workout, "a")[0].teams
    assert plan.heat_of("w1", "a02").lane_of("a02") == 4  # type: ignore[union-attr]
    assert plan.heat_of("w2", "a09").lane_of("a09") == 1  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("wishes", "rule"),
    [
        ({"locks": (Lock(team="a02", heat=9),)}, "planner.lock_no_such_heat"),
        (
            {"locks": tuple(Lock(team=f"a{n:02}", heat=1) for n in range(1, 11))},
            "planner.lock_heat_full",
        ),
        (
            {
                "locks": (Lock(team="a01", heat=1), Lock(team="a02", heat=1)),
                "apart": (Apart(teams=("a01", "a02")),),
            },
            "planner.apart_impossible",
        ),
        (
            {"locks": (Lock(workout="w1", division="a", heat=1, at_s=LUNCH.start_s),)},
            "planner.hours_missed",
        ),
    ],
)
def test_a_wish_that_cannot_be_is_said(wishes: dict[str, object], rule: str) -> None:
    reply = asked(event(**wishes))
    assert reply.status == "infeasible"
    assert rule in {finding.rule for finding in reply.findings}


def test_a_team_that_leaves_early_is_through_by_then(plain: Plan) -> None:
    until_s = plain.day_of("b01")[-1].end_s - MINUTE
    hours = (TeamHours(team="b01", until_s=until_s), TeamHours(team="a01", from_s=20 * MINUTE))
    plan = planned(team_hours=hours)
    assert plan.day_of("b01")[-1].end_s <= until_s
    assert plan.day_of("a01")[0].start_s >= 20 * MINUTE


def test_hours_hold_for_every_heat_the_standings_may_choose() -> None:
    hours = (TeamHours(team="b06", until_s=140 * MINUTE),)
    plan = planned(team_hours=hours, order="reseeded")
    assert all(heat.end_s <= 140 * MINUTE for heat in of(plan, "w3", "b"))


def test_teams_with_one_coach_are_never_on_a_floor_at_once(plain: Plan) -> None:
    wish = {"apart": (Apart(teams=("a01", "a02", "b01"), gap_s=3 * MINUTE),)}
    assert "check.not_apart" in broken(plain, **wish)
    plan = planned(**wish)
    assert all(len({"a01", "a02", "b01"} & set(heat.teams)) < 2 for heat in plan.heats)


def test_warm_up_and_briefing_of_heats_take_turns(plain: Plan) -> None:
    wish = {"warm_up_s": 12 * MINUTE, "warm_up_heats": 1, "briefing_s": 4 * MINUTE}
    assert "check.warm_ups_crowded" in broken(plain, **wish)
    starts = sorted(heat.start_s for heat in planned(**wish).heats)
    assert starts[0] >= 16 * MINUTE
    assert min(b - a for a, b in zip(starts, starts[1:], strict=False)) >= 12 * MINUTE  # noqa: RUF007


def test_a_longer_rest_between_two_workouts_is_kept(plain: Plan) -> None:
    rests = (
        RestBetween(before="w1", after="w2", rest_s=50 * MINUTE),
        RestBetween(before="w1", after="w3", rest_s=110 * MINUTE),
    )
    assert "check.rest_short" in broken(plain, rests=rests)
    for team in ("a01", "b06"):
        first, then, last = planned(rests=rests).day_of(team)
        assert then.start_s - first.end_s >= 50 * MINUTE
        assert last.start_s - first.end_s >= 110 * MINUTE


def test_one_workout_may_be_seeded_anew_alone() -> None:
    plan = planned(orders=(OrderInto(workout="w3", order="reseeded"),))
    last = max(heat.end_s for heat in of(plan, "w2", "a"))
    assert all(heat.start_s >= last + 20 * MINUTE for heat in of(plan, "w3", "a"))
    kept = {(h.teams, of(plan, "w2", "a")[n].teams) for n, h in enumerate(of(plan, "w1", "a"))}
    assert all(set(one) == set(other) for one, other in kept)


def test_a_workout_on_either_floor_is_through_sooner(plain: Plan) -> None:
    both = ("main", "yard")
    choices = tuple(FloorChoice(workout=name, floors=both) for name in ("w1", "w2", "w3"))
    plan = planned(floor_choices=choices)
    assert plan.finish_s < plain.finish_s
    assert {heat.floor for heat in of(plan, "w1")} == set(both)


def test_a_division_wished_early_is_through_sooner(plain: Plan) -> None:
    ends = {
        name: max(h.end_s for h in planned(early=(name,)).heats if h.teams[0].startswith(name))
        for name in ("a", "b")
    }
    for name, end_s in ends.items():
        other = planned(early=("b" if name == "a" else "a",))
        assert end_s <= max(h.end_s for h in other.heats if h.teams[0].startswith(name))


SATURDAY = EventDay(id="sat", name="Saturday", opens_s=0, closes_s=150 * MINUTE)
SUNDAY = EventDay(id="sun", name="Sunday", opens_s=1440 * MINUTE, closes_s=1600 * MINUTE)


def test_an_event_of_two_days_is_planned_within_their_hours() -> None:
    seen: list[Plan] = []
    request = PlanRequest(event=event(days=(SATURDAY, SUNDAY)), teams=TEAMS, limits=Limits(work=4))
    reply = plan_day(request, solve, lambda met: seen.append(met.plan))
    assert reply.plan is not None
    assert reply.findings == ()
    on_sunday = {heat.workout for heat in reply.plan.heats if heat.start_s >= SUNDAY.opens_s}
    assert on_sunday == {"w2", "w3"}
    assert [aim.name for aim in reply.aims].count("finish") == 2
    assert seen
    assert all(len(plan.heats) == len(reply.plan.heats) for plan in seen)


TWO_DAYS = (SATURDAY, SUNDAY)


def test_every_day_has_a_plan_before_any_is_made_better() -> None:
    seen: list[PlanProgress] = []
    request = PlanRequest(event=event(days=TWO_DAYS), teams=TEAMS, limits=Limits(work=4))
    reply = plan_day(request, solve, seen.append, first=decide)
    assert reply.plan is not None
    saturday = [met for met in seen if met.plan.finish_s == seen[0].plan.finish_s]
    assert {met.day for met in saturday} >= {1, 2}, "nothing is told while the first is sought"
    for met in seen:
        assert len(met.plan.heats) == len(reply.plan.heats)
        assert check_plan(event(days=TWO_DAYS), TEAMS, met.plan) == ()
        assert met.plan.bound_s is not None
        assert met.plan.bound_s <= reply.plan.finish_s <= met.plan.finish_s
    finishes = [met.plan.finish_s for met in seen]
    assert finishes == sorted(finishes, reverse=True)


def test_a_day_for_which_the_limit_comes_too_soon_has_its_first_plan() -> None:
    def slow(problem: Problem, limits: Limits, tell: OnIncumbent) -> Timetable:
        if problem.opens_s >= SUNDAY.opens_s:
            return Timetable(status="undecided", certificate_s=problem.opens_s)
        return solve(problem, limits, tell)

    request = PlanRequest(event=event(days=TWO_DAYS), teams=TEAMS, limits=Limits(work=4))
    assert plan_day(request, slow).plan is None
    reply = plan_day(request, slow, first=decide)
    assert reply.plan is not None
    assert reply.findings == ()
    assert [aim.name for aim in reply.aims][-1:] == ["finish"]
    assert SUNDAY.opens_s < reply.aims[-1].bound_s <= reply.aims[-1].value_s == reply.plan.finish_s


def test_of_a_first_plan_and_a_later_one_the_first_stands() -> None:
    def late(problem: Problem, limits: Limits, _tell: OnIncumbent) -> Timetable:
        found = decide(problem, limits)
        assert found.finish_s is not None
        moved = tuple(replace(at, start_s=at.start_s + 300) for at in found.placed)
        aim = Aim(name="finish", shape="blocks", value_s=found.finish_s + 300, bound_s=1)
        return replace(found, placed=moved, finish_s=found.finish_s + 300, aims=(aim,))

    request = PlanRequest(event=event(days=TWO_DAYS), teams=TEAMS, limits=Limits(work=4))
    seen: list[PlanProgress] = []
    reply = plan_day(request, late, seen.append, first=decide)
    assert reply.plan is not None
    assert [met.plan.heats for met in seen] == [reply.plan.heats]


def test_a_day_may_say_which_workouts_it_has() -> None:
    named = (replace(SATURDAY, workouts=("w1",)), replace(SUNDAY, workouts=("w2", "w3")))
    plan = planned(days=named, finals_last=True, locks=(Lock(team="a01", lane=1),))
    assert {heat.workout for heat in plan.heats if heat.start_s < SUNDAY.opens_s} == {"w1"}


def test_a_day_too_short_is_said_with_its_own_hours() -> None:
    short = (
        replace(SATURDAY, closes_s=30 * MINUTE, workouts=("w1", "w2")),
        replace(SUNDAY, workouts=("w3",)),
    )
    reply = asked(event(days=short))
    assert reply.status == "infeasible"
    assert {finding.facts.get("closes_at_s", 1800) for finding in reply.findings} == {1800}


def test_the_events_of_the_days_have_only_their_own_wishes() -> None:
    rests = (
        RestBetween(before="w1", after="w2", rest_s=0),
        RestBetween(before="w2", after="w3", rest_s=0),
    )
    first, second = days_of(event(days=(SATURDAY, SUNDAY), rests=rests, finals_last=True))
    assert [w.id for w in second.workouts] == ["w2", "w3"]
    assert (first.wishes.rests, second.wishes.rests) == ((), rests[1:])
    assert (first.wishes.finals_last, second.wishes.finals_last) == (False, True)
    assert second.wishes.pauses == ()


def helps(day: Event) -> dict[tuple[str, ...], int]:
    """Return the levels of the lines of the menu that do, by kind and subject."""
    assert asked(day).plan is None
    lines = menu(day, TEAMS, decide, limits=Limits(work=1))
    return {line.kinds + line.subjects: line.levels[0] for line in lines if line.status == "does"}


def test_a_longer_day_is_offered_where_there_are_several() -> None:
    saturday = replace(SATURDAY, closes_s=68 * MINUTE, workouts=("w1",))
    named = (saturday, replace(SUNDAY, workouts=("w2", "w3")))
    # Five heats of 12 minutes with three changeovers of two and one of four: two minutes over.
    found = helps(event(days=named, rest_s=0))
    assert found["day_longer", "sat"] == 5 * MINUTE
    assert ("day_longer", "sun") not in found
    assert not {kind for kind, _ in found} & {"finish_later", "start_earlier"}


def test_what_is_in_the_way_alone_is_offered_to_be_lifted() -> None:
    kit = SharedKit(id="bikes", name="Bikes", count=2, shares=(KitShare(workout="w1", per_lane=1),))
    assert helps(event(shared_kit=(kit,)))["kit_more", "bikes"] == 2
    late = Lock(workout="w1", division="a", heat=1, at_s=LUNCH.start_s)
    assert ("lock_lifted", "1") in helps(event(locks=(late,)))
    gone = TeamHours(team="a01", until_s=10 * MINUTE)
    assert ("hours_lifted", "1") in helps(event(team_hours=(gone,)))
    tight = {"finish_by_s": 132 * MINUTE, "waves": (("b",), ("a",))}
    assert ("waves", "") in helps(event(**tight))


def test_plain_reasons_are_looked_for_on_every_day() -> None:
    named = (
        replace(SATURDAY, workouts=("w1",)),
        replace(SUNDAY, closes_s=SUNDAY.opens_s + 20 * MINUTE, workouts=("w2", "w3")),
    )
    rules = {finding.rule for finding in plain_reasons(event(days=named), TEAMS)}
    assert "planner.floor_overloaded" in rules
    assert plain_reasons(event(days=(SATURDAY, SUNDAY)), TEAMS) == ()


def test_judges_are_counted_from_the_crew_list() -> None:
    crew = [
        CrewMember(person=f"p{n}", posts=("judge",), free_until_s=n * 30 * MINUTE or None)
        for n in range(5)
    ]
    crew += [
        CrewMember(person="p8", posts=("judge",), team="a01"),
        CrewMember(person="p9", posts=("desk",)),
    ]
    counted = with_crew_judges(event(judges_from_crew=True), crew).wishes.judge_spells
    assert [(s.from_s // MINUTE, s.judges) for s in counted] == [
        (0, 5), (30, 4), (60, 3), (90, 2), (120, 1)
    ]  # fmt: skip
    assert with_crew_judges(event(), crew) == event()
    most = with_crew_judges(event(judges_from_crew=True, judges_at_once=3), crew)
    assert [spell.judges for spell in most.wishes.judge_spells] == [3, 3, 3, 2, 1]
    own = JudgeSpell(from_s=0, until_s=60, judges=9)
    both = with_crew_judges(event(judges_from_crew=True, judge_spells=(own,)), crew)
    assert both.wishes.judge_spells[-1] == own


def test_where_early_finalists_wait_long_other_finals_are_offered() -> None:
    day = event(waves=(("a",), ("b",)), finals_last=True)
    options = {one.name: one for one in frontier(day, TEAMS, solve, calmest, limits=Limits(work=1))}
    wished = options["as_wished"]
    other = options["finals_by_wave"]
    assert other.longest_wait_s < wished.longest_wait_s
    assert not other.event.wishes.finals_last
    assert check_plan(other.event, TEAMS, other.plan) == ()


def test_choices_of_an_event_of_two_days_keep_its_days() -> None:
    day = event(days=(SATURDAY, SUNDAY))
    options = frontier(day, TEAMS, solve, calmest, limits=Limits(work=1))
    assert options
    for option in options:
        found = {finding.rule for finding in check_plan(option.event, TEAMS, option.plan)}
        assert found <= {"check.thin_heat_unavoidable"}
        assert option.longest_wait_s < 200 * MINUTE  # the night is no wait
