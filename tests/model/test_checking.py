"""Every check finds its fault, says so with the facts it promises, and nothing else."""

from datetime import date
from decimal import Decimal

import pytest
from msgspec.structs import replace

from callroom.model import (
    Apart,
    Athlete,
    BadTime,
    Block,
    Category,
    CategoryCount,
    CrewMember,
    Event,
    EventDay,
    FloorChoice,
    JudgeSpell,
    KitShare,
    Lock,
    MovementRule,
    Points,
    PublishedHeight,
    PublishedLoad,
    RestBetween,
    SharedKit,
    Switch,
    Task,
    Team,
    TeamHours,
    TieBreak,
    VariationRule,
)
from callroom.model.checking import RULES, check_event, check_teams
from callroom.model.clock import parse_clock
from callroom.model.finding import Finding
from tests.model.sound import (
    EVENT,
    FOUR,
    HOUR,
    PAIR,
    PAIRS,
    PART,
    ROW,
    WORKOUT,
    event_with,
    line_up,
    with_block,
    with_division,
    with_floor,
    with_part,
    with_pause,
    with_rules,
    with_task,
    with_who,
    with_wishes,
    with_workout,
)

WOMEN, MEN = EVENT.categories
HALL = EVENT.floors[0]
LUNCH = EVENT.wishes.pauses[0]
LOAD = PublishedLoad(kg=Decimal(40))
LIFT = Task(id="clean", movement="clean", unit="lift")
SATURDAY = EventDay(id="sat", name="Saturday", opens_s=0, closes_s=8 * HOUR, workouts=("w1",))
SUNDAY = EventDay(id="sun", name="Sunday", opens_s=24 * HOUR, closes_s=32 * HOUR)
BIKES = SharedKit(id="bikes", name="Bikes", count=6)
OPEN = Block(id="laps", open_ended=True, tasks=(replace(ROW, id="lap"),))


def barring(**task: object) -> Event:
    """Return an event whose fours may not use a variation of the deadlift that a task asks for."""
    rule = MovementRule(movement="deadlift", variation="sumo")
    divisions = with_division(movement_rules=(rule,)).divisions
    return replace(with_task(**task), divisions=divisions)


def never_there() -> Event:
    """Return an event with a tie-break after a task that pairs have nobody for."""
    event = with_who(kind="places", places=("C", "D"))
    workout = event.workouts[0]
    part = replace(workout.parts[0], tiebreak=TieBreak(after="dead"))
    return replace(event, workouts=(replace(workout, parts=(part,)),))


