"""The crew on its page: looked for, added, changed, taken off; names only in private."""

import html
import itertools
import re
from typing import Any

import msgspec
import pytest
from msgspec.structs import replace

from callroom.actions import helping
from callroom.model import Actor, BadInput, CrewMember, Refusal, milliseconds
from callroom.model.helping import Helping
from callroom.model.person import Person
from callroom.model.post import PostServer
from tests.views.building import example_event
from tests.web.building import DIRECTOR, client_of, example_book, form_token
from tests.web.test_rota import no_search, with_rota

__all__ = ["no_search"]

COUNTER = itertools.count()
FIELDS = ("form_token", "key")
SAM = {
    "do": "keep",
    "name": "Sam <3",
    "phone": "0170 9",
    "post-judge": "on",
    "post-kit": "on",
    "free_until": "12:30",
}


def send(client: Any, person: str, fields: dict[str, str]) -> Any:
    form = {"form_token": form_token("director"), "key": f"crew-{next(COUNTER)}-of-a-form"}
    path = f"/director/crew/{person}"
    return client.post(path, data=form | fields, follow_redirects=False)


def test_somebody_is_added_changed_and_taken_off() -> None:
    book = example_book()
    before = set(book.state.crew)
    with client_of(book, "director") as client:
        assert send(client, "new", SAM).status_code == 303
        (sam,) = set(book.state.crew) - before
        member = book.state.crew[sam]
        assert member.posts == ("judge", "kit")
        assert member.free_from_s is None
        assert book.people()[sam].phone == "0170 9"
        page = client.get("/director/crew?q=SAM").text
        assert "Sam &lt;3" in page
        assert "12:30" in page
        seen = {"seen": str(book.state.subjects[f"crew:{sam}"])}
        changed = SAM | seen | {"experienced": "on", "free_until": ""}
        assert send(client, sam, changed).status_code == 303
        assert book.state.crew[sam].experienced
        assert book.state.crew[sam].free_until_s is None
        stale = send(client, sam, changed)
        assert stale.status_code == 422
        assert send(client, sam, {"do": "left"}).status_code == 303
        assert set(book.state.crew) == before


def test_what_is_wrong_stands_beside_its_field() -> None:
    book = example_book()
    before = dict(book.state.crew)
    with client_of(book, "director") as client:
        answer = send(
            client, "new", {"do": "keep", "free_from": "14:00", "free_until": "late", "email": "x"}
        )
        assert answer.status_code == 422
        page = html.unescape(answer.text)
        for said in ("Give a name", "“late” is no time", "“x” is no e-mail", "Tick at least one"):
            assert said in page
        answer = send(client, "new", SAM | {"free_from": "14:00"})
        assert "This ends before it begins." in answer.text
    assert dict(book.state.crew) == before


def test_who_holds_shifts_gives_them_first_and_who_has_none_is_found() -> None:
    book = with_rota()
    rota = book.state.rota
    assert rota is not None
    holder = next(one for one in book.state.crew if rota.shifts_of(one))
    with client_of(book, "director") as client:
        page = client.get(f"/director/crew/{holder}").text
        assert f"/director/rota/ill?person={holder}" in page
        assert 'value="left"' not in page
        assert send(client, holder, {"do": "left"}).status_code == 409
        assert send(client, "nobody", {"do": "left"}).status_code == 409
        assert holder in book.state.crew
        idle = client.get("/director/crew?show=free").text
        assert f"/director/crew/{holder}" not in idle


def test_names_are_shown_where_nobody_reads_along_only() -> None:
    far: dict[str, Any] = {"peer": "192.168.1.77", "base_url": "http://192.168.1.20:8000"}
    with client_of(example_book(), "director", **far) as client:
        assert client.get("/director/crew").status_code == 403
    with client_of(example_book(), "desk") as client:
        assert client.get("/director/crew").status_code == 403


