"""A first event from a few answers: sound for every choice of divisions, faults by key."""

import itertools

import pytest
from msgspec.structs import replace

from callroom.actions.standards_check import check_standards
from callroom.exchange import FaultyEvent, read_event, read_event_values, write_event
from callroom.exchange.starter import KINDS, Answers, first_event, slug
from callroom.model import errors_among
from callroom.model.checking import check_event

ANSWERS = Answers(
    name="Åbo Harbour Day",
    day="2027-05-15",
    zone="Europe/Helsinki",
    start="09:00",
    finish_by="16:00",
    venue="Hall 3",
    cause="The harbour kitchen",
    currency="EUR",
    language="en",
    lanes=6,
    yard_lanes=4,
    divisions=("fours", "pairs-lighter"),
)


@pytest.mark.parametrize("divisions", list(itertools.combinations(KINDS, 2)))
def test_any_two_divisions_make_a_sound_event(divisions: tuple[str, str]) -> None:
    event = first_event(replace(ANSWERS, divisions=divisions))
    assert tuple(one.id for one in event.divisions) == divisions
    assert not errors_among((*check_event(event), *check_standards(event)))
    assert read_event(write_event(event).encode()) == event


def test_lighter_divisions_lift_less() -> None:
    event = first_event(ANSWERS)
    (swing,) = (
        task for task in event.workout("w1").parts[0].blocks[0].tasks if task.movement[:3] == "ket"
    )
    of_women = {load.division: load.kg for load in swing.loads if load.category == "women"}
    assert (of_women["pairs-lighter"] or 0) < (of_women[""] or 0)


def test_lunch_stands_only_in_a_day_that_is_long_enough() -> None:
    assert "lunch" in {one.id for one in first_event(ANSWERS).wishes.pauses}
    short = first_event(replace(ANSWERS, start="13:00"))
    assert "lunch" not in {one.id for one in short.wishes.pauses}


def test_faults_are_told_by_key() -> None:
    wrong = replace(ANSWERS, day="soon", lanes=0, zone="Mars/Sea", finish_by="25:00")
    with pytest.raises(FaultyEvent) as refused:
        first_event(wrong)
    assert {one.subject for one in refused.value.findings} >= {"event.day", "floors.main.lanes"}


def test_a_check_of_the_whole_names_the_key_too() -> None:
    with pytest.raises(FaultyEvent) as refused:
        read_event_values(
            {
                "format": 1,
                "event": {
                    "id": "x",
                    "name": "X",
                    "day": "2027-05-15",
                    "zone": "UTC",
                    "start": "9:00",
                },
                "categories": {"all-in": "All"},
                "divisions": {"open": {"name": "Open", "team": {"all-in": 2}}},
                "floors": {"main": {"name": "Main", "lanes": 2, "held_lanes": [9]}},
                "workouts": {},
            }
        )
    subjects = {one.subject for one in refused.value.findings}
    assert any(one.startswith("floors.main.held_lanes") for one in subjects)


@pytest.mark.parametrize(
    ("name", "made"),
    [
        ("Åbo Harbour Day", "abo-harbour-day"),
        ("日本", "event"),
        ("  -- ", "event"),
        ("X" * 60, "x" * 40),
    ],
)
def test_an_id_is_made_of_a_name(name: str, made: str) -> None:
    assert slug(name) == made
