"""Timetable, heat sheets, cards and team days of the example event."""

import msgspec
import pytest

from callroom.model import HeatRun, NotFound, Rerun, State, TeamStatus
from callroom.views.cards import card, cards
from callroom.views.codes import CardRef, read_code
from callroom.views.heat_sheet import heat_sheet, heat_sheets
from callroom.views.sheets import print_findings, sheets
from callroom.views.team_day import team_day, team_days
from callroom.views.timetable import CREW, Audience, timetable
from tests.views.building import HOUR, example_event, example_state
from tests.views.snapshot import same_as_before

STATE = example_state()
OUTSIDE = Audience(public=True)


def test_a_card_is_what_it_was() -> None:
    same_as_before("card", card(STATE, CardRef(workout="w1", team="T01")))


def test_a_two_part_card_is_what_it_was() -> None:
    same_as_before("card_two_parts", card(STATE, CardRef(workout="w4", team="T13")))


def test_a_heat_sheet_is_what_it_was() -> None:
    assert STATE.plan is not None
    same_as_before("heat_sheet", heat_sheet(STATE, STATE.plan.heat("w1-2")))


def test_a_team_day_is_what_it_was() -> None:
    same_as_before("team_day", team_day(STATE, "T01", OUTSIDE))


def test_the_timetable_is_what_it_was() -> None:
    same_as_before("timetable", timetable(STATE, OUTSIDE))


def test_there_is_one_card_for_each_lane_of_each_heat_in_order_of_use() -> None:
    made = cards(STATE).cards
    assert len(made) == 16 * 5
    order = [(one.heat.start_s, one.floor, one.heat.id, one.lane) for one in made if one.heat]
    assert order == sorted(order)
    assert len({one.code for one in made}) == len(made)
    for one in made:
        assert one.address == f"http://192.168.1.20:8000/c/{one.code}"
        assert read_code(one.address, STATE) == one.ref


def test_cards_of_some_heats_only() -> None:
    made = cards(STATE, heats={"w1-1"}).cards
    assert [one.ref.team for one in made] == ["T13", "T14", "T15", "T16"]


def test_a_withdrawn_team_has_no_card_and_its_lane_stays_empty() -> None:
    state = example_state(team_status={"T01": TeamStatus(status="withdrawn", since_seq=50)})
    assert not [one for one in cards(state).cards if one.ref.team == "T01"]
    assert state.plan is not None
    sheet = heat_sheet(state, state.plan.heat("w1-2"))
    assert sheet.lanes[0].use == "empty"
    assert sheet.lanes[0].place is not None
    assert sheet.lanes[0].place.withdrawn
    assert sheet.judges == 5
    assert "T01" not in {day.team for day in team_days(state, OUTSIDE).days}


def test_a_re_run_has_a_card_without_heat_and_lane() -> None:
    rerun = Rerun(seq=60, workout="w1", team="T01", attempt=2, counts="better", reason="x")
    state = example_state(reruns={"w1/T01": (rerun,)})
    (second,) = card(state, CardRef(workout="w1", team="T01", attempt=2)).cards
    (first,) = card(state, CardRef(workout="w1", team="T01")).cards
    assert (second.heat, second.lane) == (None, None)
    assert second.code != first.code
    assert second.parts == first.parts


def test_unknown_cards_are_refused() -> None:
    with pytest.raises(NotFound, match=r"team\.unknown"):
        card(STATE, CardRef(workout="w1", team="T99"))
    with pytest.raises(NotFound, match=r"workout\.unknown"):
        card(STATE, CardRef(workout="w9", team="T01"))


def test_a_book_without_event_or_plan_prints_nothing() -> None:
    with pytest.raises(NotFound, match=r"book\.no_event"):
        sheets(State())
    with pytest.raises(NotFound, match=r"plan\.none"):
        sheets(msgspec.structs.replace(STATE, plan=None))


def test_a_heat_sheet_has_every_painted_lane_and_says_what_it_is_for() -> None:
    sheet = heat_sheets(STATE).sheets[0]
    assert [(lane.lane, lane.use) for lane in sheet.lanes] == [
        (1, "team"),
        (2, "team"),
        (3, "team"),
        (4, "team"),
        (5, "empty"),
        (6, "empty"),
        (7, "held"),
    ]
    assert sheet.of == 3
    assert sheet.judges == 4


def test_judges_and_kit_are_counted_by_lanes() -> None:
    assert STATE.plan is not None
    sheet = heat_sheet(STATE, STATE.plan.heat("w2-2"))
    assert sheet.judges == 12
    (line,) = (line for line in sheet.kit if line.setting.loads)
    assert line.lanes == (1, 2, 3, 4, 5, 6)
    assert [load.category for load in line.setting.loads] == ["women", "men"]


def test_times_of_a_heat() -> None:
    slot = timetable(STATE).floors[0].heats[0]
    assert slot.report_s == slot.start_s - 900
    assert slot.clock_s == slot.start_s + 70
    assert slot.stage == "waiting"


def test_the_stage_of_a_heat_is_shown() -> None:
    state = example_state(heats={"w1-1": HeatRun(stage="started")})
    assert timetable(state).floors[0].heats[0].stage == "started"


@pytest.mark.parametrize("now_s", [None, -HOUR, 2 * HOUR - 1])
def test_nothing_of_an_unreleased_workout_leaks(now_s: int | None) -> None:
    audience = Audience(public=True, now_s=now_s)
    for view in (timetable(STATE, audience), team_days(STATE, audience)):
        text = msgspec.json.encode(view).decode()
        assert "Heavy single" not in text
        assert "clean_and_jerk" not in text
        assert '"number":3,"name":""' in text


def test_at_its_release_a_workout_is_seen_and_the_crew_sees_it_before() -> None:
    for audience in (Audience(public=True, now_s=2 * HOUR), CREW):
        assert "Heavy single" in msgspec.json.encode(timetable(STATE, audience)).decode()
        assert "clean_and_jerk" in msgspec.json.encode(team_days(STATE, audience)).decode()


def test_crew_sheets_do_not_wait_for_the_release() -> None:
    pack = sheets(STATE)
    assert "Heavy single" in msgspec.json.encode(pack.cards).decode()
    assert "Heavy single" in msgspec.json.encode(pack.heat_sheets).decode()
    assert "Heavy single" not in msgspec.json.encode(pack.timetable).decode()


def test_sheets_name_no_person() -> None:
    event = example_event()
    assert "p0A" not in msgspec.json.encode(sheets(example_state(event))).decode()


def test_what_to_know_before_printing() -> None:
    assert print_findings(STATE) == ()
    lost = example_state(example_event(address=""))
    assert [one.rule for one in print_findings(lost)] == ["print.no_address"]
    assert print_findings(State()) == ()
