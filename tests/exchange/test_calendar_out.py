"""Calendars read back by the library, and their lines looked at byte by byte."""

from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.exchange import Timetable, event_calendar, read_event, team_calendar
from callroom.model import Event, Heat, LaneTeam, Pause, Plan, Team
from tests.exchange.files import SMALL_EVENT

EVENT = read_event(SMALL_EVENT.encode())
TEAMS = {
    "T01": Team(id="T01", name="Salt", division="open"),
    "T02": Team(id="T02", name="Pepper", division="open"),
}
HEATS = (
    Heat(
        id="w1-1", workout="w1", floor="main", number=1, start_s=900, end_s=1800,
        lanes=(LaneTeam(lane=2, team="T01"), LaneTeam(lane=3, team="T02")),
    ),
)  # fmt: skip
LUNCH = Pause(id="lunch", name="Lunch", start_s=5400, length_s=1800)
PLAN = Plan(revision=3, inputs_digest="x", heats=HEATS, pauses=(LUNCH,))
STAMP = datetime(2027, 3, 10, 20, 0, tzinfo=UTC)
TIMETABLE = Timetable(event=EVENT, plan=PLAN, teams=TEAMS, stamped_at=STAMP)


def named(name: str) -> Timetable:
    return replace(TIMETABLE, teams=TEAMS | {"T01": replace(TEAMS["T01"], name=name)})


def entries(data: bytes) -> dict[str, Any]:
    calendar: Any = icalendar.Calendar.from_ical(data)
    return {str(entry["uid"]): entry for entry in calendar.walk("VEVENT")}


def test_every_heat_and_pause_is_there_at_its_wall_time() -> None:
    found = entries(event_calendar(TIMETABLE))
    assert set(found) == {
        "small/heat/w1-1@callroom.invalid",
        "small/pause/lunch@callroom.invalid",
    }
    heat = found["small/heat/w1-1@callroom.invalid"]
    berlin = ZoneInfo("Europe/Berlin")
    assert heat.start == datetime(2027, 3, 13, 9, 15, tzinfo=berlin)
    assert heat.end - heat.start == timedelta(minutes=15)
    assert str(heat["summary"]) == "First, heat 1"
    assert str(heat["location"]) == "Main floor"
    assert str(heat["description"]) == "Lane 2: Salt\nLane 3: Pepper"
    assert heat["dtstamp"].dt == STAMP
    assert int(heat["sequence"]) == 3


def test_a_team_calendar_has_its_lanes_and_reporting_times() -> None:
    found = entries(team_calendar(TIMETABLE, "T02"))
    heat = found["small/team/T02/w1@callroom.invalid"]
    assert str(heat["summary"]) == "First: heat 1, lane 3"
    assert str(heat["description"]) == "Report by 09:00.\nPlan revision 3."
    assert "small/pause/lunch@callroom.invalid" in found
    assert "Salt" not in str(team_calendar(TIMETABLE, "T02"))


def test_a_team_calendar_tells_warm_up_and_briefing_where_they_are_wished() -> None:
    wishes = replace(EVENT.wishes, warm_up_s=900, briefing_s=300)
    timetable = replace(TIMETABLE, event=replace(EVENT, wishes=wishes))
    (entry,) = (
        e
        for e in entries(team_calendar(timetable, "T01")).values()
        if "Report" in e.to_ical().decode()
    )
    said = str(entry["description"])
    assert "Report by 08:55.\nWarm-up from 08:55.\nBriefing at 09:10." in said


def test_an_entry_keeps_its_identity_when_its_heat_moves() -> None:
    moved = replace(HEATS[0], id="w1-2", number=2, start_s=3600, end_s=4500)
    later = replace(TIMETABLE, plan=replace(PLAN, revision=4, heats=(moved,)))
    before, after = (entries(team_calendar(one, "T01")) for one in (TIMETABLE, later))
    assert set(before) == set(after)
    uid = "small/team/T01/w1@callroom.invalid"
    assert int(after[uid]["sequence"]) > int(before[uid]["sequence"])
    assert after[uid].start - before[uid].start == timedelta(minutes=45)


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert event_calendar(TIMETABLE) == event_calendar(TIMETABLE)


def test_what_a_calendar_must_have_is_there_and_the_zone_is_described() -> None:
    # Source: RFC 5545, sections 3.6 and 3.6.1 (PRODID, VERSION; UID, DTSTAMP, DTSTART).
    calendar: Any = icalendar.Calendar.from_ical(event_calendar(TIMETABLE))
    assert (str(calendar["prodid"]), str(calendar["version"])) == (
        "-//Callroom//timetable//EN",
        "2.0",
    )
    for entry in calendar.walk("VEVENT"):
        assert {"UID", "DTSTAMP", "DTSTART", "DTEND"} <= set(entry)
        assert "DURATION" not in entry
        assert entry["dtstart"].params["TZID"] == "Europe/Berlin"
    assert [str(zone["tzid"]) for zone in calendar.walk("VTIMEZONE")] == ["Europe/Berlin"]


