"""The event in the browser: first questions, every field of the file, teams expected."""

import itertools
import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.exchange import demo_file, read_event
from callroom.model import Event, State
from callroom.web.event_pages import SetupForm, parts_of, read_form, written_form
from tests.web.building import FakeBook, client_of, example_book, form_token

COUNTER = itertools.count()
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FIRST = {
    "name": "Harbour <b>day",
    "day": "2027-05-15",
    "start": "09:00",
    "finish_by": "16:30",
    "zone": "Europe/Madrid",
    "teams": "7",
    "lanes": "4",
    "yard_lanes": "0",
    "kind~fours": "fours",
    "kind~pairs": "pairs",
    "currency": "eur",
    "language": "en",
}


def whole_events() -> list[Event]:
    files = sorted(EXAMPLES.glob("*/event.toml"))
    return [read_event(demo_file("event.toml")), *(read_event(one.read_bytes()) for one in files)]


def send(client: Any, path: str, fields: dict[str, str]) -> Any:
    form = {"form_token": form_token("director"), "key": f"key-{next(COUNTER)}"}
    return client.post(
        path,
        data=form | fields,
        headers={"origin": "http://localhost:8000"},
        follow_redirects=False,
    )


def fields_of(book: FakeBook, name: str) -> dict[str, str]:
    event = book.state.event
    assert event is not None
    part = next(one for one in parts_of(event, (), str) if one.name == name)
    seen = str(book.state.subjects.get("event", 0))
    return {"seen": seen, **written_form(event, part).texts}


def begun() -> FakeBook:
    book = FakeBook(State(), now_ms=1_800_000_000_000)
    with client_of(book, "director") as client:
        assert send(client, "/director/event", FIRST).status_code == 303
    return book


@pytest.mark.parametrize("event", whole_events(), ids=lambda event: event.id)
def test_every_part_posted_as_it_is_shown_changes_nothing(event: Event) -> None:
    for part in parts_of(event, (), str):
        assert read_form(event, part, written_form(event, part).texts) == event


def test_the_pages_ask_for_every_key_of_rules_and_wishes() -> None:
    event = whole_events()[0]
    asked = {
        (rows or field.key).split(".")[1]
        for part in parts_of(event, (), str)
        if part.name in {"rules", "wishes"}
        for group in part.groups
        for field, rows in (
            *((one, "") for one in group.fields),
            *((one.fields[0], one.key) for one in group.rows),
        )
    }
    file_calls = {"judge_spells": "judges", "floor_choices": "floors", "shared_kit": "kit"}
    for thing in (event.rules, event.wishes):
        for name in thing.__struct_fields__:
            plain = file_calls.get(name, name).removesuffix("_s")
            assert plain in asked or plain.partition("_")[0] == "changeover"


def test_first_questions_make_an_event_with_teams_expected() -> None:
    book = begun()
    event = book.state.event
    assert event is not None
    assert (event.name, event.currency, event.zone) == ("Harbour <b>day", "EUR", "Europe/Madrid")
    counted = [team.division for team in book.state.teams.values()]
    assert (counted.count("fours"), counted.count("pairs")) == (4, 3)
    with client_of(book, "director") as client:
        page = client.get("/director/event").text
        assert "Expected teams stand in" in page
        again = send(client, "/director/event", FIRST)
        assert again.status_code == 422
        assert "has an event already" in again.text


def test_the_first_questions_are_asked_in_what_the_browser_reads() -> None:
    book = FakeBook(State())
    with client_of(book, "director") as client:
        page = client.get("/director/event", headers={"accept-language": "es"}).text
        assert '<html lang="es"' in page
        assert 'name="language" value="es"' in page
        send(client, "/director/event", FIRST | {"language": "es"})
    assert book.state.event is not None
    assert book.state.event.language == "es"
    assert {team.name.partition(" ")[0] for team in book.state.teams.values()} == {"Equipo"}


def test_what_is_wrong_stands_beside_its_question_and_nothing_is_lost() -> None:
    book = FakeBook(State(), now_ms=1_800_000_000_000)
    wrong = FIRST | {"day": "soon", "lanes": "none", "name": "Kept & shown"}
    del wrong["kind~fours"], wrong["kind~pairs"]
    with client_of(book, "director") as client:
        answer = send(client, "/director/event", wrong)
    assert answer.status_code == 422
    assert "Kept &amp; shown" in answer.text
    for said in ("No division is ticked", "is no number from 1 to 200", 'id="day-fault"'):
        assert said in answer.text
    assert book.state.event is None


def test_a_wish_is_changed_and_a_pause_added_under_an_id_made_for_it() -> None:
    book = begun()
    fields = fields_of(book, "wishes") | {
        "wishes.rest": "45",
        "wishes.pauses.new.name": "Raffle & prizes",
        "wishes.pauses.new.at": "14:00",
        "wishes.pauses.new.length": "10",
        "wishes.pauses.new.floors~main": "main",
        "wishes.pauses.lunch.remove": "yes",
    }
    with client_of(book, "director") as client:
        answer = send(client, "/director/event/wishes", fields)
        assert answer.status_code == 303
        assert "Saved." in client.get(answer.headers["location"]).text
    event = book.state.event
    assert event is not None
    assert event.wishes.rest_s == 45 * 60
    assert [one.id for one in event.wishes.pauses] == ["welcome", "awards", "raffle-prizes"]
    assert event.wishes.pauses[-1].floors == ("main",)


