"""A plan changed by hand: each change alone, what it may not do, and what comes of it."""

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Event, EventDay, Floor, Heat, LaneTeam, Lock, Pause, Plan, Team, Wishes
from callroom.model.catalogue import CatalogueRule
from callroom.planner.check import check_plan
from callroom.planner.touch import (
    DropPause,
    Impossible,
    Judged,
    Move,
    PlaceTeam,
    SetLock,
    SetPause,
    SwapHeats,
    TakeChange,
    Touch,
    effects,
    locked,
    said,
    touched,
)
from callroom.planner.touch.rules import RULES
from callroom.views.sentences import touch as sentences
from tests.planner import days

MINUTE = 60
FLOORS = (
    Floor(id="main", name="Main", lanes=4),
    Floor(id="yard", name="Yard", lanes=4, first_lane=11),
)
WISHES = Wishes(
    rest_s=600,
    changeover_workout_s=300,
    least_per_heat=1,
    slot_s=60,
    constant_rhythm=False,
    finish_by_s=36_000,
)
Day = tuple[Event, tuple[Team, ...], Plan]


def day(wishes: Wishes = WISHES) -> Day:
    """Eight teams in two heats of each of two workouts, twenty minutes apart, one floor used."""
    event = days.event(floors=FLOORS, wishes=wishes)
    teams = days.teams({"a": 8})
    heats = []
    for place, (workout, number) in enumerate([("w1", 1), ("w1", 2), ("w2", 1), ("w2", 2)]):
        mine = teams[4:] if number == 1 else teams[:4]
        lanes = tuple(LaneTeam(lane=n, team=team.id) for n, team in enumerate(mine, 1))
        start_s = place * 20 * MINUTE
        heats.append(
            Heat(
                id=f"{workout}-{number}",
                workout=workout,
                floor="main",
                number=number,
                start_s=start_s,
                end_s=start_s + event.workout(workout).floor_s,
                lanes=lanes,
            )
        )
    plan = Plan(
        revision=1, inputs_digest="", heats=tuple(heats), finish_s=heats[-1].end_s, bound_s=60
    )
    return event, teams, plan


def done(made: Day, *touches: Touch) -> Day:
    event, teams, plan = made
    for touch in touches:
        event, plan, findings = touched(event, teams, plan, touch)
        assert findings == check_plan(event, teams, plan)
    return event, teams, plan


def rules(made: Day) -> set[str]:
    return {finding.rule for finding in check_plan(*made)}


def test_the_day_of_these_tests_keeps_every_wish() -> None:
    assert rules(day()) == set()


def test_a_heat_moves_alone_and_the_end_with_it() -> None:
    made = done(day(), Move(heat="w2-2", by_s=300))
    heat = made[2].heat("w2-2")
    assert (heat.start_s, heat.end_s - heat.start_s) == (65 * MINUTE, 12 * MINUTE)
    assert made[2].finish_s == heat.end_s
    assert made[2].bound_s is None
    assert rules(made) == set()


def test_a_heat_on_another_is_refused_with_what_is_wrong() -> None:
    with pytest.raises(Impossible) as refused:
        done(day(), Move(heat="w1-1", by_s=900))
    assert refused.value.rule == "check.floor_doubled"
    assert {one.severity for one in refused.value.findings} == {"error"}


def test_a_team_in_two_places_is_refused_and_a_short_rest_is_not() -> None:
    beside = Move(heat="w2-1", by_s=-45 * MINUTE, floor="yard")
    with pytest.raises(Impossible) as refused:
        done(day(), beside)
    assert refused.value.rule == "check.team_in_two_places"
    assert "check.rest_short" in rules(
        done(day(), Move(heat="w2-1", by_s=-25 * MINUTE, floor="yard"))
    )


def test_lanes_are_given_anew_on_a_floor_that_counts_others() -> None:
    made = done(day(), Move(heat="w2-2", floor="yard"))
    assert [one.lane for one in made[2].heat("w2-2").lanes] == [11, 12, 13, 14]


