"""Two people type each card: equal typings count, different ones are settled with the card."""

from typing import Any

from callroom.actions import day
from tests.web.building import (
    DIRECTOR,
    FakeBook,
    client_of,
    example_book,
    form_token,
    played_book,
)
from tests.web.test_desk import CARD, save


def twice() -> FakeBook:
    """The example book in which two people type each card."""
    book = example_book()
    book.do(DIRECTOR, day.set_desk(double_entry=True))
    book.entries.clear()
    return book


def type_as(book: FakeBook, role: Any, path: str = CARD, **typed: str) -> Any:
    """Type a card on the device of a role; `desk` and `head_judge` stand for two people."""
    with client_of(book, role) as client:
        data = {"form_token": form_token(role), "key": f"{role}-1"} | typed
        return client.post(path, data=data, follow_redirects=False)


def test_one_typing_counts_for_nothing_and_leads_on() -> None:
    book = twice()
    answer = type_as(book, "desk", **{"a.time": "732"})
    assert answer.headers["location"].startswith("/desk/card/w1/T14/1?saved=once-T13")
    assert book.entries == []
    with client_of(book, "desk") as client:
        assert "Typed once: Two Left Feet." in client.get(answer.headers["location"]).text
        desk = client.get("/desk").text
    assert "Typed once, for a second person to type" in desk
    assert "typed here" in desk
    # Typing it again on the same device is a change of mind, not a second person.
    assert type_as(book, "desk", **{"a.time": "733"}).status_code == 303
    assert book.entries == []


def test_two_equal_typings_become_one_report() -> None:
    book = twice()
    type_as(book, "desk", **{"a.time": "732"})
    assert type_as(book, "head_judge", **{"a.time": "7:32"}).status_code == 303
    (report,) = book.state.sheets["w1/a/T13/1"].reports
    assert report.report.result.time_ms == 452_000
    assert book.kept == {}


def test_a_difference_is_shown_and_settled_by_the_second_person() -> None:
    book = twice()
    type_as(book, "desk", **{"a.time": "732"})
    asked = type_as(book, "head_judge", **{"a.time": "723"})
    assert (asked.status_code, book.entries) == (200, [])
    assert "the first person typed something else" in asked.text
    mark = asked.text.split('name="asked" value="')[1].split('"', maxsplit=1)[0]
    assert type_as(book, "head_judge", **{"a.time": "723", "asked": mark}).status_code == 303
    (report,) = book.state.sheets["w1/a/T13/1"].reports
    assert report.report.result.time_ms == 443_000
    assert book.kept == {}


def test_the_first_person_is_led_past_what_waits_for_the_second() -> None:
    book = twice()
    where = ""
    for team in ("T13", "T14", "T15", "T16"):
        where = type_as(book, "desk", f"/desk/card/w1/{team}/1", **{"a.time": "800"}).headers[
            "location"
        ]
    assert where.startswith("/desk/heat/w1-1")
    assert len(book.kept) == 4


def test_the_head_judge_sets_it_and_the_desk_does_not() -> None:
    book = played_book(1, confirm=0)
    with client_of(book, "head_judge") as client:
        typed = {"form_token": form_token("head_judge"), "key": "k", "double_entry": "yes"}
        assert client.post("/desk", data=typed, follow_redirects=False).status_code == 303
        assert book.state.double_entry
        assert "Two people type each card" in client.get("/desk").text
    with client_of(book, "desk") as client:
        typed = {"form_token": form_token("desk"), "key": "k", "double_entry": ""}
        assert client.post("/desk", data=typed).status_code == 403
        assert "One person is enough" not in client.get("/desk").text
    assert book.state.double_entry


def test_without_double_entry_a_card_counts_at_once() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        assert save(client, **{"a.time": "732"}).status_code == 303
    assert book.kept == {}
    assert len(book.state.sheets["w1/a/T13/1"].reports) == 1