@pytest.mark.parametrize("zone", ["UTC", "Etc/UTC", "Asia/Kolkata", "America/St_Johns"])
def test_any_zone_reads_back_to_the_same_instants(zone: str) -> None:
    event = replace(EVENT, zone=zone)
    heat = entries(event_calendar(replace(TIMETABLE, event=event)))[
        "small/heat/w1-1@callroom.invalid"
    ]
    assert heat.start.astimezone(UTC) == event.instant(900)


def test_a_day_on_which_the_clocks_change_reads_back_to_the_same_instants() -> None:
    event: Event = replace(EVENT, day=date(2027, 3, 28), start_s=3600)
    heat = entries(event_calendar(replace(TIMETABLE, event=event)))[
        "small/heat/w1-1@callroom.invalid"
    ]
    assert heat.start.astimezone(UTC) == event.instant(900)
    late = replace(
        TIMETABLE,
        event=event,
        plan=replace(PLAN, heats=(replace(HEATS[0], start_s=7200, end_s=8000),)),
    )
    heat = entries(event_calendar(late))["small/heat/w1-1@callroom.invalid"]
    assert heat.start.astimezone(UTC) == event.instant(7200)
    assert heat.start.hour == 4


def test_the_zone_is_described_around_the_day_whenever_that_is() -> None:
    for year in (1999, 2027, 2061):
        event = replace(EVENT, day=date(year, 7, 1))
        data = event_calendar(replace(TIMETABLE, event=event))
        heat = entries(data)["small/heat/w1-1@callroom.invalid"]
        assert heat.start.astimezone(UTC) == event.instant(900)
        assert len(data) < 3000


def test_a_workout_that_is_not_released_does_not_give_its_name() -> None:
    hidden = replace(TIMETABLE, hidden=frozenset({"w1"}))
    for data in (event_calendar(hidden), team_calendar(hidden, "T01")):
        assert b"First" not in data
        assert b"Workout 1" in data


def test_a_rehearsal_says_so_in_every_entry() -> None:
    rehearsal = replace(TIMETABLE, rehearsal=True)
    for entry in entries(event_calendar(rehearsal)).values():
        assert str(entry["summary"]).startswith("REHEARSAL: ")


def test_titles_are_in_the_words_asked_for() -> None:
    german = {"{workout}, heat {number}": "{workout}, Lauf {number}"}
    found = entries(event_calendar(TIMETABLE, lambda text: german.get(text, text)))
    assert str(found["small/heat/w1-1@callroom.invalid"]["summary"]) == "First, Lauf 1"


HOSTILE = [
    "a;b,c\\d:e\"f'g",
    "x" * 200,
    "é" * 120,
    "日本" * 60,
    "🏋" * 40,
    "two\nlines\r\nEND:VEVENT\r\nBEGIN:VEVENT",
    "\x00\x07bell",
    "\u202eturned",
    "שלום\u200f",
    "\\n \\, \\;",
]


def check_bytes(data: bytes) -> None:
    """Source: RFC 5545, section 3.1: CRLF, at most 75 octets, folded before a blank."""
    assert data.endswith(b"END:VCALENDAR\r\n")
    lines = data.split(b"\r\n")[:-1]
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert max(map(len, lines)) <= 75
    for line in lines:
        line.decode("utf-8")  # no character is cut in two by folding


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_folded_escaped_and_read_back(name: str) -> None:
    data = event_calendar(named(name))
    check_bytes(data)
    found = entries(data)
    assert len(found) == 2
    shown = "".join(" " if sign in "\x00\x07\n\r\u202e" else sign for sign in name)
    expected = f"Lane 2: {' '.join(shown.split())}\nLane 3: Pepper"
    assert str(found["small/heat/w1-1@callroom.invalid"]["description"]) == expected


# Source: RFC 5545, section 3.3.11: backslash, semicolon and comma get a backslash before them.
def test_texts_are_escaped_as_the_standard_says() -> None:
    data = event_calendar(named("a;b,c\\d")).replace(b"\r\n ", b"")
    assert b"DESCRIPTION:Lane 2: a\\;b\\,c\\\\d\\nLane 3: Pepper\r\n" in data


@settings(max_examples=60)
@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=120))
def test_any_name_keeps_the_form_and_reads_back(name: str) -> None:
    data = team_calendar(named(name), "T01")
    check_bytes(data)
    assert len(entries(data)) == 2
    check_bytes(event_calendar(named(name)))
