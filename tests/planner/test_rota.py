"""Who does what: made, found short, mended, and written per person."""

import random
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from callroom.exchange import Known, demo_file, read_crew, read_event, read_teams
from callroom.model import CrewMember, Duty, Owing, Pause, Plan, PostWish, RotaRules, Team
from callroom.planner import Limits, PlanRequest, check_rota, plan_day
from callroom.planner.rota import (
    RotaProblem,
    carry_over,
    make_rota,
    pose_rota,
    remedies,
    repair_rota,
    sheets,
    shortages,
)
from callroom.planner.solve import solve
from callroom.planner.solve.crew import CrewModel, mend, who_works
from tests.planner.rota_days import (
    MINUTE,
    NO_POSTS,
    event,
    heat,
    judge,
    plan,
    row_of_heats,
    teams,
)

SOFT = {"check.rota_lane_open", "check.rota_post_open", "check.rota_alone", "check.rota_own_gym"}


def crew_of(count: int, **facts: object) -> tuple[CrewMember, ...]:
    return tuple(judge(f"P{n}", experienced=n % 2 == 0, **facts) for n in range(count))


def rules_found(
    entered: tuple[Team, ...],
    day: Plan,
    crew: tuple[CrewMember, ...],
    rules: RotaRules = NO_POSTS,
) -> set[str]:
    rota = make_rota(pose_rota(event(), entered, day, crew, rules))
    return {one.rule for one in check_rota(event(), entered, day, crew, rota=rota, rules=rules)}


def test_enough_people_fill_every_lane_evenly_with_breaks() -> None:
    entered, day, crew = teams(4), row_of_heats(12, lanes=4), crew_of(10)
    rota = make_rota(pose_rota(event(), entered, day, crew, NO_POSTS))
    assert rota.open_shifts() == ()
    loads = [len(rota.shifts_of(member.person)) for member in crew]
    assert max(loads) - min(loads) <= 1
    assert check_rota(event(), entered, day, crew, rota=rota, rules=NO_POSTS) == ()


def test_a_judge_stays_in_a_lane_until_the_break() -> None:
    day, crew = row_of_heats(8, lanes=2), crew_of(5)
    rota = make_rota(pose_rota(event(), teams(2), day, crew, NO_POSTS))
    lines = [
        line for sheet in sheets(rota, day, crew) for line in sheet.lines if line.kind == "duty"
    ]
    assert sum(len(line.heats) for line in lines) == 16
    assert len(lines) <= 8


def test_who_competes_does_not_judge_around_their_heat() -> None:
    day, crew = row_of_heats(10, lanes=2), (*crew_of(6), judge("T", team="T1"))
    assert "check.rota_too_close_to_heat" not in rules_found(teams(2), day, crew)
    rota = make_rota(pose_rota(event(), teams(2), day, crew, NO_POSTS))
    assert rota.shifts_of("T") == ()  # T1 stands in every heat


def test_a_withdrawn_team_frees_its_judge_and_its_lane() -> None:
    day, crew = row_of_heats(2, lanes=2), (judge("T", team="T1"),)
    rota = make_rota(pose_rota(event(), teams(1), day, crew, NO_POSTS))
    assert [shift.lane for shift in rota.shifts] == [1, 1]
    assert len(rota.shifts_of("T")) == 2


def test_family_is_never_judged_but_its_heat_may_be() -> None:
    day, crew = row_of_heats(1, lanes=2), (judge("a", family_in=("T0",)), judge("b"))
    rota = make_rota(pose_rota(event(), teams(2), day, crew, NO_POSTS))
    assert {duty.shift: duty.person for duty in rota.duties} == {"w1-1/1": "b", "w1-1/2": "a"}


def test_own_gym_is_avoided_and_accepted_where_it_must_be() -> None:
    entered = teams(2, gyms=("north", "south"))
    day = row_of_heats(1, lanes=2)
    both = (judge("a", gym="north"), judge("b", gym="south"))
    rota = make_rota(pose_rota(event(), entered, day, both, NO_POSTS))
    assert {duty.shift: duty.person for duty in rota.duties} == {"w1-1/1": "b", "w1-1/2": "a"}
    locals_only = (judge("a", gym="north"), judge("b", gym="north"))
    assert "check.rota_lane_open" not in rules_found(entered, day, locals_only)


def test_beginners_stand_beside_the_experienced() -> None:
    day = row_of_heats(1, lanes=6)
    crew = tuple(judge(f"P{n}", experienced=n < 2) for n in range(6))
    assert "check.rota_alone" not in rules_found(teams(6), day, crew)


