"""An event written and read again is the same event; a file mended twice stays the same text."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from msgspec.structs import replace

from callroom.exchange import demo_file, read_event, write_event
from callroom.model import Event
from tests.exchange.events import events
from tests.exchange.files import SMALL_EVENT, refused


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(events())
def test_whatever_event_is_written_reads_back_the_same(event: Event) -> None:
    text = write_event(event)
    assert read_event(text.encode()) == event
    assert write_event(read_event(text.encode())) == text


def test_the_demo_event_reads_back_the_same() -> None:
    event = read_event(demo_file("event.toml"))
    assert read_event(write_event(event).encode()) == event


def test_what_is_allowed_and_barred_by_division_reads_back_the_same() -> None:
    text = SMALL_EVENT.replace(
        "reps = [21, 15, 9]\n",
        'reps = [21, 15, 9]\nallow = { all = ["a"], open = ["b", "c"] }\nbar = ["d"]\n'
        'tighten_no_rep = "Line missed"\n',
        1,
    ).replace("team = {", 'allow = ["pull_up.band"]\nbar = ["rope_climb"]\nteam = {', 1)
    event = read_event(text.encode())
    task = event.workouts[0].parts[0].blocks[0].tasks[0]
    assert [(rule.variation, rule.division, rule.allowed) for rule in task.variation_rules] == [
        ("a", "", True),
        ("b", "open", True),
        ("c", "open", True),
        ("d", "", False),
    ]
    assert event.divisions[0].bars("rope_climb")
    assert not event.divisions[0].bars("pull_up")
    assert read_event(write_event(event).encode()) == event


def test_for_whom_a_variation_is_meant_is_said_if_unknown() -> None:
    text = SMALL_EVENT.replace("reps = [21, 15, 9]\n", 'reps = 21\nallow = { opne = "a" }\n', 1)
    found = [finding.rule for finding in refused(read_event, text.encode())]
    assert "toml.load_for_near" in found
    text = SMALL_EVENT.replace("team = {", 'allow = ["pull_up"]\nteam = {', 1)
    assert "toml.movement_rule" in [one.rule for one in refused(read_event, text.encode())]


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