EVENT_FAULTS: list[tuple[str, str, Event]] = [
    ("event.nothing_listed", "divisions", event_with(divisions=())),
    ("event.nothing_listed", "categories", event_with(categories=(), divisions=(), workouts=())),
    ("event.id_twice", "categories.men", event_with(categories=(WOMEN, MEN, MEN))),
    ("event.id_twice", "workouts.w1.parts.a", with_workout(parts=(PART, PART))),
    (
        "event.id_twice",
        "workouts.w1.parts.a.blocks.row",
        with_part(blocks=(Block(id="row", tasks=(ROW,)), *PART.blocks), tiebreak=None),
    ),
    ("event.id_unusable", "floors", event_with(floors=(HALL, replace(HALL, id="out door")))),
    ("event.id_unusable", "workouts", with_workout(id="w/1")),
    ("event.id_unusable", "workouts.w1.parts", with_part(id="a:b")),
    ("event.name_missing", "divisions.fours", with_division(name=" ")),
    ("event.name_twice", "divisions.fours", with_division(name="PAIRS")),
    ("event.start_not_in_day", "event.start_s", event_with(start_s=24 * HOUR)),
    ("time.unknown_zone", "event.start_s", event_with(zone="Europe/Nowhere")),
    # Clocks in Berlin go forward on 29 March 2026 at 02:00 and back on 25 October at 03:00.
    ("time.absent", "event.start_s", event_with(day=date(2026, 3, 29), start_s=9000)),
    ("time.doubled", "event.start_s", event_with(day=date(2026, 10, 25), start_s=9000)),
    ("division.make_up_empty", "divisions.fours.make_up", with_division(make_up=())),
    (
        "division.count_not_positive",
        "divisions.fours.make_up",
        with_division(make_up=(CategoryCount(category="women", count=0), *PAIRS.make_up[1:])),
    ),
    (
        "division.category_unknown",
        "divisions.fours.make_up",
        with_division(make_up=(CategoryCount(category="mixed", count=2), *PAIRS.make_up)),
    ),
    (
        "division.category_twice",
        "divisions.fours.make_up",
        with_division(make_up=(*PAIRS.make_up, PAIRS.make_up[0])),
    ),
    ("division.number_negative", "divisions.fours.reserves", with_division(reserves=-1)),
    ("division.number_negative", "divisions.fours.team_limit", with_division(team_limit=-1)),
    ("floor.no_lanes", "floors.hall.lanes", with_floor(lanes=0)),
    ("floor.held_lane_unknown", "floors.hall.held_lanes", with_floor(held_lanes=(8,))),
    ("floor.all_lanes_held", "floors.hall.held_lanes", with_floor(lanes=1, held_lanes=(1,))),
    ("workout.floor_unknown", "workouts.w1.floor", with_workout(floor="yard")),
    ("workout.no_parts", "workouts.w1.parts", with_workout(parts=())),
    ("workout.number_negative", "workouts.w1.sign_s", with_workout(sign_s=-1)),
    ("part.no_blocks", "workouts.w1.parts.a.blocks", with_part(blocks=(), tiebreak=None)),
    ("part.cap_not_positive", "workouts.w1.parts.a.cap_s", with_part(cap_s=0)),
    ("part.start_negative", "workouts.w1.parts.a.starts_s", with_part(starts_s=-5)),
    (
        "part.resolution_not_positive",
        "workouts.w1.parts.a.resolution_ms",
        with_part(resolution_ms=0),
    ),
    ("part.share_out_of_range", "workouts.w1.parts.a.share_percent", with_part(share_percent=0)),
    ("part.share_out_of_range", "workouts.w1.parts.a.share_percent", with_part(share_percent=101)),
    (
        "part.time_without_end",
        "workouts.w1.parts.a.blocks",
        with_part(blocks=(OPEN,), tiebreak=None),
    ),
    ("part.load_without_lift", "workouts.w1.parts.a.blocks", with_part(kind="load")),
    (
        "part.distance_without_metres",
        "workouts.w1.parts.a.blocks",
        with_part(kind="distance", blocks=PART.blocks[1:], tiebreak=None),
    ),
    (
        "part.cap_rule_unused",
        "workouts.w1.parts.a.cap_rule",
        with_part(kind="work", cap_rule="second_per_missing"),
    ),
    (
        "part.resolution_hides_missing",
        "workouts.w1.parts.a.resolution_ms",
        with_part(cap_rule="second_per_missing", resolution_ms=60_000),
    ),
    ("tiebreak.unknown", "workouts.w1.parts.a.tiebreak", with_part(tiebreak=TieBreak(after="ski"))),
    (
        "tiebreak.never_reached",
        "workouts.w1.parts.a.tiebreak",
        with_part(kind="work", blocks=(OPEN,), tiebreak=TieBreak(after="laps")),
    ),
    (
        "tiebreak.no_rounds",
        "workouts.w1.parts.a.tiebreak",
        with_part(kind="work", blocks=PART.blocks[:1], tiebreak=TieBreak(after="round")),
    ),
    (
        "tiebreak.is_the_finish",
        "workouts.w1.parts.a.tiebreak",
        with_part(tiebreak=TieBreak(after="sets")),
    ),
    ("tiebreak.nobody", "workouts.w1.parts.a.tiebreak", never_there()),
    ("block.no_tasks", "workouts.w1.parts.a.blocks.sets.tasks", with_block(tasks=())),
    (
        "block.rounds_not_positive",
        "workouts.w1.parts.a.blocks.sets.rounds",
        with_block(rounds=0, tasks=(ROW,)),
    ),
    (
        "block.open_ended_rounds",
        "workouts.w1.parts.a.blocks.laps.rounds",
        with_part(kind="work", blocks=(replace(OPEN, rounds=4),), tiebreak=None),
    ),
    (
        "block.never_reached",
        "workouts.w1.parts.a.blocks",
        with_part(kind="work", blocks=(OPEN, PART.blocks[0]), tiebreak=None),
    ),
    (
        "block.interval_negative",
        "workouts.w1.parts.a.blocks.sets.every_s",
        with_block(every_s=-1),
    ),
    # Rounds start at 0, 300 and 600; time is up at 600.
    ("block.rounds_past_cap", "workouts.w1.parts.a.blocks.sets.rounds", with_block(every_s=300)),
    (
        "task.movement_missing",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.movement",
        with_task(movement=""),
    ),
    (
        "task.amounts_missing",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.amounts",
        with_task(amounts=()),
    ),
    (
        "task.amounts_wrong_count",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.amounts",
        with_task(amounts=(21, 15)),
    ),
    (
        "task.amount_not_positive",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.amounts",
        with_task(amounts=(21, 15, 0)),
    ),
    (
        "task.mark_not_positive",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.mark",
        with_task(mark=0),
    ),
    (
        "task.amount_not_in_marks",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.amounts",
        with_task(amounts=(52,), mark=5),
    ),
    (
        "task.lift_in_other_kind",
        "workouts.w1.parts.a.blocks.sets.tasks.clean.unit",
        with_block(tasks=(LIFT,)),
    ),
    (
        "task.lift_with_amounts",
        "workouts.w1.parts.a.blocks.sets.tasks.clean.amounts",
        with_part(
            kind="load",
            blocks=(Block(id="sets", tasks=(replace(LIFT, amounts=(1,)),)),),
            tiebreak=None,
        ),
    ),
    (
        "task.category_unknown",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.who",
        with_who(kind="category", category="mixed"),
    ),
    (
        "task.nobody",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.who",
        with_who(kind="places", places=("C", "D")),
    ),
    (
        "task.place_missing",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.who",
        with_who(kind="places", places=("B", "D")),
    ),
    (
        "task.movement_barred",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.movement",
        with_division(movement_rules=(MovementRule(movement="deadlift"),)),
    ),
    (
        "task.variation_barred",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.variation",
        barring(variation="sumo"),
    ),
    (
        "task.variation_barred",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.variation_rules",
        barring(variation_rules=(VariationRule(variation="sumo", allowed=True),)),
    ),
    (
        "task.no_rep_long",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.tighten_no_rep",
        with_task(tighten_no_rep="Nineteen characters"),
    ),
    (
        "task.variation_twice",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.variation_rules",
        with_task(
            variation_rules=(
                VariationRule(variation="sumo", allowed=True),
                VariationRule(variation="sumo", allowed=False),
            )
        ),
    ),
    (
        "task.variation_division_unknown",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.variation_rules",
        with_task(
            variation_rules=(VariationRule(variation="sumo", allowed=True, division="solo"),)
        ),
    ),
    (
        "task.working_not_positive",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.working",
        with_task(working=0),
    ),
    (
        "task.too_many_working",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.working",
        with_task(working=3),
    ),
    # The smallest round has 9; four athletes with three each would need 12.
    (
        "task.least_share_too_big",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.least_each",
        with_task(least_each=3),
    ),
    (
        "task.number_negative",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.tries",
        with_task(tries=-1),
    ),
    (
        "task.switch_not_positive",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.switch",
        with_task(switch=Switch(kind="every")),
    ),
    (
        "published.empty",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.loads",
        with_task(loads=(PublishedLoad(),)),
    ),
    (
        "published.not_positive",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.heights",
        with_task(heights=(PublishedHeight(cm=Decimal(-50)),)),
    ),
    (
        "published.count_not_positive",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.loads",
        with_task(loads=(replace(LOAD, count=0),)),
    ),
    (
        "published.division_unknown",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.loads",
        with_task(loads=(LOAD, replace(LOAD, division="solo"))),
    ),
    (
        "published.category_unknown",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.loads",
        with_task(loads=(LOAD, replace(LOAD, category="mixed"))),
    ),
    (
        "published.twice",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.loads",
        with_task(loads=(LOAD, LOAD)),
    ),
    (
        "published.missing",
        "workouts.w1.parts.a.blocks.sets.tasks.dead.loads",
        with_task(
            loads=(replace(LOAD, division="fours"), replace(LOAD, division="pairs", category="men"))
        ),
    ),
    ("rules.tie_item_unknown", "rules.tie_chain", with_rules(tie_chain=("most_seconds",))),
    ("rules.tie_workout_unknown", "rules.tie_chain", with_rules(tie_chain=("best_in:w9",))),
    ("rules.tie_part_unknown", "rules.tie_chain", with_rules(tie_chain=("best_in:w1/b",))),
    (
        "rules.tie_item_without_effect",
        "rules.tie_chain",
        with_rules(tie_chain=("shared", "most_firsts")),
    ),
    ("rules.table_empty", "rules.points.table", with_rules(points=Points(kind="table"))),
    (
        "rules.table_rises",
        "rules.points.table",
        with_rules(points=Points(kind="table", table=(Decimal(10), Decimal(12)))),
    ),
    (
        "rules.linear_not_falling",
        "rules.points",
        with_rules(points=Points(kind="linear", step=Decimal(0))),
    ),
    (
        "rules.formula_missing",
        "rules.points.formula",
        with_rules(points=Points(kind="formula", formula=" ")),
    ),
    ("rules.number_negative", "rules.appeal_window_s", with_rules(appeal_window_s=-1)),
    ("rules.embargo_unknown", "rules.embargo", with_rules(embargo=("w9",))),
    ("wishes.number_too_small", "wishes.slot_s", with_wishes(slot_s=0)),
    ("wishes.finish_before_first_heat", "wishes.finish_by_s", with_wishes(finish_by_s=HOUR)),
    ("wishes.pause_without_length", "wishes.pauses.lunch.length_s", with_pause(length_s=0)),
    ("wishes.pause_outside_day", "wishes.pauses.lunch.start_s", with_pause(start_s=-60)),
    ("wishes.pause_outside_day", "wishes.pauses.lunch.start_s", with_pause(start_s=24 * HOUR - 60)),
    ("wishes.pause_floor_unknown", "wishes.pauses.lunch.floors", with_pause(floors=("yard",))),
    (
        "wishes.name_unknown",
        "wishes.rests.0.after",
        with_wishes(rests=(RestBetween(before="w1", after="w9", rest_s=60),)),
    ),
    ("wishes.name_unknown", "wishes.waves", with_wishes(waves=(("fours",), ("solo",)))),
    ("wishes.name_unknown", "wishes.early", with_wishes(early=("solo",))),
    (
        "wishes.name_unknown",
        "wishes.floors.w1",
        with_wishes(floor_choices=(FloorChoice(workout="w1", floors=("hall", "yard")),)),
    ),
    (
        "wishes.name_unknown",
        "wishes.kit.bikes.per_lane",
        with_wishes(shared_kit=(replace(BIKES, shares=(KitShare(workout="w9", per_lane=1),)),)),
    ),
    ("wishes.division_in_two_waves", "wishes.waves", with_wishes(waves=(("fours",), ("fours",)))),
    (
        "wishes.day_backwards",
        "wishes.days.sat.closes_s",
        with_wishes(days=(replace(SATURDAY, closes_s=0),)),
    ),
    (
        "wishes.days_overlap",
        "wishes.days.sun.opens_s",
        with_wishes(days=(SATURDAY, replace(SUNDAY, opens_s=HOUR))),
    ),
    (
        "wishes.workout_in_two_days",
        "wishes.days",
        with_wishes(days=(SATURDAY, replace(SUNDAY, workouts=("w1",)))),
    ),
    (
        "wishes.workout_on_no_day",
        "wishes.days",
        event_with(
            workouts=(WORKOUT, replace(WORKOUT, id="w2", name="Short haul")),
            wishes=replace(EVENT.wishes, days=(SATURDAY,)),
        ),
    ),
    (
        "wishes.span_backwards",
        "wishes.judges.0.until_s",
        with_wishes(judge_spells=(JudgeSpell(from_s=60, until_s=60, judges=3),)),
    ),
    (
        "wishes.span_backwards",
        "wishes.team_hours.0.until_s",
        with_wishes(team_hours=(TeamHours(team="t1", from_s=60, until_s=0),)),
    ),
    ("wishes.lock_names_nothing", "wishes.locks.0", with_wishes(locks=(Lock(team="t1"),))),
    (
        "wishes.lock_names_nothing",
        "wishes.locks.0",
        with_wishes(locks=(Lock(division="fours", at_s=600),)),
    ),
    (
        "wishes.lock_lane_without_team",
        "wishes.locks.0.lane",
        with_wishes(locks=(Lock(division="fours", heat=1, lane=2),)),
    ),
    ("wishes.apart_one_team", "wishes.apart.0.teams", with_wishes(apart=(Apart(teams=("t1",)),))),
    (
        "wishes.floor_not_among_choices",
        "wishes.floors.w1",
        with_wishes(floor_choices=(FloorChoice(workout="w1", floors=()),)),
    ),
]


