"""Bars wanted by a planned day, changeover sheets, and the kit counted."""

import pytest
from msgspec.structs import replace

from callroom.exchange import demo_file, read_event, read_kit, read_teams
from callroom.model import (
    Block,
    CategoryCount,
    Division,
    Event,
    KitItem,
    Mass,
    Part,
    Plan,
    PublishedLoad,
    Task,
    Team,
    Workout,
)
from callroom.planner import PlanRequest, check_loadings, plan_day
from callroom.planner.plates import (
    ChangeTimes,
    bar_days,
    changeovers,
    hurried,
    kit_findings,
    kit_used,
    loadings_of,
    longer_changeovers,
    make_loadings,
    plate_findings,
)
from callroom.planner.plates.changeovers import shared_s
from callroom.planner.plates.pose import bars_of
from callroom.planner.solve import solve
from callroom.standards import built_in
from tests.planner import days
from tests.planner.plate_days import kg, lb
from tests.planner.rota_days import heat, plan

MOVEMENTS = built_in().movements
MIXED = Division(
    id="a",
    name="A",
    make_up=(CategoryCount(category="w", count=2), CategoryCount(category="m", count=2)),
)


def lifting(*tasks: Task, name: str = "w1") -> Workout:
    part = Part(id="a", kind="time", cap_s=600, blocks=(Block(id="b", tasks=tasks),))
    return replace(days.workout(name), parts=(part,))


def task(name: str, *loads: PublishedLoad, movement: str = "thruster", working: int = 1) -> Task:
    return Task(id=name, movement=movement, amounts=(9,), loads=loads, working=working)


W29 = PublishedLoad(category="w", kg=kg(29).amount, lb=lb(65).amount)
M43 = PublishedLoad(category="m", kg=kg(43).amount, lb=lb(95).amount)
W40 = PublishedLoad(category="w", kg=kg(40).amount)


def test_a_mixed_lane_needs_a_bar_for_each_load_with_its_rungs() -> None:
    workout = lifting(task("t", W29, M43), task("d", W40, M43, movement="deadlift"))
    assert bars_of(workout, MIXED, MOVEMENTS) == {
        "w": [(kg(29), lb(65)), (kg(40),)],
        "m": [(kg(43), lb(95))],
    }


def test_two_who_lift_at_once_need_two_bars() -> None:
    workout = lifting(task("t", PublishedLoad(kg=kg(40).amount), working=2))
    assert list(bars_of(workout, MIXED, MOVEMENTS)) == ["1", "2"]


def test_a_lift_of_their_own_choice_wants_an_empty_bar() -> None:
    lift = Task(id="l", movement="power_clean", unit="lift", tries=3)
    assert bars_of(lifting(lift), MIXED, MOVEMENTS) == {"": [()]}


KIT = (
    KitItem(id="bar", name="Bar", kind="bar", count=2, mass=kg(20), floor="main"),
    KitItem(id="p10", name="Plate", kind="plate", count=4, mass=kg(10)),
    KitItem(id="p5", name="Plate", kind="plate", count=4, mass=kg(5)),
    KitItem(id="p2", name="Plate", kind="plate", count=4, mass=kg("2.5")),
    KitItem(id="elsewhere", name="Plate", kind="plate", count=40, mass=kg(1), floor="yard"),
)


def day_of(loads: dict[str, int], gap_min: int = 2) -> tuple[Event, tuple[Team, ...], Plan]:
    """A heat of one team for each division, whose one load is given, one after the other."""
    event = days.event(
        divisions=tuple(loads),
        workouts=(
            lifting(
                task(
                    "t",
                    *(PublishedLoad(division=d, kg=kg(load).amount) for d, load in loads.items()),
                )
            ),
        ),
    )
    teams = tuple(Team(id=d, name=d, division=d) for d in loads)
    pitch = 12 + gap_min
    heats = (heat(f"w1-{n + 1}", start_min=n * pitch, teams=[d]) for n, d in enumerate(loads))
    return event, teams, plan(*heats)


def test_the_sheet_says_what_comes_off_and_goes_on() -> None:
    event, teams, day = day_of({"light": 50, "heavy": 55})
    (bars,) = bar_days(event, teams, day, KIT, movements=MOVEMENTS)
    assert [mass.amount for mass, _ in bars.problem.stock.pairs] == [10, 5, kg("2.5").amount]
    answer = make_loadings(bars.problem)
    first, second = changeovers(bars, answer, day, times=ChangeTimes(plate_s=5, collars_s=10))
    assert (first.heat, first.given_s) == ("w1-1", None)
    assert second.given_s == 120
    (change,) = second.changes
    assert (change.off, change.on) == ((), (kg("2.5"),))
    assert change.moves == 2
    assert change.takes_s == second.takes_s == 15
    assert second.least_people == 2
    assert sum(one.moves for sheet in (first, second) for one in sheet.changes) == answer.moves
    assert check_loadings(KIT, loadings_of(bars, answer)) == ()


