"""A layout from sizes keeps its own distances; what does not fit is said, to the millimetre."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.exchange.demo import demo_file
from callroom.exchange.event_file import read_event
from callroom.model.ground import (
    Box,
    Course,
    Door,
    Ground,
    Spot,
    box_of,
    field_box,
    ground_box,
    lane_box,
)
from callroom.model.safety import Exit
from callroom.planner.ground import (
    JUDGE_MM,
    Measured,
    check_ground,
    lane_work,
    placed,
    start_ground,
)
from callroom.planner.ground.limits import DOOR_LEAST_MM
from callroom.planner.ground.work import Station
from callroom.standards import library_with
from callroom.views.floor_plan_wording import start_names
from callroom.views.wording import ENGLISH

EVENT = read_event(demo_file("event.toml"))
MOVEMENTS = library_with(EVENT.movements).movements
HALL = Measured(length_mm=36_000, width_mm=22_000, height_mm=6_000)
YARD = Measured(length_mm=40_000, width_mm=26_000)


def laid(hall: Measured = HALL, exits: tuple[Exit, ...] = ()) -> Ground:
    return start_ground(EVENT, MOVEMENTS, hall, YARD, exits=exits, names=start_names(ENGLISH))


def rules(ground: Ground) -> set[str]:
    return {finding.rule for finding in check_ground(ground, EVENT, MOVEMENTS)}


def test_a_start_keeps_every_distance_but_what_must_be_measured() -> None:
    # Carries of 25 m and runs of 100 m fit no lane: somebody has to measure a course.
    assert rules(laid()) == {"ground.stretch_short"}


def test_nothing_measured_nothing_said() -> None:
    assert check_ground(Ground(), EVENT, MOVEMENTS) == ()


def test_a_lane_has_a_station_for_each_kit_and_two_bars_side_by_side() -> None:
    table = lane_work(EVENT.workout("w1"), EVENT, MOVEMENTS)
    assert [[item for item, _ in one.items] for one in table.stations] == [
        ["medicine_ball", "wall_target"],
        ["rowing_machine"],
        ["kettlebell"],
        [],
    ]
    pot = lane_work(EVENT.workout("w3"), EVENT, MOVEMENTS).stations
    assert [(one.items, one.working) for one in pot] == [((("barbell", 2),), 2)]
    clean = MOVEMENTS["power_clean"].space
    assert pot[0].athlete_width_mm == clean.width_m * 1000


def test_athletes_stand_abreast_as_far_as_the_lane_is_wide() -> None:
    one = Station(
        items=(),
        movements=("burpee",),
        working=5,
        athlete_length_mm=2_500,
        athlete_width_mm=1_200,
        height_mm=2_000,
    )
    assert one.length_mm(3_000) == 3 * 2_500
    assert one.length_mm(1_000) == 5 * 2_500


def test_stations_follow_each_other_and_end_with_the_lane() -> None:
    field = laid().field("main")
    assert field is not None
    work = lane_work(EVENT.workout("w1"), EVENT, MOVEMENTS)
    short = replace(field, lane_length_mm=4_000)
    boxes = [one.box for one in placed(work, short, 7, 0)]
    assert [box.y_mm - short.y_mm for box in boxes] == [0, 2_000]
    assert boxes[-1].bottom_mm == short.y_mm + 4_000


@pytest.mark.parametrize("from_far", [False, True])
def test_lanes_are_numbered_from_one_side(from_far: bool) -> None:
    field = laid().field("main")
    assert field is not None
    turned = replace(field, from_far=from_far)
    lefts = [lane_box(turned, 7, place).x_mm for place in range(7)]
    assert lefts == sorted(lefts, reverse=from_far)
    whole = field_box(turned, 7)
    assert all(whole.holds(lane_box(turned, 7, place)) for place in range(7))


def test_lanes_too_long_for_the_hall_are_said_with_how_far() -> None:
    small = laid(Measured(length_mm=20_000, width_mm=9_000))
    found = {one.rule: dict(one.facts) for one in check_ground(small, EVENT, MOVEMENTS)}
    box = field_box(small.fields[0], 7)
    over_mm = max(box.right_mm - 20_000, box.bottom_mm - 9_000)
    assert found["ground.lanes_outside"]["over_mm"] == over_mm
    field, fit = small.fields[0], int(str(found["ground.lanes_outside"]["fit"]))
    holds = [
        field_box(field, lanes).length_mm <= 20_000 and field_box(field, lanes).width_mm <= 9_000
        for lanes in (fit, fit + 1)
    ]
    assert holds == [fit > 0, False]


def test_narrower_lanes_are_laid_where_the_full_ones_do_not_fit() -> None:
    (full, *_), (narrow, *_) = (
        laid(Measured(length_mm=length_mm, width_mm=14_000)).fields
        for length_mm in (27_000, 24_000)
    )
    assert narrow.lane_width_mm == full.lane_width_mm - JUDGE_MM
    rules_of = rules(laid(Measured(length_mm=24_000, width_mm=16_000)))
    assert {"ground.lanes_outside", "ground.lane_narrow"}.isdisjoint(rules_of)


def test_a_thing_before_a_way_out_blocks_it_and_hides_the_walkway() -> None:
    ground = laid(exits=(Exit(name="Side door", width_mm=1_000),))
    (door,) = ground.doors
    crate = Spot(
        id="crate",
        kind="other",
        name="Crate",
        x_mm=35_000,
        y_mm=door.along_mm,
        length_mm=1_000,
        width_mm=1_000,
    )
    blocked = replace(ground, spots=(*ground.spots, crate))
    found = {one.rule: one for one in check_ground(blocked, EVENT, MOVEMENTS)}
    assert found["ground.exit_blocked"].facts["blocked_by"] == "Crate"
    walled = [
        Spot(
            id="fence",
            kind="other",
            name="Fence",
            x_mm=33_000,
            y_mm=0,
            length_mm=500,
            width_mm=22_000,
        )
    ]
    assert "ground.exit_unreached" in rules(replace(ground, spots=tuple(walled)))


def test_a_narrow_way_out_names_its_source() -> None:
    ground = laid()
    narrow = replace(ground, doors=(replace(ground.doors[0], width_mm=DOOR_LEAST_MM - 1),))
    (found,) = (
        one for one in check_ground(narrow, EVENT, MOVEMENTS) if one.rule == "ground.exit_narrow"
    )
    assert "International Building Code" in found.source
    # 32 inches: International Building Code, section 1005.3, as restated in a guide.
    assert DOOR_LEAST_MM == -(-32 * 254 // 10)


def test_a_way_out_past_the_end_of_its_wall_is_said() -> None:
    ground = laid()
    hall, door = ground.spaces[0], ground.doors[0]
    at_end = replace(door, along_mm=hall.width_mm - door.width_mm)
    assert "ground.exit_outside" not in rules(replace(ground, doors=(at_end,)))
    past = replace(at_end, along_mm=at_end.along_mm + 1)
    assert "ground.exit_outside" in rules(replace(ground, doors=(past,)))


def test_a_course_must_be_a_whole_number_of_laps() -> None:
    course = Course(
        id="path",
        name="River path",
        workout="w4",
        lap_mm=50_000,
        x_mm=0,
        y_mm=0,
        to_x_mm=40_000,
        to_y_mm=0,
    )
    ground = replace(laid(), courses=(course,))
    assert rules(ground) == set()
    off = replace(ground, courses=(replace(course, lap_mm=47_000),))
    found = [one for one in check_ground(off, EVENT, MOVEMENTS) if "course" in one.rule]
    assert {(one.facts["asked_m"], one.facts["laps"], one.facts["walked_m"]) for one in found} == {
        (150, 3, "141.0"),
        (400, 9, "423.0"),
    }


def test_judges_spectators_walls_and_roofs_need_their_room() -> None:
    ground = laid()
    field = ground.fields[0]
    tight = replace(
        ground,
        spaces=(replace(ground.spaces[0], height_mm=2_500), *ground.spaces[1:]),
        fields=(replace(field, gap_mm=JUDGE_MM - 1, x_mm=500), ground.fields[1]),
        spots=tuple(
            replace(spot, x_mm=10_000, y_mm=13_000) if spot.kind == "spectators" else spot
            for spot in ground.spots
            if spot.kind != "wall_target"
        ),
    )
    assert rules(tight) >= {
        "ground.judge_room",
        "ground.walls_close",
        "ground.clear_short",
        "ground.roof_low",
        "ground.no_anchor",
    }


@given(
    length=st.integers(3_000, 80_000),
    width=st.integers(3_000, 60_000),
    doors=st.integers(0, 6),
)
def test_any_hall_can_be_laid_out_and_what_is_put_in_it_stays_inside(
    length: int, width: int, doors: int
) -> None:
    exits = tuple(Exit(name=f"Exit {one}", width_mm=900) for one in range(doors))
    ground = laid(Measured(length_mm=length, width_mm=width), exits)
    whole = ground_box(ground)
    added = [spot for spot in ground.spots if spot.kind not in {"rig", "wall_target"}]
    assert all(whole.holds(box_of(spot)) for spot in added)
    assert {"ground.overlap", "ground.in_lanes", "ground.clear_short"}.isdisjoint(rules(ground))


@given(st.integers(0, 5_000), st.integers(0, 5_000), st.integers(1, 5_000))
def test_room_between_boxes_is_the_same_both_ways(x_mm: int, y_mm: int, size_mm: int) -> None:
    one = Box(x_mm=1_000, y_mm=1_000, length_mm=1_500, width_mm=700)
    other = Box(x_mm=x_mm, y_mm=y_mm, length_mm=size_mm, width_mm=size_mm)
    assert one.apart_mm(other) == other.apart_mm(one)
    if one.meets(other):
        assert one.apart_mm(other) == 0
    else:
        # So much more on every side and they touch but do not meet.
        assert not one.grown(one.apart_mm(other)).meets(other)


def test_every_door_lies_in_its_wall() -> None:
    ways = tuple(Exit(name=str(one), width_mm=1_200) for one in range(5))
    ground = laid(exits=ways)
    hall = ground.spaces[0]
    for door in ground.doors:
        wall_mm = hall.length_mm if door.wall in {"top", "bottom"} else hall.width_mm
        assert door.along_mm + door.width_mm <= wall_mm
    assert [door.name for door in ground.doors] == [way.name for way in ways]


def test_a_wide_rig_movement_comes_first_at_the_head() -> None:
    rowed = EVENT.workout("w1")
    block = rowed.parts[0].blocks[0]
    pull = replace(block.tasks[0], id="pull", movement="pull_up", unit="reps", amounts=(10,))
    part = replace(rowed.parts[0], blocks=(replace(block, tasks=(*block.tasks, pull)),))
    stations = lane_work(replace(rowed, parts=(part,)), EVENT, MOVEMENTS).stations
    assert stations[0].anchor == "rig"
    assert stations[0].height_mm == int(MOVEMENTS["pull_up"].space.height_m * Decimal(1000))


def test_a_door_names_a_space() -> None:
    stray = Door(id="d", name="Door", space="nowhere", wall="top", along_mm=0, width_mm=900)
    # The rules of the journal refuse it; the check does not fall over it.
    assert isinstance(check_ground(replace(laid(), doors=(stray,)), EVENT, MOVEMENTS), tuple)