def team(**changes: object) -> tuple[Team, ...]:
    return (replace(FOUR, **changes), PAIR)


TEAM_FAULTS: list[tuple[str, str, tuple[Team, ...]]] = [
    ("team.id_twice", "team.T1", (FOUR, replace(PAIR, id="T1"))),
    ("team.id_unusable", "team.T 1", team(id="T 1")),
    ("team.name_missing", "team.T1", team(name="")),
    (
        "team.name_twice",
        "team.T3",
        (
            PAIR,
            replace(PAIR, id="T3", name="lantern  pair", athletes=line_up("T3", "men", "women")),
        ),
    ),
    ("team.name_in_other_division", "team.T2", (FOUR, replace(PAIR, name="Tidal Four"))),
    ("team.division_unknown", "team.T1", team(division="solo")),
    (
        "team.category_unknown",
        "team.T1",
        team(athletes=(*FOUR.athletes, Athlete(place="E", category="x", person="e", reserve=True))),
    ),
    ("team.short_handed", "team.T1", team(athletes=FOUR.athletes[:3])),
    ("team.no_line_up", "team.T1", team(athletes=())),
    (
        "team.too_many_reserves",
        "team.T2",
        (
            replace(
                PAIR,
                athletes=(
                    *PAIR.athletes,
                    Athlete(place="C", category="men", person="c", reserve=True),
                ),
            ),
        ),
    ),
    (
        "team.place_twice",
        "team.T1",
        team(athletes=(*FOUR.athletes[:3], replace(FOUR.athletes[3], place="A"))),
    ),
    (
        "team.place_unknown",
        "team.T1",
        team(athletes=(*FOUR.athletes[:3], replace(FOUR.athletes[3], place="F"))),
    ),
    ("team.entry_rank_not_positive", "team.T1", team(entry_rank=0)),
    (
        "team.entry_rank_twice",
        "team.T3",
        (
            FOUR,
            Team(
                id="T3",
                name="Gulls",
                division="fours",
                entry_rank=1,
                athletes=line_up("T3", "women", "women", "men", "men"),
            ),
        ),
    ),
    (
        "athlete.twice_in_team",
        "team.T1",
        team(athletes=(*FOUR.athletes[:3], replace(FOUR.athletes[3], person="T1-A"))),
    ),
    (
        "athlete.in_two_teams",
        "team.T2",
        (
            FOUR,
            replace(PAIR, athletes=(replace(PAIR.athletes[0], person="T1-A"), PAIR.athletes[1])),
        ),
    ),
]

