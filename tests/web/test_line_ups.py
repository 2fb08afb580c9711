"""Line-ups on pages: who may change them, what is refused in words, and that nobody is named."""

import json
from typing import Any

from msgspec.structs import replace

from callroom.actions import day
from callroom.journal.entries import bodies
from callroom.model import Athlete, Role, milliseconds
from callroom.model.person import Person
from callroom.views.cards import card
from callroom.views.codes import CardRef
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token

NAME = "Invented Ingrid"


def book_with_reserve() -> FakeBook:
    """The example event, a reserve in the squad of T13, its first heat still an hour away."""
    book = example_book()
    event = book.state.event
    assert event is not None
    divisions = tuple(replace(one, reserves=1) for one in event.divisions)
    book.do(DIRECTOR, day_of(replace(event, divisions=divisions)))
    team = book.state.teams["T13"]
    reserve = Athlete(place="C", category="women", person="extra", reserve=True)
    book.do(DIRECTOR, entered(replace(team, athletes=(*team.athletes, reserve))))
    book.people = lambda: {"extra": Person(name=NAME)}  # type: ignore[method-assign]
    book.set_now(milliseconds(event.instant(0)) - 3_600_000)
    return book


def day_of(event: Any) -> Any:
    from callroom.actions.request import propose

    return propose(bodies.EventSet(event=event))


def entered(team: Any) -> Any:
    from callroom.actions.request import propose

    return propose(bodies.TeamSet(team=team))


def send(book: FakeBook, role: Role, **fields: str) -> Any:
    seq = book.state.subjects.get("line_ups:T13", 0)
    form = {
        "form_token": form_token(role),
        "do": "change",
        "basis": json.dumps({"line_ups:T13": seq}),
        "workout": "w1",
        "later": "on",
        "place_A": "extra",
        "place_B": book.state.teams["T13"].athletes[1].person,
    }
    with client_of(book, role) as client:
        return client.post("/line-ups/T13", data=form | fields, follow_redirects=False)


def test_a_reserve_comes_in_and_everybody_sees_the_place_and_no_name() -> None:
    book = book_with_reserve()
    assert send(book, "desk").status_code == 303
    plan = book.state.plan
    assert plan is not None
    heat = plan.heat_of("w1", "T13")
    assert heat is not None
    with client_of(book, "desk") as client:
        page = client.get("/line-ups/T13").text
        assert NAME in page
        assert "one substitution so far" in page
    book.do(DIRECTOR, day.call_heat(heat.id))
    with client_of(book) as client:
        for path in ("/board", "/team/T13"):
            text = client.get(path).text
            assert "C in at A" in text, path
            assert NAME not in text
            assert "extra" not in text
    (made,) = card(book.state, CardRef(workout="w1", team="T13")).cards
    assert [(one.place, one.entered) for one in made.line_up] == [("A", "C"), ("B", "")]
    (later,) = card(book.state, CardRef(workout="w5", team="T13")).cards
    assert later.line_up == made.line_up


def test_names_stay_at_the_machine() -> None:
    far = {"peer": "192.168.1.77", "base_url": "http://192.168.1.20:8000"}
    book = book_with_reserve()
    with client_of(book, "desk", **far) as client:
        assert NAME not in client.get("/line-ups/T13").text
    with client_of(book, "crew") as client:
        assert NAME not in client.get("/line-ups/T13").text


def test_what_the_rules_refuse_is_said_and_the_head_judge_allows_it() -> None:
    book = book_with_reserve()
    event = book.state.event
    assert event is not None
    book.set_now(milliseconds(event.instant(3600)))
    refused = send(book, "desk")
    assert refused.status_code == 422
    assert "Only the head judge can" in refused.text
    assert not book.state.line_ups
    assert send(book, "desk", allowed="on", reason="late train").status_code == 403
    assert send(book, "head_judge", allowed="on", reason="late train").status_code == 303
    with client_of(book, "crew") as client:
        assert "Allowed by the head judge: late train" in client.get("/line-ups/T13").text


def test_a_change_of_something_seen_before_somebody_elses_is_stale() -> None:
    book = book_with_reserve()
    send(book, "desk")
    answer = send(book, "desk", basis=json.dumps({"line_ups:T13": 0}))
    assert answer.status_code == 409
    assert send(book, "desk", basis="{").status_code == 400


def test_who_stands_down_is_told_to_the_floor_and_cleared_by_the_head_judge() -> None:
    book = book_with_reserve()
    own = book.state.teams["T13"].athletes[0].person
    assert send(book, "crew", do="stand_down", person=own).status_code == 303
    with client_of(book, "crew") as client:
        assert "first aid has not cleared" in client.get("/board").text
    with client_of(book) as client:
        assert "first aid has not cleared" not in client.get("/board").text
    assert send(book, "crew", do="clear", person=own).status_code == 403
    assert send(book, "head_judge", do="clear", person=own).status_code == 303
    assert not book.state.stood_down


def test_judges_and_the_public_have_no_business_there() -> None:
    book = book_with_reserve()
    for role, status in ((None, 401), ("judge", 403)):
        with client_of(book, role) as client:  # type: ignore[arg-type]
            assert client.get("/line-ups").status_code == status
            assert client.get("/line-ups/T13").status_code == status
    with client_of(book, "crew") as client:
        assert client.get("/line-ups").status_code == 200
        assert client.get("/line-ups/T99").status_code == 404


def test_the_pad_says_a_changed_line_up_also_when_it_was_open_before() -> None:
    book = book_with_reserve()
    plan = book.state.plan
    assert plan is not None
    heat = plan.heat_of("w1", "T13")
    assert heat is not None
    path = f"/pad/{heat.id}/{heat.lane_of('T13')}"
    with client_of(book, "judge") as client:
        assert client.get(f"{path}/now").json()["line_up"] == []
        send(book, "desk")
        said = ["A women (C)", "B women"]
        assert client.get(f"{path}/now").json()["line_up"] == said
        assert "A women (C)" in client.get(path).text
        assert "extra" not in client.get(path).text
