"""A phone arrives from another address: known by its proof, its reports stored as they were made."""

from typing import Any

import msgspec
import pytest

from callroom.actions import day
from callroom.model import Result, ScoreReport
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token


def book_with_former_device() -> FakeBook:
    book = example_book()
    book.do(DIRECTOR, day.join_device("device-former", "judge"))
    return book


def post(client: Any, kind: str, data: Any, *, made_by: str, key: str = "k1") -> Any:
    headers = {
        "idempotency-key": key,
        "x-form-token": form_token("judge"),
        "x-made-by": made_by,
        "accept": "application/json",
    }
    return client.post("/entries", json={"kind": kind, "data": data}, headers=headers)


def score(work: int = 50) -> Any:
    report = ScoreReport(
        heat="w2-1", workout="w2", part="a", team="T13", lane=2, source="pad",
        result=Result(outcome="worked", work=work),
    )  # fmt: skip
    return msgspec.to_builtins(report)


def test_a_report_is_stored_once_whether_or_not_the_copy_had_it() -> None:
    book = book_with_former_device()
    former = msgspec.structs.replace(
        book.doors.holders["token-judge"], device="device-former", name="judge device-former"
    )
    book.doors.holders["token-former"] = former
    with client_of(book) as client:
        client.cookies.set("callroom-8000", "token-judge")
        answers = [
            post(client, "score.reported", score(), made_by="device-former") for _ in range(2)
        ]
    assert [answer.json()["replayed"] for answer in answers] == [False, True]
    (_, (entry, _)) = book.entries[0], book.entries[1]
    assert (entry.device, entry.actor) == ("device-former", "judge · Sam")


@pytest.mark.parametrize("made_by", ["", "judge-1", "never-seen"])
def test_of_nobody_the_book_knows_it_is_stored_as_the_sender(made_by: str) -> None:
    book = book_with_former_device()
    with client_of(book, "judge") as client:
        assert post(client, "score.reported", score(), made_by=made_by).status_code == 200
    assert book.entries[-1][0].device == "judge-1"


def test_a_decision_is_never_somebody_elses() -> None:
    book = book_with_former_device()
    with client_of(book) as client:
        client.cookies.set("callroom-8000", "token-crew")
        headers = {"idempotency-key": "k", "x-form-token": form_token("crew"),
                   "x-made-by": "device-former"}  # fmt: skip
        entry = {"kind": "heat.called", "data": {"heat": "w1-1"}}
        assert client.post("/entries", json=entry, headers=headers).status_code == 200
    assert book.entries[-1][0].device == "crew-1"


def test_arriving_gives_no_cookie_and_shows_nothing_private() -> None:
    with client_of(example_book()) as client:
        response = client.get("/carry")
    assert response.status_code == 200
    assert "set-cookie" not in response.headers
    assert 'data-carry="arrive"' in response.text


def test_a_proof_lets_the_phone_in_and_a_wrong_one_does_not() -> None:
    with client_of(example_book()) as client:
        page = client.get("/carry/in")
        token = page.text.split('data-form-token="')[1].split('"')[0]
        wrong = client.post("/carry/in", data={"form_token": token, "proof": "guess"})
        right = client.post(
            "/carry/in", data={"form_token": token, "proof": "proof-of-token-judge"}
        )
        assert (wrong.status_code, right.status_code) == (409, 200)
        assert client.get("/pad").status_code == 200


def test_a_pad_carries_who_it_is() -> None:
    book = example_book()
    assert book.state.plan is not None
    heat = book.state.plan.heat("w1-1")
    with client_of(book, "judge") as client:
        text = client.get(f"/pad/{heat.id}/{heat.lanes[0].lane}").text
    assert 'data-device="judge-1" data-proof="proof-of-token-judge"' in text
