"""The side programme on its pages: kept, changed, refused, seen by everybody and in calendars."""

import itertools
from typing import Any

from msgspec.structs import replace

from callroom.model import CrewMember
from callroom.model.wish_rows import EventDay
from tests.web.building import FakeBook, client_of, example_book, form_token

COUNTER = itertools.count()
CAKES = {
    "do": "keep",
    "name": "Cakes <3",
    "kind": "food",
    "span-0-from": "10:00",
    "span-0-until": "12:30",
    "place": "Gate",
    "public": "on",
}


def send(client: Any, fields: dict[str, str]) -> Any:
    form = {"form_token": form_token("director"), "key": f"key-{next(COUNTER)}"}
    return client.post(
        "/director/side-programme",
        data=form | fields,
        headers={"origin": "http://localhost:8000"},
        follow_redirects=False,
    )


def book_with_crew() -> FakeBook:
    return example_book(crew={"helper-seven": CrewMember(person="helper-seven", posts=("desk",))})


def test_a_thing_is_kept_changed_and_taken_out() -> None:
    book = book_with_crew()
    event = book.state.event
    assert event is not None
    with client_of(book, "director") as client:
        assert send(client, CAKES).status_code == 303
        (cakes,) = book.state.side.values()
        assert cakes.spans[0].start_s == 10 * 3600 - event.start_s
        page = client.get(f"/director/side-programme?change={cakes.id}").text
        assert 'value="10:00"' in page
        assert "food safety" in page
        changed = CAKES | {
            "id": cakes.id,
            "span-0-from": "11:00",
            "person": "helper-seven",
            "power": "on",
        }
        assert send(client, changed).status_code == 303
        (cakes,) = book.state.side.values()
        assert (cakes.spans[0].length_s, cakes.person, cakes.power) == (5400, "helper-seven", True)
        assert send(client, {"do": "drop", "id": cakes.id}).status_code == 303
        assert not book.state.side
        assert send(client, {"do": "drop", "id": cakes.id}).status_code == 409


def test_everybody_sees_it_on_the_page_in_the_timetable_and_in_calendars() -> None:
    book = book_with_crew()
    with client_of(book, "director") as client:
        send(client, CAKES | {"person": "helper-seven"})
        send(client, CAKES | {"name": "Fetch the keys", "public": ""})
        hidden = dict(CAKES, name="Open the safe", id="safe")
        del hidden["public"]
        send(client, hidden)
    with client_of(book) as client:
        for path in ("/programme", "/timetable"):
            page = client.get(path).text
            assert "Cakes &lt;3" in page
            assert "Gate" in page
            assert "Open the safe" not in page
            assert "helper-seven" not in page
        feed = client.get("/calendar.ics").text
        assert "Cakes <3" in feed
        assert "Open the safe" not in feed
        assert client.get("/director/side-programme").status_code == 401


def test_times_that_cannot_be_are_refused_at_their_field() -> None:
    book = book_with_crew()
    with client_of(book, "director") as client:
        answer = send(client, CAKES | {"span-0-until": "09:00"})
        assert answer.status_code == 422
        assert 'href="#span-0-from"' in answer.text
        assert "Cakes &lt;3" in answer.text
        assert send(client, CAKES | {"name": ""}).status_code == 422
        assert send(client, CAKES | {"span-0-from": "", "span-0-until": ""}).status_code == 422
        assert send(client, CAKES | {"person": "nobody"}).status_code == 409
    assert not book.state.side


def test_one_click_keeps_the_floor_free() -> None:
    book = book_with_crew()
    event = book.state.event
    assert event is not None
    floor = event.floors[0].id
    with client_of(book, "director") as client:
        send(client, CAKES | {f"floor-{floor}": "on"})
        (cakes,) = book.state.side
        assert "Keep the floor free" in client.get("/director/side-programme").text
        assert send(client, {"do": "pin", "id": cakes}).status_code == 303
        assert "floor kept free" in client.get("/director/side-programme").text
    assert book.state.event is not None
    assert [one.floors for one in book.state.event.wishes.pauses][-1] == (floor,)


def test_on_an_event_of_several_days_a_thing_has_its_day() -> None:
    book = book_with_crew()
    event = book.state.event
    assert event is not None
    day_s = 86_400
    days = tuple(
        EventDay(id=name, name=name, opens_s=place * day_s, closes_s=place * day_s + 36_000)
        for place, name in enumerate(("Saturday", "Sunday"))
    )
    wishes = replace(event.wishes, days=days)
    book.state = replace(book.state, event=replace(event, wishes=wishes))
    with client_of(book, "director") as client:
        assert send(client, CAKES | {"span-0-day": "1"}).status_code == 303
        (cakes,) = book.state.side.values()
        assert cakes.spans[0].start_s == day_s + 10 * 3600 - event.start_s
        page = client.get(f"/director/side-programme?change={cakes.id}").text
        assert 'name="span-0-from" type="time" value="10:00"' in page
        assert '<option value="1" selected>2</option>' in page
        shown = client.get("/programme").text
        assert "Sunday" in shown
        run = client.get("/director/run-sheet").text
        assert "Sunday" in run
        assert client.get("/director/run-sheet.pdf").content.startswith(b"%PDF")
