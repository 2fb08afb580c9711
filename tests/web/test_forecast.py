"""The director's forecast page: every division and workout, drawn and in words."""

import re

import msgspec

from callroom.bootstrap.forecasting import forecast_day
from callroom.model import State
from callroom.views.wording import stopwatch
from tests.views.building import example_event, example_state
from tests.web.building import FakeBook, client_of, example_book


def page(book: FakeBook) -> str:
    with client_of(book, "director") as client:
        response = client.get("/director/forecast")
    assert response.status_code == 200
    return str(response.text)


def test_the_page_says_what_the_forecast_says() -> None:
    event = example_event()
    text = page(example_book())
    day = forecast_day(event)
    for workout in day.workouts:
        assert workout.title.name in text
        for part in workout.parts:
            for one in part.divisions:
                if one.forecast.kind != "time":
                    continue
                cap = stopwatch(part.cap_s)
                assert f"{one.forecast.under_cap_percent} in 100 finish by {cap}" in text
    for told in day.programmes:
        assert told.division_name in text


def test_a_hill_is_drawn_for_every_division_of_every_part_with_its_words() -> None:
    event = example_event()
    text = page(example_book())
    hills = re.findall(r'<svg class="hill"[^>]*aria-label="([^"]+)"', text)
    parts = sum(len(workout.parts) for workout in event.workouts)
    assert len(hills) == parts * len(event.divisions)
    assert all(any(label.startswith(one.name) for one in event.divisions) for label in hills)


def test_what_no_workout_tests_is_a_gap_and_said_in_words() -> None:
    event = example_event()
    lifting = msgspec.structs.replace(event, workouts=(event.workout("w3"),))
    text = page(FakeBook(State(event=lifting)))
    gaps = re.findall(r'<tr class="gap"><th scope="row">([^<]+)', text)
    assert "jumping" in gaps
    assert "no workout of the day tests “jumping”" in text


def test_a_day_without_workouts_says_so() -> None:
    assert "no workout yet" in page(FakeBook(State()))
    empty = msgspec.structs.replace(example_event(), workouts=())
    assert "no workout yet" in page(FakeBook(State(event=empty)))


def test_the_forecast_follows_the_event() -> None:
    event = example_event()
    first = event.workouts[0]
    part = msgspec.structs.replace(first.parts[0], cap_s=1234)
    workout = msgspec.structs.replace(first, parts=(part,))
    changed = msgspec.structs.replace(event, workouts=(workout, *event.workouts[1:]))
    assert "20:34" not in page(example_book())
    assert "finish by 20:34" in page(FakeBook(example_state(event=changed)))