def test_somebody_offers_to_help_and_is_taken_on() -> None:
    book = example_book()
    before = set(book.state.crew)
    book.set_now(milliseconds(example_event().starts_at) - 86_400_000)
    with client_of(book) as client:
        assert "Nobody can sign up here" in client.get("/help-out").text
    book.do(DIRECTOR, helping.set_helping(Helping(open=True)))
    with client_of(book) as client:
        assert "/help-out" in client.get("/").text
        page = client.get("/help-out").text
        asked = {name: re.search(rf'name="{name}" value="([^"]*)"', page) for name in FIELDS}
        hidden = {name: one[1] for name, one in asked.items() if one is not None}
        bare = client.post("/help-out", data=hidden)
        assert bare.status_code == 422
        for said in ("Give a name", "Without your yes", "Tick at least one", "Give an e-mail"):
            assert said in html.unescape(bare.text)
        offer = hidden | SAM | {"agree": "on", "ask_again": "on"}
        trapped = client.post("/help-out", data=offer | {"website": "spam"})
        assert trapped.status_code == 422
        for _ in range(2):  # sent twice, it is one offer
            assert "Thank you!" in client.post("/help-out", data=offer).text
    (sam,) = book.state.offers
    assert set(book.state.crew) == before
    assert b"Sam" not in msgspec.json.encode(book.state.offers)
    with client_of(book, "director") as client:
        page = client.get("/director/crew").text
        assert "Sam &lt;3" in page
        answer(client, do="accept", person=sam)
        assert book.state.crew[sam].posts == ("judge", "kit")
        assert book.people()[sam].ask_again
        assert not book.state.offers
        assert answer(client, do="accept", person=sam).status_code == 409
        answer(client, do="close")
    assert not book.state.helping.open


def test_who_is_declined_is_let_go_of() -> None:
    book = example_book()
    book.set_now(milliseconds(example_event().starts_at) - 86_400_000)
    book.do(DIRECTOR, helping.set_helping(Helping(open=True)))
    form = Actor(role="public", device="form", name="form")
    book.do(form, helping.offer_help(CrewMember(person="E1", posts=("kit",))))
    never = CrewMember(person="E2", posts=("kit",), free_from_s=9, free_until_s=8)
    with pytest.raises(BadInput):
        book.do(form, helping.offer_help(never))
    book.beside["people"] = {"E1": Person(name="Kim Sample")}
    with client_of(book, "director") as client:
        answer(client, do="decline", person="E1")
    assert not book.state.offers
    assert "E1" not in book.people()
    assert "E1" not in book.state.crew
    book.set_now(milliseconds(example_event().starts_at))
    with pytest.raises(Refusal):
        book.do(form, helping.offer_help(CrewMember(person="E3", posts=("kit",))))


def answer(client: Any, **fields: str) -> Any:
    hidden = {"form_token": form_token("director"), "key": f"answer-{next(COUNTER)}"}
    return client.post("/director/crew", data=hidden | fields, follow_redirects=False)


def test_each_is_thanked_for_what_they_did_and_only_once() -> None:
    book = with_rota()
    known = book.beside["people"]
    book.beside["people"] = known | {"P2": replace(known["P2"], email="two@example.org")}
    with client_of(book, "director") as client:
        page = html.unescape(client.get("/director/crew/thanks?person=P2&words=See you.").text)
        assert "Thank you for helping at Harbour Hall Team Day" in page
        assert "This is what you did:" in page
        assert "judge, Main floor, lane" in page
        assert "See you." in page
        hidden = {"form_token": form_token("director"), "key": "thanks", "to-P2": "on"}
        refused = client.post("/director/crew/thanks", data=hidden)
        assert refused.status_code == 422
        assert "mail server" in refused.text
        book.post.set_server(PostServer(host="127.0.0.1", port=9, sender="us@example.org"))
        for _ in range(2):
            assert client.post("/director/crew/thanks", data=hidden).status_code == 200
        (letter,) = book.post.letters()
        assert (letter.kind, letter.to) == ("thanks", "two@example.org")
        assert "has it already" in client.get("/director/crew/thanks").text
