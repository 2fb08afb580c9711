"""An event written and read again is the same event; a file mended twice stays the same text."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace

from callroom.exchange import demo_file, read_event, write_event
from callroom.model import Event
from tests.exchange.events import events
from tests.exchange.files import SMALL_EVENT


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(events())
def test_whatever_event_is_written_reads_back_the_same(event: Event) -> None:
    text = write_event(event)
    assert read_event(text.encode()) == event
    assert write_event(read_event(text.encode())) == text


def test_the_demo_event_reads_back_the_same() -> None:
    event = read_event(demo_file("event.toml"))
    assert read_event(write_event(event).encode()) == event


def test_what_is_as_usual_is_left_out() -> None:
    text = write_event(read_event(SMALL_EVENT.encode()))
    for key in ("walk_on", "currency", "rest =", "order", "rounds", "resolution", "[rules]"):
        assert key not in text


def test_a_load_pair_is_written_as_a_coach_would() -> None:
    text = write_event(read_event(SMALL_EVENT.encode()))
    assert 'loads = { women = "29 kg / 65 lb", men = "43 kg / 95 lb" }' in text
    assert "reps = [21, 15, 9]" in text
    assert 'length = "30:00"' in text


@pytest.mark.parametrize(
    ("offset_s", "written"),
    [
        (3600, 'release = "10:00"'),
        (3601, 'release = "10:00:01"'),
        (-14 * 3600, "release = 2027-03-27 18:00:00"),
        (-7 * 3600, 'release = "01:00"'),
        (16 * 3600, "release = 2027-03-29 01:00:00"),
    ],
)
def test_a_moment_is_written_in_its_plainest_form(offset_s: int, written: str) -> None:
    # Clocks in Berlin go forward on 28 March 2027 at 02:00, so 09:00 is seven hours after 01:00.
    event = read_event(SMALL_EVENT.replace("2027-03-13", "2027-03-28").encode())
    workout = replace(event.workouts[0], release_s=offset_s)
    text = write_event(replace(event, workouts=(workout,)))
    assert written in text
    assert read_event(text.encode()).workouts[0].release_s == offset_s


def test_a_moment_that_the_clocks_repeat_is_written_in_utc() -> None:
    event = read_event(SMALL_EVENT.encode())
    event = replace(event, day=date(2027, 10, 31))
    workout = replace(event.workouts[0], release_s=int(-6.5 * 3600))
    text = write_event(replace(event, workouts=(workout,)))
    assert "release = 2027-10-31 01:30:00Z" in text
    assert read_event(text.encode()).workouts[0].release_s == int(-6.5 * 3600)


def test_points_are_kept_to_the_last_digit() -> None:
    event = read_event(SMALL_EVENT.encode())
    points = replace(event.rules.points, kind="table", table=(Decimal("0.1"), Decimal("0.05")))
    event = replace(event, rules=replace(event.rules, points=points))
    assert read_event(write_event(event).encode()).rules.points.table == points.table