JUDGE = CrewMember(person="p1", posts=("judge",))
CREW_FAULTS: list[tuple[str, tuple[CrewMember, ...]]] = [
    ("crew.twice", (JUDGE, JUDGE)),
    ("crew.no_posts", (replace(JUDGE, posts=()),)),
    ("crew.team_unknown", (replace(JUDGE, team="T9"),)),
    ("crew.family_unknown", (replace(JUDGE, family_in=("T9",)),)),
    ("crew.not_in_team", (replace(JUDGE, team="T1"),)),
    ("crew.team_not_said", (replace(JUDGE, person="T1-A"),)),
    ("crew.never_free", (replace(JUDGE, free_from_s=HOUR, free_until_s=HOUR),)),
]


def as_promised(finding: Finding) -> bool:
    promised = RULES[finding.rule]
    return set(finding.facts) == set(promised.facts) and finding.severity == promised.severity


def test_a_sound_event_with_its_teams_and_crew_has_nothing_to_find() -> None:
    crew = (JUDGE, CrewMember(person="T1-B", posts=("judge",), team="T1", free_from_s=0))
    assert check_event(EVENT) == ()
    assert check_teams(EVENT, (FOUR, PAIR), crew) == ()


@pytest.mark.parametrize(
    ("rule", "subject", "event"), EVENT_FAULTS, ids=[f"{r}-{s}" for r, s, _ in EVENT_FAULTS]
)
def test_a_fault_of_the_event_is_found_where_it_is(rule: str, subject: str, event: Event) -> None:
    found = check_event(event)
    assert (rule, subject) in [(finding.rule, finding.subject) for finding in found]
    assert all(map(as_promised, found))


