"""Teams that leave and come back."""

from typing import Any

import pytest

from tests.web.building import client_of, example_book, form_token


def send(client: Any, role: Any, **typed: str) -> Any:
    data = {"form_token": form_token(role), "key": typed.pop("key", "k1"), **typed}
    return client.post("/desk/teams", data=data, follow_redirects=False)


def test_the_desk_withdraws_a_team_and_the_head_judge_lets_it_back() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        assert send(client, "desk", do="withdraw", team="T01", reason="ill").status_code == 303
        page = client.get("/desk/teams").text
    assert book.state.team_status["T01"].status == "withdrawn"
    assert "withdrawn · ill" in page
    assert "Let the team back in" not in page
    with client_of(book, "head_judge") as client:
        assert "Let the team back in" in client.get("/desk/teams").text
        send(client, "head_judge", do="back", team="T01", reason="well again")
    assert "T01" not in book.state.team_status


@pytest.mark.parametrize("deed", ["disqualify", "back"])
def test_the_desk_makes_no_rulings(deed: str) -> None:
    book = example_book()
    with client_of(book, "head_judge") as client:
        send(client, "head_judge", do="disqualify", team="T02", reason="unsafe")
    before = book.state
    team = {"disqualify": "T01", "back": "T02"}[deed]
    with client_of(book, "desk") as client:
        assert send(client, "desk", do=deed, team=team, reason="x").status_code == 403
    assert book.state is before


@pytest.mark.parametrize(
    "typed", [{"do": "withdraw", "team": "none"}, {"do": "back", "team": "T01"}, {}]
)
def test_what_makes_no_sense_is_refused(typed: dict[str, str]) -> None:
    book = example_book()
    with client_of(book, "head_judge") as client:
        assert send(client, "head_judge", **typed).status_code in {409, 422}
    assert not book.entries