def test_a_workout_for_the_experienced_stays_open_rather_than_go_to_a_beginner() -> None:
    rules = RotaRules(posts=(), experienced_workouts=("w1",))
    found = rules_found(
        teams(2), row_of_heats(1), (judge("a"), judge("b", experienced=True)), rules
    )
    assert found == {"check.rota_lane_open"}


def test_a_team_pays_the_judging_it_owes() -> None:
    rules = RotaRules(posts=(), owing=(Owing(team="T9", heats=3), Owing(team="T8", heats=1)))
    crew = (*crew_of(8), judge("owes", team="T9"))
    day = row_of_heats(4, lanes=1)
    problem = pose_rota(event(), teams(2), day, crew, rules)
    rota = make_rota(problem)
    assert len(rota.shifts_of("owes")) >= 3
    told = {one.rule: one.facts for one in shortages(problem, rota)}
    assert told["rota.debtor_unknown"] == {"team": "T8", "heats": 1}
    assert "rota.debt_left" not in told


def test_two_judges_a_lane() -> None:
    day, crew = row_of_heats(2, lanes=2), crew_of(8)
    rota = make_rota(pose_rota(event(judges=2), teams(2), day, crew, NO_POSTS))
    assert len(rota.shifts) == 8
    assert rota.open_shifts() == ()


