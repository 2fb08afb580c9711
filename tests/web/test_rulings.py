"""Rulings on pages and pads: made once, read by all, acknowledged by each device."""

import io
from typing import Any

import msgspec
from pypdf import PdfReader

from callroom.actions import day
from tests.views.building import example_event
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token


def ruled(**typed: str) -> FakeBook:
    book = example_book()
    given = {"do": "make", "question": "May we swap sides?", "answer": "At any time.", **typed}
    with client_of(book, "head_judge") as client:
        answer = send(client, **given)
    assert answer.status_code == 303
    return book


def send(client: Any, role: Any = "head_judge", **typed: str) -> Any:
    data = {"form_token": form_token(role), "key": "k", **typed}
    return client.post("/judge/rulings", data=data, follow_redirects=False)


def told(book: FakeBook) -> list[dict[str, Any]]:
    """The rulings that the pad of a judge's phone is told."""
    with client_of(book, "judge") as client:
        return list(client.get("/pad/w1-1/2/now").json()["rulings"])


def test_a_ruling_reaches_every_pad_until_it_is_acknowledged() -> None:
    book = ruled(workout="w1")
    (ruling,) = told(book)
    assert (ruling["number"], ruling["answer"]) == (1, "At any time.")
    assert book.state.event is not None
    assert ruling["about"] == book.state.event.workout("w1").name
    read = {"number": 1, "seen_seq": ruling["seq"]}
    with client_of(book, "judge") as client:
        answer = client.post(
            "/entries",
            json={"kind": "ruling.acknowledged", "data": read},
            headers={"idempotency-key": "a", "x-form-token": form_token("judge")},
        )
    assert answer.status_code == 200
    assert told(book) == []


def test_the_head_judge_sees_which_devices_have_yet_to_read_it() -> None:
    book = ruled()
    book.do(DIRECTOR, day.join_device("phone-7", "judge"))
    with client_of(book, "head_judge") as client:
        page = client.get("/judge/rulings").text
    assert "Not yet read, before" in page
    assert "label of phone-7" in page


def test_a_withdrawn_ruling_says_why_on_pad_and_page() -> None:
    book = ruled()
    (ruling,) = told(book)
    book.do(book.doors.holders["token-judge"], day.acknowledge_ruling(1, ruling["seq"]))
    with client_of(book, "head_judge") as client:
        send(client, key="w", do="withdraw", number="1", reason="asked about another lane")
    assert [(one["withdrawn"], one["answer"]) for one in told(book)] == [
        (True, "asked about another lane")
    ]
    with client_of(book) as client:
        assert "Withdrawn: asked about another lane" in client.get("/rulings").text


def test_the_public_reads_a_ruling_once_its_workout_is_released() -> None:
    event = example_event()
    hidden = msgspec.structs.replace(event.workouts[0], release_s=3600)
    event = msgspec.structs.replace(event, workouts=(hidden, *event.workouts[1:]))
    book = example_book(event=event)
    book.do(DIRECTOR, day.make_ruling("Which box?", "The low one.", workout=hidden.id))
    assert book.state.event is not None
    team = book.state.plan.heats[0].teams[0] if book.state.plan else ""
    with client_of(book) as client:
        for now_ms, seen in ((3599_000, False), (3600_000, True)):
            book.set_now(int(event.starts_at.timestamp() * 1000) + now_ms)
            for path in ("/rulings", f"/team/{team}"):
                assert ("The low one." in client.get(path).text) == seen, path


def test_the_addendum_is_for_the_head_judge() -> None:
    book = ruled()
    with client_of(book, "desk") as client:
        assert client.get("/judge/rulings/addendum.pdf").status_code == 403


def test_the_addendum_names_revision_time_and_every_ruling() -> None:
    book = ruled(workout="w1")
    with client_of(book, "head_judge") as client:
        answer = client.get("/judge/rulings/addendum.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages)
    for words in ("Ruling 1", "At any time.", "Revision 3", "As of"):
        assert words in text