def test_a_changeover_that_does_not_fit_is_said() -> None:
    event, teams, day = day_of({"light": 20, "heavy": 55}, gap_min=1)
    (bars,) = bar_days(event, teams, day, KIT, movements=MOVEMENTS)
    slow = ChangeTimes(plate_s=40)
    sheets = changeovers(bars, make_loadings(bars.problem), day, times=slow)
    (found,) = hurried(sheets)
    assert found.rule == "plates.changeover_too_long"
    assert found.facts["given_s"] == 60


def test_a_changeover_says_how_many_people_it_takes() -> None:
    event, teams, _ = day_of({"light": 20, "heavy": 55})
    teams = (*teams, *(Team(id=f"{team.id}2", name="", division=team.id) for team in teams))
    day = plan(
        heat("w1-1", start_min=0, teams=["light", "light2"]),
        heat("w1-2", start_min=13, teams=["heavy", "heavy2"]),
    )
    (bars,) = bar_days(event, teams, day, KIT, movements=MOVEMENTS)
    sheets = changeovers(
        bars, make_loadings(bars.problem), day, people=2, times=ChangeTimes(plate_s=10)
    )
    (found,) = hurried(sheets, people=2)
    assert found.rule == "plates.changeover_needs_people"
    assert found.facts["needed"] == 4


def test_a_day_planned_again_with_longer_changeovers_fits() -> None:
    event, teams, _ = day_of({"light": 20, "heavy": 55})
    hasty = replace(
        event.wishes,
        changeover_same_s=60,
        changeover_division_s=60,
        changeover_workout_s=60,
        least_per_heat=1,
    )
    slow = ChangeTimes(plate_s=40)
    hurries = []
    for _ in range(2):
        event = replace(event, wishes=hasty)
        day = plan_day(PlanRequest(event=event, teams=teams), solve).plan
        assert day is not None
        (bars,) = bar_days(event, teams, day, KIT, movements=MOVEMENTS)
        sheets = changeovers(bars, make_loadings(bars.problem), day, times=slow)
        hurries.append(len(list(hurried(sheets))))
        hasty = longer_changeovers(event, teams, day, sheets)
    assert hurries == [1, 0]
    assert hasty.changeover_same_s == 60
    assert hasty.changeover_division_s == hasty.changeover_workout_s == 180


def test_strands_need_their_kit_side_by_side() -> None:
    load = PublishedLoad(kg=kg(16).amount)
    row = replace(task("r", load, movement="kettlebell_swing"), strand=1)
    more = replace(task("m", load, movement="kettlebell_swing"), strand=1)
    side = replace(task("s", load, movement="kettlebell_swing"), strand=2)
    event = days.event(workouts=(lifting(row, more, side),))
    bells = (KitItem(id="k", name="Bell", kind="kettlebell", count=1, mass=kg(16)),)
    day = plan(heat("w1-1", start_min=0, teams=["t"]))
    found = kit_findings(event, (Team(id="t", name="", division="a"),), day, bells, MOVEMENTS)
    assert [(one.facts["needed"], one.facts["there"]) for one in found] == [(2, 1)]


def test_work_is_shared_longest_first() -> None:
    assert shared_s([30, 20, 20, 10], 2) == 40
    assert shared_s([30, 20, 20, 10], 1) == 80
    assert shared_s([30], 4) == 30


def test_a_ladder_within_a_heat_has_a_sheet_of_its_own() -> None:
    workout = lifting(
        task("one", PublishedLoad(kg=kg(40).amount)), task("two", PublishedLoad(kg=kg(50).amount))
    )
    event = days.event(workouts=(workout,))
    teams = (Team(id="t", name="", division="a"),)
    day = plan(heat("w1-1", start_min=0, teams=["t"]))
    (bars,) = bar_days(event, teams, day, KIT, movements=MOVEMENTS)
    sheets = changeovers(bars, make_loadings(bars.problem), day)
    assert [(sheet.heat, sheet.rung, sheet.given_s) for sheet in sheets] == [
        ("w1-1", 1, None),
        ("w1-1", 2, None),
    ]
    assert sheets[1].changes[0].on == (kg(5),)


def test_what_is_missing_is_said_with_the_nearest() -> None:
    event, teams, day = day_of({"odd": 41})
    (bars,) = bar_days(event, teams, day, KIT, movements=MOVEMENTS)
    (found,) = plate_findings(bars, make_loadings(bars.problem))
    assert found.rule == "plates.unreachable"
    assert (found.facts["below"], found.facts["above"]) == ("40 kg", "45 kg")