def test_other_posts_are_held_for_stretches_between_the_pauses() -> None:
    lunch = Pause(id="lunch", name="Lunch", start_s=60 * MINUTE, length_s=30 * MINUTE)
    day = plan(
        heat("w1-1", start_min=40, teams=["T0"]),
        heat("w1-2", start_min=300, teams=["T0"]),
        pauses=(lunch,),
    )
    rules = RotaRules(posts=(PostWish(post="desk"), PostWish(post="first_aid", count=2)))
    desk = CrewMember(person="d", posts=("desk",))
    problem = pose_rota(event(), teams(1), day, (desk,), rules)
    spans = [(s.start_s // MINUTE, s.end_s // MINUTE) for s in problem.shifts if s.post == "desk"]
    assert spans == [(10, 60), (90, 164), (164, 238), (238, 312)]
    rota = make_rota(problem)
    assert len(rota.shifts_of("d")) == 4
    nobody = [one.facts for one in shortages(problem, rota) if one.rule == "rota.nobody_can"]
    assert nobody == [{"post": "first_aid", "wanted": 2}, {"post": "judge", "wanted": 1}]


def test_what_is_short_is_said_with_when() -> None:
    day = row_of_heats(6, lanes=3)
    crew = (judge("a"), judge("b", free_from_s=28 * MINUTE), judge("idle", free_until_s=0))
    problem = pose_rota(event(), teams(3), day, crew, NO_POSTS)
    told = [one for one in shortages(problem, make_rota(problem)) if one.rule == "rota.short"]
    assert told[0].facts["from_at_s"] == 0
    assert told[0].facts["wanted"] == 3
    assert [
        one.facts["person"]
        for one in shortages(problem, make_rota(problem))
        if one.rule == "rota.idle"
    ] == ["idle"]


def test_what_would_do_is_found_by_trying_it() -> None:
    day, crew = row_of_heats(8, lanes=3), crew_of(3)
    problem = pose_rota(event(), teams(3), day, crew, NO_POSTS)
    told = [(one.rule, *one.facts.values()) for one in remedies(problem, make_rota(problem))]
    assert ("rota.more_people_would_do", "judge", 1) in told
    assert told[-1] == ("rota.longer_rows_would_help", 8, 0)
    enough = pose_rota(event(), teams(3), day, crew_of(8), NO_POSTS)
    assert remedies(enough, make_rota(enough)) == ()


def test_somebody_ill_is_replaced_with_the_fewest_moves() -> None:
    day, crew = row_of_heats(8, lanes=2), crew_of(7)
    problem = pose_rota(event(), teams(2), day, crew, NO_POSTS)
    rota = make_rota(problem)
    ill = max(crew, key=lambda member: len(rota.shifts_of(member.person))).person
    after_s = 14 * MINUTE
    left = [shift for shift in rota.shifts_of(ill) if shift.start_s >= after_s]
    mended = repair_rota(problem, rota, [ill], after_s)
    assert mended.rota.open_shifts() == ()
    assert {move.shift for move in mended.moves} == {shift.id for shift in left}
    assert all(move.before == ill for move in mended.moves)
    kept = [duty for duty in rota.duties if duty.shift not in {shift.id for shift in left}]
    assert set(kept) <= set(mended.rota.duties)


def test_a_repair_moves_a_third_person_where_nobody_is_free_for_the_lane() -> None:
    day = row_of_heats(1, lanes=2)
    crew = (judge("ill"), judge("b"), judge("c", family_in=("T0",)))
    problem = pose_rota(event(), teams(2), day, crew, NO_POSTS)
    rota = make_rota(pose_rota(event(), teams(2), day, crew[:2], NO_POSTS))
    rota = type(rota)(
        plan_revision=1,
        shifts=rota.shifts,
        duties=(Duty(shift="w1-1/1", person="ill"), Duty(shift="w1-1/2", person="b")),
    )
    mended = repair_rota(problem, rota, ["ill"], 0)
    assert {(move.shift, move.after) for move in mended.moves} == {("w1-1/1", "b"), ("w1-1/2", "c")}


def random_day(seed: int) -> tuple[tuple[Team, ...], Plan, tuple[CrewMember, ...]]:
    draw = random.Random(seed)
    entered = teams(6, gyms=("", "north"))
    heats = []
    for floor, workout in (("main", "w1"), ("yard", "w2")):
        start_min = draw.randint(0, 9)
        for number in range(1, draw.randint(2, 6)):
            members = draw.sample([team.id for team in entered], draw.randint(1, 3))
            heats.append(
                heat(f"{workout}-{number}", start_min=start_min, teams=members, floor=floor)
            )
            start_min += 12 + draw.choice((2, 2, 11))
    crew = tuple(
        judge(
            f"P{n}",
            team=draw.choice(("", "", "T1", "T4")),
            family_in=draw.choice(((), ("T0",))),
            gym=draw.choice(("", "north")),
            experienced=draw.random() < 0.5,
            free_from_s=draw.choice((None, None, 1200)),
        )
        for n in range(draw.randint(1, 8))
    )
    return entered, plan(*heats), crew


@given(seed=st.integers(0, 10_000))
@settings(deadline=None, max_examples=80)
def test_no_rota_breaks_a_hard_rule_or_a_wish_but_leaves_lanes_open(seed: int) -> None:
    entered, day, crew = random_day(seed)
    rules = RotaRules(posts=(), most_in_a_row=2)
    assert rules_found(entered, day, crew, rules) <= SOFT


@given(seed=st.integers(0, 10_000))
@settings(deadline=None, max_examples=40)
def test_a_repair_breaks_no_rule_and_touches_no_past(seed: int) -> None:
    entered, day, crew = random_day(seed)
    rules = RotaRules(posts=(), most_in_a_row=2)
    problem = pose_rota(event(), entered, day, crew, rules)
    rota = make_rota(problem)
    mended = repair_rota(problem, rota, [crew[0].person], 1500)
    found = check_rota(event(), entered, day, crew, rota=mended.rota, rules=rules)
    assert {one.rule for one in found} <= SOFT
    starts = {shift.id: shift.start_s for shift in rota.shifts}
    assert all(starts[move.shift] >= 1500 for move in mended.moves)
    assert all(
        duty.person != crew[0].person or starts[duty.shift] < 1500 for duty in mended.rota.duties
    )


def test_a_search_leaves_no_more_open_than_matching_and_agrees_with_the_check() -> None:
    for seed in range(6):
        entered, day, crew = random_day(seed)
        rules = RotaRules(posts=(), most_in_a_row=2)
        problem = pose_rota(event(), entered, day, crew, rules)
        matched = make_rota(problem)
        searched = make_rota(problem, who_works, Limits(work=10))
        assert len(searched.open_shifts()) <= len(matched.open_shifts())
        found = check_rota(event(), entered, day, crew, rota=searched, rules=rules)
        assert {one.rule for one in found} <= SOFT
        assert len(searched.open_shifts()) == least_open(problem)


def least_open(problem: RotaProblem) -> int:
    """Return the fewest shifts that stay open, by a model of every row of heats at once.

    All shifts of these days take 12 minutes, so the least time is the fewest shifts.
    """
    crew = CrewModel(problem)
    for chain_ends in range(20):
        crew.model.minimize(sum(crew.open))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        assert solver.solve(crew.model) == cp_model.OPTIMAL, chain_ends
        values = {key: solver.boolean_value(works) for key, works in crew.works.items()}
        if not crew.forbid_chains(values):
            return sum(solver.value(one) for one in crew.open)
    raise AssertionError("no end to the rows that are too long")


def test_a_searched_repair_leaves_as_little_open_as_can_be() -> None:
    rules, chains_enough = RotaRules(posts=(), most_in_a_row=2), 0
    for seed in range(30):
        entered, day, crew = random_day(seed)
        problem = pose_rota(event(), entered, day, crew, rules)
        rota = make_rota(problem)
        gone = max(crew, key=lambda member: len(rota.shifts_of(member.person))).person
        left = pose_rota(
            event(), entered, day, tuple(one for one in crew if one.person != gone), rules
        )
        optimum = least_open(left)
        chained = repair_rota(problem, rota, [gone], 0)
        searched = repair_rota(problem, rota, [gone], 0, solver=mend)
        assert len(searched.rota.open_shifts()) == optimum, seed
        chains_enough += len(chained.rota.open_shifts()) == optimum
        found = check_rota(event(), entered, day, crew, rota=searched.rota, rules=rules)
        assert {one.rule for one in found} <= SOFT
        assert gone not in {duty.person for duty in searched.rota.duties}
    assert chains_enough >= 24


@pytest.fixture(scope="module")
def demo_plan() -> Plan:
    day = read_event(demo_file("event.toml"))
    reply = plan_day(
        PlanRequest(event=day, teams=read_teams(demo_file("teams.csv"), day).teams), solve
    )
    assert reply.plan is not None
    return reply.plan


def test_the_demonstration_crew_is_short_of_judges_and_told_when(demo_plan: Plan) -> None:
    day = read_event(demo_file("event.toml"))
    entered = read_teams(demo_file("teams.csv"), day)
    known = Known(teams=entered.teams, people=entered.people)
    crew = read_crew(demo_file("crew.csv"), day, known=known).crew
    problem = pose_rota(day, entered.teams, demo_plan, crew)
    rota = make_rota(problem)
    found = check_rota(day, entered.teams, demo_plan, crew, rota=rota)
    assert {one.rule for one in found} <= SOFT
    assert {shift.post for shift in rota.open_shifts()} == {"judge"}
    short = [one for one in shortages(problem, rota) if one.rule == "rota.short"]
    assert short
    assert all(one.facts["able"] < one.facts["wanted"] + 3 for one in short)  # type: ignore[operator]
    # Everybody who competes has all their own heats on the sheet as well.
    both = [
        sheet
        for sheet in sheets(rota, demo_plan, crew)
        if any(line.kind == "competes" for line in sheet.lines)
    ]
    assert len(both) == 9
    assert all(Counter(line.kind for line in sheet.lines)["competes"] == 5 for sheet in both)


def test_a_rota_is_carried_over_to_a_plan_whose_heats_moved() -> None:
    entered, day, crew = teams(2), row_of_heats(8), crew_of(6)
    rota = make_rota(pose_rota(event(), entered, day, crew, NO_POSTS))
    later = plan(*(heat(f"w1-{n + 1}", start_min=n * 14 + 5, teams=["T0", "T1"]) for n in range(8)))
    carried = carry_over(pose_rota(event(), entered, later, crew, NO_POSTS), rota)
    assert carried.moves == ()
    assert carried.rota.duties == rota.duties
    assert check_rota(event(), entered, later, crew, rota=carried.rota, rules=NO_POSTS) == ()


def test_only_what_cannot_be_kept_changes_hands() -> None:
    entered, day, crew = teams(2), row_of_heats(8), crew_of(6)
    rota = make_rota(pose_rota(event(), entered, day, crew, NO_POSTS))
    # Two heats come to be at one time: whoever judged both can only be in one of them.
    moved = plan(*(heat(f"w1-{n + 1}", start_min=(n - (n == 1)) * 14, teams=["T0", "T1"],
                        floor="yard" if n == 1 else "main") for n in range(8)))  # fmt: skip
    carried = carry_over(pose_rota(event(), entered, moved, crew, NO_POSTS), rota)
    assert carried.rota.open_shifts() == ()
    changed = {move.shift for move in carried.moves}
    assert changed <= {"w1-1/1", "w1-1/2", "w1-2/1", "w1-2/2"}
    assert not [
        one for one in check_rota(event(), entered, moved, crew, rota=carried.rota, rules=NO_POSTS)
        if one.severity == "error"
    ]  # fmt: skip


def test_what_has_been_worked_stays_when_a_rota_is_carried_over() -> None:
    entered, day, crew = teams(2), row_of_heats(8), crew_of(6)
    rota = make_rota(pose_rota(event(), entered, day, crew, NO_POSTS))
    gone = rota.holder_of("w1-1/1")
    rest = tuple(one for one in crew if one.person != gone)
    absent = (*rest, judge(gone or "", free_until_s=60))
    carried = carry_over(pose_rota(event(), entered, day, absent, NO_POSTS), rota, 120)
    assert carried.rota.holder_of("w1-1/1") == gone
    later = [shift.id for shift in rota.shifts_of(gone or "") if shift.start_s >= 120]
    assert all(carried.rota.holder_of(shift) != gone for shift in later)
