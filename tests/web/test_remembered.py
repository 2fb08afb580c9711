"""Public pages are made once for everybody, and never for the wrong one."""

import re

from callroom.actions import day
from tests.web.building import DIRECTOR, client_of, played_book


def test_a_spectators_page_is_made_once_for_each_state() -> None:
    book = played_book()
    with client_of(book) as client:
        first = client.get("/standings")
        assert client.get("/standings").content == first.content
        assert "set-cookie" not in first.headers
        assert first.headers["content-security-policy"]
        team = next(iter(book.state.teams))
        book.do(DIRECTOR, day.withdraw_team(team, "ill"))
        assert client.get("/standings").content != first.content


def test_time_alone_is_seen_when_the_books_next_second_begins() -> None:
    book = played_book()
    book.set_now(1_000_000)
    with client_of(book) as client:
        first = client.get("/")
        book.set_now(1_000_999)
        assert client.get("/").content == first.content
        book.set_now(1_001_000)
        again = client.get("/")
    tokens = [re.search(r'form-token" content="([^"]+)"', page.text) for page in (first, again)]
    assert tokens[0] is not None
    assert tokens[1] is not None
    assert tokens[0][1] != tokens[1][1]


def test_whoever_has_a_role_is_answered_for_themselves() -> None:
    book = played_book()
    with client_of(book) as spectator, client_of(book, "desk") as desk:
        assert "/desk" not in spectator.get("/standings").text
        assert 'href="/desk"' in desk.get("/standings").text
        assert 'href="/desk"' not in spectator.get("/standings").text
    with client_of(book, "desk") as desk:
        token = desk.cookies["callroom-8000"]
        desk.cookies.clear()
        shown = desk.get("/standings", headers={"authorization": f"Bearer {token}"}).text
        assert 'href="/desk"' in shown


def test_what_a_peer_at_the_machine_sees_is_not_shown_to_the_hall() -> None:
    book = played_book()
    with client_of(book) as here, client_of(book, peer="192.168.1.7") as there:
        pages = [client.get("/standings").text for client in (here, there)]
        assert pages == [client.get("/standings").text for client in (here, there)]


def test_a_page_that_is_not_there_is_not_remembered() -> None:
    with client_of(played_book()) as client:
        assert client.get("/team/nobody").status_code == 404
        assert client.get("/standings/nothing").status_code == 404
        assert client.get("/standings?x=1").status_code == 200
