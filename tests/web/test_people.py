"""Personal details: found, given out and erased by the director, where nobody reads along."""

from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.bootstrap.books import open_book
from callroom.bootstrap.clocks import SteppedClock
from callroom.journal import PEOPLE
from callroom.model.person import Person
from tests.bootstrap.day_books import START_MS, day_book
from tests.web.building import client_of, example_book, form_token

NETWORK = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}
KIM = Person(name="Kim <b>Sample</b>", email="kim@example.org", medical_note="asthma")


def known_book() -> Any:
    book = example_book()
    team = next(iter(book.state.teams.values()))
    book.beside["people"] = {
        team.athletes[0].person: KIM,
        "nobody": Person(name="Old Entry"),
    }
    return book


def test_everybody_is_listed_with_why_and_what() -> None:
    book = known_book()
    with client_of(book, "director") as client:
        page = client.get("/director/people").text
        found = client.get("/director/people?q=kim").text
        nobody = client.get("/director/people?q=zed").text
    assert "Kim &lt;b&gt;Sample&lt;/b&gt;" in page
    assert "e-mail, medical note" in page
    assert "nothing any more" in page
    assert "Kept until" in page
    assert "Old Entry" not in found
    assert "Nobody is known by that name." in nobody


def test_only_the_director_sees_it_and_only_where_nobody_reads_along() -> None:
    for role in ("desk", "first_aid", "head_judge"):
        with client_of(known_book(), role) as client:
            assert client.get("/director/people").status_code == 403
    with client_of(known_book(), "director", **NETWORK) as client:
        assert client.get("/director/people").status_code in {401, 403}


def test_without_a_day_it_says_that_the_director_erases() -> None:
    book = known_book()
    event = book.state.event
    rules = replace(event.rules, keep_people_days=None)
    book.state = replace(book.state, event=replace(event, rules=rules))
    with client_of(book, "director") as client:
        assert "Kept until you erase it" in client.get("/director/people").text


@pytest.mark.store
def test_one_is_taken_away_and_erased_then_everybody(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    day_book(path).close()
    with closing(open_book(path, clock=SteppedClock(START_MS))) as book:
        book.store.write(PEOPLE.put("p1", KIM), PEOPLE.put("p2", Person(name="Two"))).result()
        assert _signed_in(book)
        with client_of(book) as client:
            client.cookies.set("callroom-8000", _signed_in(book))
            token = _form_token(client)
            taken = client.get("/director/people/p1/file")
            assert taken.json()["person"]["email"] == "kim@example.org"
            unsure = client.post("/director/people/p1", data={"form_token": token})
            assert "Erase this person" in unsure.text
            assert "p1" in book.people()
            data = {"form_token": token, "sure": "on", "key": "k"}
            gone = client.post("/director/people/p1", data=data)
            assert "The person is erased." in gone.text
            assert client.get("/director/people/p1").status_code == 404
            everybody = client.post("/director/people", data={**data, "key": "all"})
            assert "The book knows nobody." in everybody.text
        assert book.people() == {}


def _signed_in(book: Any) -> str:
    import asyncio

    if not book.doors.has_passphrase():
        asyncio.run(book.doors.set_passphrase("seven wet ropes in a row"))
    token: str = asyncio.run(book.doors.sign_in("seven wet ropes in a row", "here"))
    return token


def _form_token(client: Any) -> str:
    page: str = client.get("/director/people/p1").text
    return page.split('name="form_token" value="')[1].split('"', maxsplit=1)[0]


def test_a_form_without_being_sure_changes_nothing() -> None:
    book = known_book()
    with client_of(book, "director") as client:
        data = {"form_token": form_token("director")}
        answer = client.post("/director/people", data=data)
    assert "Nothing was erased" in answer.text