@pytest.mark.parametrize(
    ("rule", "subject", "teams"), TEAM_FAULTS, ids=[rule for rule, _, _ in TEAM_FAULTS]
)
def test_a_fault_of_a_team_is_found_alone(rule: str, subject: str, teams: tuple[Team, ...]) -> None:
    found = check_teams(EVENT, teams, ())
    assert [(finding.rule, finding.subject) for finding in found] == [(rule, subject)]
    assert all(map(as_promised, found))


@pytest.mark.parametrize(("rule", "crew"), CREW_FAULTS, ids=[rule for rule, _ in CREW_FAULTS])
def test_a_fault_of_the_crew_is_found_alone(rule: str, crew: tuple[CrewMember, ...]) -> None:
    found = check_teams(EVENT, (FOUR, PAIR), crew)
    assert [finding.rule for finding in found] == [rule]
    assert all(map(as_promised, found))


def test_a_wrong_make_up_names_every_category_that_differs() -> None:
    found = check_teams(
        EVENT, (replace(FOUR, athletes=line_up("T1", "women", "men", "men", "men")),), ()
    )
    assert [
        (finding.rule, finding.facts["category"], finding.facts["given"], finding.facts["wanted"])
        for finding in found
    ] == [("team.make_up_wrong", "men", 3, 2), ("team.make_up_wrong", "women", 1, 2)]


