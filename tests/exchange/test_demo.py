"""The demonstration event: sound, invented, and of the shape that a day really has."""

import re
from collections import Counter
from importlib import resources

import pytest

from callroom.exchange import (
    CrewRead,
    Known,
    TeamsRead,
    demo_file,
    read_crew,
    read_event,
    read_kit,
    read_teams,
)
from callroom.model import CategoryCount, Event, KitItem, Part
from callroom.model.checking import check_event
from callroom.planner import PlanRequest, check_plan, plan_day
from callroom.planner.solve import solve
from callroom.standards import all_movements

MINUTE = 60


@pytest.fixture(scope="module")
def event() -> Event:
    return read_event(demo_file("event.toml"))


@pytest.fixture(scope="module")
def teams(event: Event) -> TeamsRead:
    return read_teams(demo_file("teams.csv"), event)


@pytest.fixture(scope="module")
def crew(event: Event, teams: TeamsRead) -> CrewRead:
    return read_crew(
        demo_file("crew.csv"), event, known=Known(teams=teams.teams, people=teams.people)
    )


@pytest.fixture(scope="module")
def kit(event: Event) -> tuple[KitItem, ...]:
    found = read_kit(demo_file("kit.csv"), event)
    assert found.findings == ()
    return found.kit


def parts_of(event: Event) -> dict[str, tuple[Part, ...]]:
    return {workout.id: workout.parts for workout in event.workouts}


def test_every_file_of_it_is_sound(event: Event, teams: TeamsRead, crew: CrewRead) -> None:
    assert check_event(event) == ()
    assert teams.findings == ()
    assert crew.findings == ()
    assert event.invented


def test_42_teams_in_three_divisions_of_different_size(event: Event, teams: TeamsRead) -> None:
    sizes = Counter(team.division for team in teams.teams)
    assert sizes.total() == 42
    assert len(sizes) == len(set(sizes.values())) == 3
    fours = CategoryCount(category="women", count=2), CategoryCount(category="men", count=2)
    pair = CategoryCount(category="women", count=1), CategoryCount(category="men", count=1)
    assert [division.make_up for division in event.divisions] == [fours, fours, pair]
    assert all(
        len(team.on_floor) == event.division(team.division).team_size for team in teams.teams
    )


def test_five_workouts_of_clearly_different_kinds(event: Event) -> None:
    parts = parts_of(event)
    assert {name: [part.kind for part in inside] for name, inside in parts.items()} == {
        "w1": ["time"],
        "w2": ["work"],
        "w3": ["load"],
        "w4": ["time"],
        "w5": ["work", "time"],
    }
    assert parts["w1"][0].tiebreak is not None
    assert [part.share_percent for part in parts["w5"]] == [50, 50]
    assert parts["w5"][1].starts_s > parts["w5"][0].cap_s
    carries = {task.movement for block in parts["w4"][0].blocks for task in block.tasks}
    assert {"run", "farmer_carry", "sandbag_carry"} <= carries
    assert event.floor(event.workout("w4").floor).outdoor
    assert all(8 * MINUTE <= workout.clock_s <= 14 * MINUTE for workout in event.workouts)


def test_every_movement_is_in_the_library_and_counted_in_a_unit_it_has(event: Event) -> None:
    library = {movement.id: movement for movement in all_movements()}
    for part in (part for inside in parts_of(event).values() for part in inside):
        for task in (task for block in part.blocks for task in block.tasks):
            units = {counting.unit for counting in library[task.movement].counting}
            assert task.unit == "lift" or task.unit in units
            assert not task.while_holding or task.while_holding in library
            assert bool(task.loads) == (
                library[task.movement].load != "none" and task.unit != "lift"
            )


def test_loads_are_published_in_both_units(event: Event) -> None:
    loads = [
        load
        for inside in parts_of(event).values()
        for part in inside
        for block in part.blocks
        for task in block.tasks
        for load in task.loads
    ]
    assert len(loads) > 20
    assert all(load.kg is not None and load.lb is not None for load in loads)