def test_kit_is_shared_by_floors_at_the_same_time() -> None:
    swing = task("s", PublishedLoad(kg=kg(16).amount), movement="kettlebell_swing")
    event = days.event(
        floors=(
            replace(days.event().floors[0], id="main"),
            replace(days.event().floors[0], id="yard"),
        ),
        workouts=(lifting(swing), replace(lifting(swing, name="w2"), floor="yard")),
    )
    teams = tuple(Team(id=f"T{n}", name="", division="a") for n in range(4))
    bells = (KitItem(id="k", name="Bell", kind="kettlebell", count=3, mass=kg(16)),)
    apart = plan(
        heat("w1-1", start_min=0, teams=["T0", "T1"]),
        heat("w2-1", start_min=20, teams=["T2", "T3"], floor="yard"),
    )
    assert kit_findings(event, teams, apart, bells, MOVEMENTS) == ()
    together = plan(
        heat("w1-1", start_min=0, teams=["T0", "T1"]),
        heat("w2-1", start_min=5, teams=["T2", "T3"], floor="yard"),
    )
    found = kit_findings(event, teams, together, bells, MOVEMENTS)
    assert [(one.rule, one.facts["needed"], one.facts["there"]) for one in found] == [
        ("kit.short", 2, 1)
    ]
    lighter = (replace(bells[0], mass=kg(12)),)
    assert kit_findings(event, teams, apart, lighter, MOVEMENTS)[0].facts["there"] == 0
    (unlisted,) = kit_findings(event, teams, apart, (), MOVEMENTS)
    assert unlisted.rule == "kit.not_listed"


@pytest.fixture(scope="module")
def demo() -> tuple[Event, tuple[Team, ...], Plan, tuple[KitItem, ...]]:
    event = read_event(demo_file("event.toml"))
    teams = read_teams(demo_file("teams.csv"), event).teams
    reply = plan_day(PlanRequest(event=event, teams=teams), solve)
    assert reply.plan is not None
    return event, teams, reply.plan, read_kit(demo_file("kit.csv"), event).kit


def test_the_demonstration_kit_lacks_one_bar_and_one_ball(
    demo: tuple[Event, tuple[Team, ...], Plan, tuple[KitItem, ...]],
) -> None:
    event, teams, day, kit = demo
    short = {
        one.facts["item"]: one.facts for one in kit_findings(event, teams, day, kit, MOVEMENTS)
    }
    assert set(short) == {"medicine ball", "barbell"}
    assert short["medicine ball"]["mass"] == "9 kg / 20 lb"
    (bars,) = bar_days(
        event, teams, day, kit, movements=MOVEMENTS, bars={"women": kg(15), "men": kg(20)}
    )
    answer = make_loadings(bars.problem)
    found = plate_findings(bars, answer)
    assert {one.rule for one in found} == {"plates.bar_missing", "plates.lack"}
    (lack,) = (one.facts for one in found if one.rule == "plates.lack")
    assert (lack["kind"], lack["mass"], lack["pieces"]) == ("bar", "15 kg", 1)
    wrong = check_loadings(kit, loadings_of(bars, answer))
    assert {one.rule for one in wrong} == {"check.lane_without_bar"}
    assert not list(hurried(changeovers(bars, answer, day)))


def test_with_the_bar_borrowed_every_load_of_the_demonstration_is_reached(
    demo: tuple[Event, tuple[Team, ...], Plan, tuple[KitItem, ...]],
) -> None:
    event, teams, day, kit = demo
    lent = KitItem(
        id="lent",
        name="Barbell",
        kind="bar",
        count=1,
        mass=Mass(amount=kg(15).amount),
        floor="main",
    )
    (bars,) = bar_days(
        event, teams, day, (*kit, lent), movements=MOVEMENTS, bars={"women": kg(15), "men": kg(20)}
    )
    answer = make_loadings(bars.problem)
    assert plate_findings(bars, answer) == ()
    assert answer.least_moves > 0
    assert check_loadings((*kit, lent), loadings_of(bars, answer)) == ()


def test_what_was_used_at_one_time_is_told_with_what_was_borrowed_for_nothing() -> None:
    swing = lifting(task("r", PublishedLoad(kg=kg(16).amount), movement="kettlebell_swing"))
    event = days.event(workouts=(swing,))
    teams = tuple(Team(id=name, name="", division="a") for name in "tuv")
    own = KitItem(id="k", name="Bell", kind="kettlebell", count=1, mass=kg(16))
    lent = replace(own, id="l", count=3, lender="Next Door")
    idle = KitItem(id="m", name="Bike", kind="machine", count=2)
    plates = KitItem(id="p", name="Plate", kind="plate", count=8, mass=kg(5))
    kit = (own, lent, idle, plates)

    apart = plan(
        heat("w1-1", start_min=0, teams=["t", "u"]), heat("w1-2", start_min=60, teams=["v"])
    )
    bells, bikes = kit_used(event, teams, apart, kit, MOVEMENTS)
    assert (bells.had, bells.borrowed, bells.lenders) == (4, 3, ("Next Door",))
    assert (bells.most, bells.needless) == (2, 2)
    assert (bikes.item, bikes.had, bikes.most, bikes.needless) == ("Bike", 2, 0, 0)

    together = plan(
        heat("w1-1", start_min=0, teams=["t", "u"]), heat("w1-2", start_min=0, teams=["v"])
    )
    assert kit_used(event, teams, together, kit, MOVEMENTS)[0].most == 3