def test_a_division_takes_no_more_teams_than_its_limit() -> None:
    event = with_division(team_limit=1)
    other = replace(
        FOUR,
        id="T3",
        name="Gulls",
        entry_rank=2,
        athletes=line_up("T3", "women", "women", "men", "men"),
    )
    (finding,) = check_teams(event, (FOUR, other, PAIR), ())
    assert finding.rule == "division.too_many_teams"
    assert as_promised(finding)
    assert check_teams(event, (FOUR, PAIR), ()) == ()


def test_all_faults_are_reported_at_once() -> None:
    worst = with_part(cap_s=0, share_percent=0, resolution_ms=0)
    rules = {finding.rule for finding in check_event(worst)}
    assert rules == {
        "part.cap_not_positive",
        "part.share_out_of_range",
        "part.resolution_not_positive",
    }


def test_an_awards_time_after_the_last_heat_is_in_the_day() -> None:
    assert check_event(with_pause(start_s=9 * HOUR)) == ()


def test_a_split_may_be_taken_in_a_block_that_repeats() -> None:
    event = with_part(kind="work", blocks=(OPEN,), tiebreak=TieBreak(after="lap"))
    rounds = with_part(kind="work", blocks=(OPEN,), tiebreak=TieBreak(after="round"))
    assert check_event(event) == ()
    assert check_event(rounds) == ()


def test_as_much_as_you_can_needs_no_amount() -> None:
    row = Block(id="row", open_ended=True, tasks=(Task(id="r", movement="row", unit="metres"),))
    assert check_event(with_part(kind="distance", blocks=(row,), tiebreak=None)) == ()


def test_every_rule_of_the_catalogue_has_a_case() -> None:
    tried = {rule for rule, _, _ in EVENT_FAULTS} | {rule for rule, _, _ in TEAM_FAULTS}
    tried |= {rule for rule, _ in CREW_FAULTS}
    # Tried on their own: above, below, and with the steps.
    tried |= {"team.make_up_wrong", "division.too_many_teams", "time.unreadable"}
    listed = {rule.rule for rule in RULES}
    assert {rule for rule in listed if not rule.startswith("work.")} == tried


def test_an_unreadable_time_quotes_what_was_given() -> None:
    with pytest.raises(BadTime) as refused:
        parse_clock("half past nine")
    assert as_promised(refused.value.finding())


def test_names_of_workouts_are_checked_too() -> None:
    twin = replace(WORKOUT, id="w2")
    found = check_event(event_with(workouts=(WORKOUT, twin)))
    assert [(finding.rule, finding.severity) for finding in found] == [
        ("event.name_twice", "warning")
    ]


def test_an_unlisted_category_of_the_event_is_not_hidden_by_a_known_one() -> None:
    event = event_with(categories=(WOMEN, Category(id="open", name="open")))
    rules = [finding.rule for finding in check_event(event)]
    assert rules.count("division.category_unknown") == 2
    assert "published.category_unknown" in rules