def test_a_fault_in_a_row_stands_beside_the_row_that_was_typed() -> None:
    book = begun()
    fields = fields_of(book, "wishes") | {
        "wishes.pauses.lunch.at": "half past",
        "wishes.pauses.new.name": "Raffle",
        "wishes.pauses.new.at": "14:00",
    }
    with client_of(book, "director") as client:
        answer = send(client, "/director/event/wishes", fields)
    assert answer.status_code == 422
    assert 'id="wishes.pauses.lunch.at-fault"' in answer.text
    assert 'id="wishes.pauses.new.length-fault"' in answer.text
    assert 'value="half past"' in answer.text


def test_moving_the_start_moves_no_time_on_the_clock_and_the_day_takes_all_with_it() -> None:
    event = whole_events()[0]
    part = parts_of(event, (), str)[0]
    texts = dict(written_form(event, part).texts)
    moved = read_form(event, part, texts | {"event.start": "08:30", "event.day": "2027-05-16"})
    assert not isinstance(moved, SetupForm)
    lunch = {one.id: one.start_s for one in moved.wishes.pauses}["lunch"]
    assert lunch == {one.id: one.start_s for one in event.wishes.pauses}["lunch"] + 1800
    assert moved.workout("w5").release_s == (event.workout("w5").release_s or 0) + 1800
    assert moved.day.day == 16


def test_waves_are_numbered_division_by_division() -> None:
    event = whole_events()[0]
    part = parts_of(event, (), str)[-1]
    texts = dict(written_form(event, part).texts)
    waves = {"wishes.waves.pairs": "1", "wishes.waves.open": "2", "wishes.waves.steady": "2"}
    changed = read_form(event, part, texts | waves)
    assert not isinstance(changed, SetupForm)
    assert [set(wave) for wave in changed.wishes.waves] == [{"pairs"}, {"open", "steady"}]
    refused = read_form(event, part, texts | {"wishes.waves.pairs": "first"})
    assert isinstance(refused, SetupForm)


def test_what_was_changed_meanwhile_is_refused_and_what_was_typed_is_shown() -> None:
    book = begun()
    fields = fields_of(book, "basics") | {"event.venue": "Pier 4"}
    with client_of(book, "director") as client:
        assert send(client, "/director/event/basics", fields).status_code == 303
        late = send(client, "/director/event/basics", fields | {"event.venue": "Pier 5"})
        assert late.status_code == 409
        assert "Pier 5" in late.text
    assert book.state.event is not None
    assert book.state.event.venue == "Pier 4"


def test_a_division_with_teams_is_not_removed() -> None:
    book = begun()
    fields = fields_of(book, "divisions") | {"divisions.pairs.remove": "yes"}
    with client_of(book, "director") as client:
        answer = send(client, "/director/event/divisions", fields)
    assert answer.status_code == 422
    assert book.state.event is not None
    assert len(book.state.event.divisions) == 2


def test_expected_teams_leave_and_come_back() -> None:
    book = begun()
    with client_of(book, "director") as client:
        for fours, pairs in ((1, 0), (5, 2)):
            counts = {"expected-fours": str(fours), "expected-pairs": str(pairs)}
            assert send(client, "/director/event/expected", counts).status_code == 303
            here = [
                team.division
                for team in book.state.teams.values()
                if team.id not in book.state.team_status
            ]
            assert (here.count("fours"), here.count("pairs")) == (fours, pairs)
        wrong = send(client, "/director/event/expected", {"expected-fours": "many"})
        assert wrong.status_code == 422
    assert len(book.state.teams) == 8


def test_every_part_is_shown_and_an_unknown_one_is_not() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        for part in ("basics", "floors", "divisions", "rules", "wishes"):
            assert client.get(f"/director/event/{part}").status_code == 200
        assert client.get("/director/event/none").status_code == 404
    with client_of(book, "judge") as client:
        assert client.get("/director/event").status_code == 403


JUNK = ("", "-1", "a,,b", "25:99", "2027-10-31 01:30", "1e999", "日", "\x00", "x" * 3000, "1:2:3:4")


@given(typed=st.lists(st.tuples(st.integers(0, 500), st.sampled_from(JUNK)), max_size=6))
@settings(max_examples=40, deadline=None)
def test_whatever_is_typed_is_an_event_or_a_form_with_faults(
    typed: list[tuple[int, str]],
) -> None:
    event = whole_events()[-1]
    for part in parts_of(event, (), str):
        texts = dict(written_form(event, part).texts)
        new = [f"{rows.key}.new.{field.key}" for rows in part.rows for field in rows.fields]
        names = [*texts, *new]
        texts |= {names[number % len(names)]: text for number, text in typed}
        read = read_form(event, part, texts)
        assert not isinstance(read, SetupForm) or read.faults


def test_every_open_thing_leads_to_a_page_that_is_there() -> None:
    book = begun()
    with client_of(book, "director") as client:
        page = client.get("/director/open").text
        paths = set(re.findall(r'class="check-what"><a href="([^"]*)"', page))
        assert {"/director/event", "/director/entering", "/director/load"} <= paths
        assert {path: client.get(path).status_code for path in paths} == dict.fromkeys(paths, 200)
        first = client.get("/director").text
        assert "First things first" in first