def test_a_main_floor_of_7_lanes_and_an_outdoor_course(event: Event) -> None:
    main, yard = event.floors
    assert (main.lanes, main.outdoor) == (7, False)
    assert yard.outdoor
    assert yard.held_lanes


def test_26_volunteers_of_whom_9_also_compete_under_one_id(
    teams: TeamsRead, crew: CrewRead
) -> None:
    athletes = {athlete.person: team.id for team in teams.teams for athlete in team.athletes}
    assert len(crew.crew) == len({member.person for member in crew.crew}) == 26
    both = [member for member in crew.crew if member.person in athletes]
    assert len(both) == 9
    assert all(athletes[member.person] == member.team for member in both)
    posts = Counter(post for member in crew.crew for post in member.posts)
    assert posts["judge"] >= 14  # both floors at once
    assert all(posts[post] for post in ("head_judge", "desk", "call", "first_aid", "announcer"))


def test_the_kit_is_not_quite_enough(event: Event, kit: tuple[KitItem, ...]) -> None:
    """Every lane of the main floor needs one of each of these at once, and two are short."""
    lanes = event.floor("main").lanes
    needed = [
        ("Barbell", 20), ("Barbell", 15), ("Medicine ball", 9), ("Medicine ball", 6),
        ("Medicine ball", 4), ("Kettlebell", 24), ("Kettlebell", 16), ("Dumbbell", 15),
    ]  # fmt: skip
    there = Counter[tuple[str, int]]()
    for item in kit:
        if item.mass is not None:
            there[item.name, int(item.mass.amount)] += item.count
    short = {one: lanes - there[one] for one in needed if there[one] < lanes}
    assert short == {("Barbell", 15): 1, ("Medicine ball", 9): 1}
    assert any(item.lender for item in kit)


def test_a_briefing_a_lunch_and_an_awards_time(event: Event) -> None:
    pauses = {pause.id: pause for pause in event.wishes.pauses}
    assert set(pauses) == {"briefing", "lunch", "awards"}
    assert pauses["briefing"].start_s == 0
    assert event.wishes.first_heat_s >= pauses["briefing"].length_s
    assert event.wishes.finish_by_s is not None
    assert event.wishes.finish_by_s <= pauses["awards"].start_s
    assert event.wishes.rest_s >= 30 * MINUTE


def test_the_day_can_be_planned_within_its_wishes(event: Event, teams: TeamsRead) -> None:
    reply = plan_day(PlanRequest(event=event, teams=teams.teams), solve)
    assert reply.plan is not None
    assert check_plan(event, teams.teams, reply.plan) == ()
    assert len(reply.plan.heats) == 5 * 7


def test_nobody_in_it_can_be_reached(teams: TeamsRead, crew: CrewRead) -> None:
    # example.org is kept for examples (RFC 2606, section 3); telephone numbers 07700 900000
    # to 900999 for drama (Ofcom, the British regulator; from memory).
    people = {**teams.people, **crew.people}
    assert len(people) == 153 + 17
    assert len({person.name for person in people.values()}) == len(people)
    for person in people.values():
        assert person.email.endswith("@example.org")
        assert re.fullmatch(r"07700 900\d\d\d", person.phone)
        assert re.search(r"\) 07700 900\d\d\d$", person.emergency_contact)


def test_names_of_teams_are_all_different(teams: TeamsRead) -> None:
    assert len({team.name.casefold() for team in teams.teams}) == 42


def test_seeds_are_given_to_some_and_never_twice(teams: TeamsRead) -> None:
    ranks = [(team.division, team.entry_rank) for team in teams.teams if team.entry_rank]
    assert len(set(ranks)) == len(ranks)
    assert 20 < len(ranks) < 42


def test_the_files_are_part_of_the_package() -> None:
    folder = resources.files("callroom.exchange.demo")
    names = {entry.name for entry in folder.iterdir()}
    assert {"event.toml", "teams.csv", "crew.csv", "kit.csv"} <= names