def test_too_many_teams_for_a_floor_are_refused() -> None:
    event, teams, plan = day()
    small = replace(event, floors=(FLOORS[0], replace(FLOORS[1], lanes=3)))
    with pytest.raises(Impossible) as refused:
        touched(small, teams, plan, Move(heat="w2-2", floor="yard"))
    assert refused.value.rule == "touch.too_few_lanes"
    assert refused.value.facts["lanes"] == 3


def test_a_block_and_all_that_comes_after_move_together() -> None:
    block = done(day(), Move(heat="w2-1", by_s=300, reach="block"))[2]
    assert [heat.start_s // MINUTE for heat in block.heats] == [0, 20, 45, 65]
    after = done(day(), Move(heat="w1-2", by_s=300, reach="all"))[2]
    assert [heat.start_s // MINUTE for heat in after.heats] == [0, 25, 45, 65]
    apart = done(day(), Move(heat="w2-2", floor="yard"), Move(heat="w2-1", by_s=60, reach="floor"))
    assert [heat.start_s // MINUTE for heat in apart[2].heats] == [0, 20, 41, 60]


def test_heats_are_numbered_in_the_order_they_are_run() -> None:
    made = done(day(), SwapHeats(heat="w1-1", other="w1-2"))
    assert made[2].heat("w1-2").start_s == 0
    assert [(heat.id, heat.number) for heat in made[2].heats][:2] == [("w1-2", 1), ("w1-1", 2)]
    assert "check.numbers_out_of_order" not in rules(made)


def test_two_teams_change_places_and_a_free_lane_is_taken() -> None:
    made = done(day(), PlaceTeam(team="a05", heat="w1-2", lane=1))
    assert made[2].heat("w1-2").lane_of("a05") == 1
    assert made[2].heat("w1-1").lane_of("a01") == 1
    event, teams, plan = day()
    wide = replace(event, floors=(replace(FLOORS[0], lanes=5), FLOORS[1]))
    freed = done((wide, teams, plan), PlaceTeam(team="a05", heat="w1-2", lane=5))
    assert [one.lane for one in freed[2].heat("w1-1").lanes] == [2, 3, 4]
    with pytest.raises(Impossible):
        done(day(), PlaceTeam(team="a05", heat="w1-2", lane=9))


def test_a_heat_that_nobody_is_left_in_is_gone() -> None:
    event, teams, plan = day()
    wide = replace(event, floors=(replace(FLOORS[0], lanes=8), FLOORS[1]))
    made = done(
        (wide, teams, plan),
        *(PlaceTeam(team=f"a0{n}", heat="w1-2", lane=n) for n in range(5, 9)),
    )
    assert [heat.id for heat in made[2].heats] == ["w1-2", "w2-1", "w2-2"]
    assert made[2].heat("w1-2").number == 1


def test_what_is_locked_stays_until_it_is_unlocked() -> None:
    made = done(day(), SetLock(heat="w1-2", on=True))
    lock = Lock(workout="w1", division="a", heat=2, at_s=20 * MINUTE, floor="main")
    assert made[0].wishes.locks == (lock,)
    for touch in (Move(heat="w1-2", by_s=60), Move(heat="w1-1", by_s=60, reach="all")):
        with pytest.raises(Impossible) as refused:
            done(made, touch)
        assert refused.value.rule == "touch.locked"
    assert done(made, SetLock(heat="w1-2", on=False))[0].wishes.locks == ()
    assert rules(made) == set()


def test_a_lock_follows_its_heat_past_others() -> None:
    made = done(
        day(), SetLock(heat="w1-2", on=True), Move(heat="w1-1", by_s=100 * MINUTE, floor="yard")
    )
    assert made[2].heat("w1-2").number == 1
    assert made[0].wishes.locks[0].heat == 1
    assert "check.lock_time" not in rules(made)
    assert locked(made[0], {one.id: one for one in made[1]}, made[2]).heats == {"w1-2"}


def test_a_lock_on_every_workout_is_lifted_in_one_only() -> None:
    everywhere = Lock(division="a", heat=2, floor="main")
    wishes = replace(WISHES, locks=(everywhere,))
    made = done(day(wishes), SetLock(heat="w1-2", on=False))
    assert made[0].wishes.locks == (replace(everywhere, workout="w2"),)
    moved = done(day(wishes), Move(heat="w1-1", by_s=60))
    assert moved[0].wishes.locks == (everywhere,)


def test_a_team_is_locked_in_its_heat_and_lane() -> None:
    made = done(day(), SetLock(heat="w1-2", on=True, team="a01"))
    assert made[0].wishes.locks == (Lock(workout="w1", team="a01", heat=2, lane=1),)
    with pytest.raises(Impossible) as refused:
        done(made, PlaceTeam(team="a05", heat="w1-2", lane=1))
    assert refused.value.rule == "touch.team_locked"
    assert done(made, Move(heat="w1-2", by_s=60))
    assert done(made, SetLock(heat="w1-2", on=False, team="a01"))[0].wishes.locks == ()


def test_something_is_pinned_moved_and_taken_out() -> None:
    lunch = Pause(id="p", name="Lunch", start_s=35 * MINUTE, length_s=300)
    made = done(day(), SetPause(pause=lunch))
    assert made[0].wishes.pauses == made[2].pauses == (lunch,)
    assert rules(made) == set()
    on_a_heat = done(made, SetPause(pause=replace(lunch, start_s=25 * MINUTE)))
    assert rules(on_a_heat) == {"check.pause_broken"}
    assert done(on_a_heat, DropPause(pause="p"))[2].pauses == ()
    for bad in (
        SetPause(pause=replace(lunch, length_s=0)),
        SetPause(pause=replace(lunch, floors=("moon",))),
        DropPause(pause="q"),
    ):
        with pytest.raises(Impossible):
            done(made, bad)


def test_an_offered_change_is_made_in_the_wishes() -> None:
    made = done(day(), TakeChange(kind="finish_later", subject="", level=300))
    assert made[0].wishes.finish_by_s == 36_300
    with pytest.raises(Impossible) as refused:
        done(day(), TakeChange(kind="finish_later", subject="", level=301))
    assert refused.value.rule == "plan.nothing_to_take"


@pytest.mark.parametrize(
    "touch",
    [
        Move(heat="w9-1", by_s=60),
        Move(heat="w1-1"),
        Move(heat="w1-1", floor="moon"),
        SwapHeats(heat="w1-1", other="w1-1"),
        PlaceTeam(team="zz", heat="w1-1", lane=1),
        PlaceTeam(team="a05", heat="w1-1", lane=1),
        SetLock(heat="w1-1", on=True, team="a01"),
        SetLock(heat="w1-1", on=False),
    ],
    ids=str,
)
def test_what_names_nothing_or_changes_nothing_is_refused(touch: Touch) -> None:
    with pytest.raises(Impossible):
        done(day(), touch)


def test_days_do_not_move_with_each_other() -> None:
    event, teams, plan = day()
    sunday = tuple(
        replace(heat, start_s=heat.start_s + 86_400, end_s=heat.end_s + 86_400)
        for heat in plan.heats[2:]
    )
    two = days.event(floors=FLOORS, wishes=replace(WISHES, days=days_of_two()))
    plan = replace(plan, heats=(*plan.heats[:2], *sunday), finish_s=sunday[-1].end_s)
    made = done((two, teams, plan), Move(heat="w1-1", by_s=300, reach="all"))
    assert [heat.start_s % 86_400 // MINUTE for heat in made[2].heats] == [5, 25, 40, 60]
    assert event != two


def days_of_two() -> tuple[EventDay, ...]:
    return (
        EventDay(id="sat", name="Saturday", opens_s=0, closes_s=36_000),
        EventDay(id="sun", name="Sunday", opens_s=86_400, closes_s=122_400),
    )


def test_what_comes_of_changes_is_told_in_figures_and_findings() -> None:
    event, teams, plan = day()
    before = Judged(event, plan, check_plan(event, teams, plan))
    later = Move(heat="w2-2", by_s=30 * MINUTE)
    event, plan, findings = touched(event, teams, plan, later)
    found = effects(teams, before, Judged(event, plan, findings))
    assert found.finish_s == (72 * MINUTE, 102 * MINUTE)
    assert found.changed == {"w2-2"}
    assert found.teams == 4
    assert found.longer == ("a01", "a02", "a03", "a04")
    assert found.rest_s == (28 * MINUTE, 28 * MINUTE)
    assert found.new == found.mended == ()
    event, plan, findings = touched(
        event, teams, plan, Move(heat="w2-1", by_s=-18 * MINUTE, floor="yard")
    )
    worse = effects(teams, before, Judged(event, plan, findings))
    assert {one.rule for one in worse.new} >= {"check.other_floor"}
    back = effects(teams, Judged(event, plan, findings), before)
    assert {one.rule for one in back.mended} >= {"check.other_floor"}


def test_a_pause_is_taken_out_of_the_waits_of_the_plan_that_has_it() -> None:
    event, teams, plan = day()
    before = Judged(event, plan, ())
    lunch = Pause(id="p", name="Lunch", start_s=33 * MINUTE, length_s=300)
    event, plan, findings = touched(event, teams, plan, SetPause(pause=lunch))
    found = effects(teams, before, Judged(event, plan, findings))
    assert found.wait_s == (28 * MINUTE, 23 * MINUTE)


HEATS = st.sampled_from(["w1-1", "w1-2", "w2-1", "w2-2"])
TOUCHES = st.one_of(
    st.builds(
        Move,
        heat=HEATS,
        by_s=st.integers(-90, 90).map(lambda minutes: minutes * MINUTE),
        floor=st.sampled_from(["", "main", "yard"]),
        reach=st.sampled_from(["heat", "block", "floor", "all"]),
    ),
    st.builds(SwapHeats, heat=HEATS, other=HEATS),
    st.builds(
        PlaceTeam,
        team=st.integers(1, 8).map(lambda n: f"a{n:02}"),
        heat=HEATS,
        lane=st.integers(1, 5),
    ),
    st.builds(SetLock, heat=HEATS, on=st.booleans()),
)


@settings(max_examples=40, deadline=None)
@given(touches=st.lists(TOUCHES, max_size=8))
def test_no_changes_ever_make_a_plan_that_cannot_be_run(touches: list[Touch]) -> None:
    made = day()
    for touch in touches:
        held = locked(made[0], {one.id: one for one in made[1]}, made[2]).heats
        places = {heat.id: (heat.floor, heat.start_s) for heat in made[2].heats}
        try:
            made = done(made, touch)
        except Impossible:
            continue
        assert all(one.severity != "error" for one in check_plan(*made))
        assert "check.lock_time" not in rules(made)
        stayed = {heat.id: (heat.floor, heat.start_s) for heat in made[2].heats}
        assert all(stayed.get(one, places[one]) == places[one] for one in held)


@pytest.mark.parametrize(
    ("touch", "rule"),
    [
        (Move(heat="w2-2", by_s=60), "touch.moved"),
        (Move(heat="w2-2", floor="yard"), "touch.moved_floor"),
        (Move(heat="w2-1", by_s=60, reach="block"), "touch.moved_block"),
        (Move(heat="w2-1", by_s=60, reach="all"), "touch.moved_rest"),
        (SwapHeats(heat="w1-1", other="w1-2"), "touch.swapped"),
        (PlaceTeam(team="a05", heat="w1-2", lane=1), "touch.exchanged"),
        (SetLock(heat="w1-1", on=True), "touch.locked_now"),
        (SetLock(heat="w1-2", on=True, team="a01"), "touch.team_locked_now"),
        (SetPause(pause=Pause(id="p", name="Lunch", start_s=60, length_s=60)), "touch.pinned"),
        (TakeChange(kind="finish_later", subject="", level=300), "touch.taken"),
    ],
)
def test_what_was_done_is_said(touch: Touch, rule: str) -> None:
    before = day()
    assert said(before[2], done(before, touch)[2], touch).rule == rule


@pytest.mark.parametrize("rule", list(RULES), ids=lambda rule: rule.rule)
def test_a_rule_has_a_sentence_with_its_facts(rule: CatalogueRule) -> None:
    template = sentences.SENTENCES[rule.rule]
    used = {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}
    assert used == set(rule.facts)
    assert template.endswith(".")
