"""Letters from the pages: seen, sent to whom they should go, copied out, and shown in the outbox."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import entering
from callroom.model.person import Person
from tests.actions.test_entering import FORM, open_book, pair
from tests.bootstrap.test_post_office import Box, mail_server, server_at
from tests.web.building import FakeBook, client_of
from tests.web.test_entering import asked_of, send

KIM = Person(name="Kim Sample", email="kim@example.org", emergency_contact="Lou")
ADA = replace(KIM, name="Ada Other", email="ada@example.org")


@pytest.fixture
def box() -> Iterator[tuple[Box, int]]:
    """A mail server, and the port it listens on."""
    made = Box()
    with mail_server(made) as port:
        yield made, port


def book_of_two(**settings: Any) -> FakeBook:
    """Two teams entered; both captains can be written to, and nothing is open about the first."""
    book = open_book(**settings)
    for number in (21, 22):
        book.do(FORM, entering.enrol(book.state, pair(number, captain=f"E{number}-A")))
    book.beside["people"] = {
        "E21-A": KIM,
        "E21-B": replace(KIM, name="Lou Sample"),
        "E22-A": ADA,
    }
    assert book.state.event is not None
    at = replace(book.state.event, address="https://gala.example")
    book.state = replace(book.state, event=at)
    return book


def body_of(box: Box, number: int = 0) -> str:
    import email
    import email.policy

    raw = bytes(box.taken[number].original_content or b"")
    read = email.message_from_bytes(raw, policy=email.policy.default)
    return str(read.get_content())


def test_a_reminder_goes_once_to_those_with_something_open(box: tuple[Box, int]) -> None:
    book = book_of_two()
    book.post.set_server(server_at(box[1]))
    with client_of(book, "director") as client:
        page = client.get("/director/letters?kind=reminder&words=Bring+cake.").text
        assert "ada@example.org" in page
        assert "kim@example.org" not in page
        assert "Bring cake." in page
        data = {**asked_of(page[page.index('id="whom-list"') :]), "kind": "reminder",
                "whom": "open", "words": "Bring cake.", "to-T22": "on"}  # fmt: skip
        for _ in range(2):
            client.post("/director/letters", data={**data, "do": "send"})
        done = client.post("/director/letters", data={**data, "key": "go", "do": "go"})
        assert "has it already" in done.text
        assert ">sent" in re.sub(r"\s+", "", done.text)
    assert [one.rcpt_tos for one in box[0].taken] == [["ada@example.org"]]
    body = body_of(box[0])
    assert "Bring cake." in body
    found = re.search(r"https://gala\.example/enter/team/([\w-]+)", body)
    assert found is not None
    assert book.links.team_of(found[1]) == "T22"


def test_a_team_that_enters_gets_its_confirmation_once(box: tuple[Box, int]) -> None:
    book = book_of_two()
    book.post.set_server(server_at(box[1]))
    with client_of(book, base_url="https://gala.example") as client:
        answer = send(client)
        again = send(client)
        link = str(answer.url).split("?")[0]
    book.post.send_waiting()
    assert again.status_code == 200
    sent = [one for one in box[0].taken if one.rcpt_tos == ["kim@example.org"]]
    assert len(sent) == len(book.state.enrolments) - 2
    assert link in body_of(box[0])
    assert "Late Risers is in" in bytes(box[0].taken[0].original_content or b"").decode()


def test_a_team_that_waited_is_written_to_when_it_is_accepted(box: tuple[Box, int]) -> None:
    book = book_of_two(accept_each=True)
    book.post.set_server(server_at(box[1]))
    with client_of(book, "director") as client:
        data = asked_of(client.get("/director/teams/T21").text)
        for _ in range(2):
            client.post("/director/teams/T21", data={**data, "do": "accept"})
    book.post.send_waiting()
    assert [one.rcpt_tos for one in box[0].taken] == [["kim@example.org"]]
    assert "Late 21 is in: Pairs" in body_of(box[0])
    assert "https://gala.example/enter/team/" in body_of(box[0])


def test_without_a_server_letters_are_copied_out_with_the_teams_link() -> None:
    book = book_of_two()
    with client_of(book, "director") as client:
        page = client.get("/director/letters?kind=confirmation&whom=pairs&team=T21").text
        assert "No mail server is set" in page
        assert "ada@example.org" in page[page.index('id="addresses"') :]
        assert "Send it to those ticked" not in page
        data = {**asked_of(page[page.index('id="letter"') :]), "kind": "confirmation",
                "whom": "pairs", "team": "T21", "do": "copy"}  # fmt: skip
        copied = client.post("/director/letters", data=data).text
    assert "https://gala.example/enter/team/" in copied
    assert 'href="mailto:kim%40example.org?subject=Late%2021' in copied


def test_the_letter_about_the_day_waits_for_a_plan_and_for_who_is_in() -> None:
    book = book_of_two(limit=5)
    book.state = replace(book.state, plan=None)
    with client_of(book, "director") as client:
        page = client.get("/director/letters?kind=day&whom=waiting").text
        assert "Nobody." in page
        refused = client.get("/director/letters?kind=day&whom=pairs")
    assert refused.status_code == 422
    assert '<textarea id="letter-text"' not in refused.text


def test_the_server_is_kept_with_its_password_unseen_and_tried_with_a_letter_to_oneself(
    box: tuple[Box, int],
) -> None:
    book = book_of_two()
    fields = {"host": "127.0.0.1", "port": str(box[1]), "security": "none",
              "sender": "gala@example.org", "password": "whale <1>", "confirms": "on"}  # fmt: skip
    with client_of(book, "director") as client:
        data = {**asked_of(client.get("/director/letters/server").text), **fields}
        wrong = client.post("/director/letters/server", data={**data, "port": "x", "sender": "me"})
        assert 'id="port-fault"' in wrong.text
        assert 'id="sender-fault"' in wrong.text
        tested = client.post("/director/letters/server", data={**data, "do": "test"})
        assert "The server took the test letter." in tested.text
        assert "whale" not in tested.text
        client.post("/director/letters/server", data={**data, "password": "", "do": "save"})
        kept = book.post.server
        assert kept is not None
        assert kept.password == "whale <1>"
        client.post("/director/letters/server", data={**data, "port": "1", "do": "test"})
        assert len(book.post.letters()) == 1
        client.post("/director/letters/server", data={**data, "do": "forget"})
    assert box[0].taken[0].rcpt_tos == ["gala@example.org"]
    assert book.post.server is None
    assert b"whale" not in b"".join(entry.data for entry, _ in book.entries)


def test_what_was_refused_is_shown_with_the_mend_and_let_go(box: tuple[Box, int]) -> None:
    box[0].refuse = {"ada@example.org": "550 nobody <b>here</b>"}
    book = book_of_two()
    book.post.set_server(server_at(box[1]))
    with client_of(book, "director") as client:
        page = client.get("/director/letters").text
        data = {**asked_of(page), "kind": "reminder", "whom": "open", "to-T22": "on"}
        client.post("/director/letters", data={**data, "do": "send"})
        shown = client.post("/director/letters", data={**data, "key": "2", "do": "go"}).text
        assert "550 nobody &lt;b&gt;here&lt;/b&gt;" in shown
        assert "Put the address right" in shown
        (letter,) = book.post.letters()
        client.post("/director/letters", data={**data, "letter": letter.id, "do": "drop"})
    assert book.post.letters() == ()
