"""The forecast of a day as faces are handed it: whole, the same for a seed, of the right event."""

import subprocess
import sys

import msgspec
import pytest

from callroom.bootstrap.forecasting import forecast_day, forecast_of
from callroom.model import Event, Refusal, State
from callroom.views.forecast import ASKED_PERCENT, DayForecast, PartOutlook
from tests.views.building import example_event

TEAMS = 200
EVENT = example_event()


def told(event: Event = EVENT, seed: int = 1) -> DayForecast:
    return forecast_day(event, teams=TEAMS, seed=seed)


def parts(day: DayForecast) -> list[PartOutlook]:
    return [one for workout in day.workouts for part in workout.parts for one in part.divisions]


def with_cap(event: Event, cap_s: int) -> Event:
    """The event with another cap for its first workout, which is for time."""
    first = event.workouts[0]
    part = msgspec.structs.replace(first.parts[0], cap_s=cap_s)
    workout = msgspec.structs.replace(first, parts=(part,))
    return msgspec.structs.replace(event, workouts=(workout, *event.workouts[1:]))


def test_every_workout_part_and_division_is_told_with_its_programme() -> None:
    day = told()
    assert [one.title.id for one in day.workouts] == [one.id for one in EVENT.workouts]
    for outlook, workout in zip(day.workouts, EVENT.workouts, strict=True):
        assert [part.id for part in outlook.parts] == [part.id for part in workout.parts]
        divisions = [division.id for division in EVENT.divisions]
        assert all([one.division for one in part.divisions] == divisions for part in outlook.parts)
        assert [floor.division for floor in outlook.floors] == divisions
    assert {one.division for one in day.programmes} == {one.id for one in EVENT.divisions}
    assert day.teams == TEAMS


def test_the_same_seed_gives_the_same_forecast_and_another_gives_another() -> None:
    encoded = msgspec.json.encode(told())
    apart = subprocess.run(
        [sys.executable, "-c", _AGAIN], capture_output=True, check=True, timeout=120
    ).stdout
    assert apart == encoded
    assert msgspec.json.encode(told(seed=2)) != encoded


_AGAIN = """
import sys, msgspec
from tests.bootstrap.test_forecasting import told
sys.stdout.buffer.write(msgspec.json.encode(told()))
"""


def test_a_recommended_cap_is_the_shortest_in_half_minutes_that_enough_teams_beat() -> None:
    shown = [one for one in parts(told()) if one.enough_cap_s is not None]
    assert shown
    for one in shown:
        slow_s = one.forecast.finish_s.p90
        assert slow_s is not None
        assert one.enough_cap_s is not None
        assert one.enough_cap_s - 30 < slow_s <= one.enough_cap_s
        assert one.enough_cap_s % 30 == 0


def test_with_the_recommended_cap_so_many_teams_do_finish() -> None:
    recommended = max(one.enough_cap_s or 0 for one in told().workouts[0].parts[0].divisions)
    changed = told(with_cap(EVENT, recommended)).workouts[0].parts[0]
    assert changed.cap_s == recommended
    for one in changed.divisions:
        assert one.forecast.under_cap_percent >= ASKED_PERCENT


def test_lighter_loads_are_advised_only_where_too_few_finish_and_they_are_lighter() -> None:
    rushed = told(with_cap(EVENT, 700))
    for one in parts(rushed):
        enough = one.forecast.under_cap_percent >= ASKED_PERCENT
        assert not (one.lighter and (enough or one.forecast.kind != "time"))
    lighter = [load for one in rushed.workouts[0].parts[0].divisions for load in one.lighter]
    assert lighter
    assert all(load.advised_g < load.published_g for load in lighter)


def test_a_book_without_an_event_has_no_forecast() -> None:
    with pytest.raises(Refusal) as refused:
        forecast_of(State())
    assert refused.value.rule == "book.no_event"


def test_nothing_waits_for_the_arrays_until_a_forecast_is_asked_for() -> None:
    code = (
        "import sys, callroom.cli.main, callroom.bootstrap.forecasting;"
        "print(sorted({'numpy', 'callroom.forecast'} & sys.modules.keys()))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, timeout=60, text=True
    )
    assert ran.stdout.strip() == "[]"
