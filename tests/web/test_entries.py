"""``POST /entries``: what pads and scripts send."""

from typing import Any

import msgspec
import pytest

from callroom.actions import day
from callroom.model import ScoreReport
from callroom.web.throttle import Throttle
from tests.web.building import (
    DIRECTOR,
    FakeBook,
    client_of,
    example_book,
    form_token,
    result_for,
)

BEARER = {"authorization": "Bearer token-judge", "accept": "application/json"}


def report(book: FakeBook, heat_id: str = "w1-1", **changes: Any) -> dict[str, Any]:
    assert book.state.plan is not None
    place = book.state.plan.heat(heat_id).lanes[0]
    said = ScoreReport(
        heat=heat_id,
        workout="w1",
        part="a",
        team=place.team,
        lane=place.lane,
        source="pad",
        result=result_for("time", 1),
    )
    data: dict[str, Any] = msgspec.to_builtins(said)
    return {"kind": "score.reported", "data": data | changes, "seen_at_ms": 1}


def post(client: Any, entry: object, key: str = "k1", **headers: str) -> Any:
    return client.post(
        "/entries", json=entry, headers={**BEARER, "idempotency-key": key, **headers}
    )


def test_a_report_is_stored_once_and_answered_the_same_twice() -> None:
    book = example_book()
    with client_of(book) as client:
        first, again = post(client, report(book)), post(client, report(book))
    assert first.json() == {"seqs": [book.state.seq], "replayed": False}
    assert again.json() == {"seqs": [book.state.seq], "replayed": True}
    assert len(book.entries) == 1


def test_the_same_key_with_other_content_is_a_conflict() -> None:
    book = example_book()
    with client_of(book) as client:
        post(client, report(book))
        other = post(client, report(book, lane=3))
    assert (other.status_code, other.json()["rule"]) == (409, "journal.key_conflict")


def test_a_device_that_lost_its_role_may_still_report_and_nothing_else() -> None:
    book = example_book()
    book.do(DIRECTOR, day.join_device("judge-1", "judge"))
    book.do(DIRECTOR, day.revoke_device("judge-1"))
    with client_of(book) as client:
        sent = post(client, report(book))
        call = post(client, {"kind": "heat.called", "data": {"heat": "w1-1"}}, key="k2")
    assert sent.status_code == 200
    assert [kept.unplaced for kept in book.state.unplaced.values()] == ["device_revoked"]
    assert call.status_code == 403


@pytest.mark.parametrize(
    ("entry", "status", "rule"),
    [
        ({"kind": "no.such", "data": {}}, 422, "input.faulty"),
        ({"kind": "score.reported", "data": {"heat": "w1-1"}}, 422, "input.faulty"),
        ({"kind": "heat.called", "data": {"heat": "w1-1", "more": 1}}, 422, "input.faulty"),
        ({"data": {}}, 422, "input.faulty"),
        ([], 422, "input.faulty"),
        ({"kind": "heat.called", "data": {"heat": "w1-1"}}, 403, "role.not_allowed"),
        ({"kind": "heat.confirmed", "data": {"heat": "w1-1"}}, 403, "role.not_allowed"),
    ],
)
def test_refusals_have_one_shape(entry: object, status: int, rule: str) -> None:
    with client_of(example_book()) as client:
        response = post(client, entry)
    assert (response.status_code, response.json()["rule"]) == (status, rule)
    assert set(response.json()) == {"rule", "facts", "sentence", "findings"}
    assert response.json()["sentence"]
    for finding in response.json()["findings"]:
        assert set(finding) == {"rule", "severity", "subject", "facts", "source", "sentence"}


def test_text_that_is_no_json_is_refused_in_the_same_shape() -> None:
    with client_of(example_book()) as client:
        response = client.post(
            "/entries", content=b"\xff{", headers={**BEARER, "idempotency-key": "k"}
        )
    assert response.status_code == 422
    assert set(response.json()) == {"rule", "facts", "sentence", "findings"}


@pytest.mark.parametrize("key", ["", "k" * 201])
def test_a_key_is_needed(key: str) -> None:
    book = example_book()
    with client_of(book) as client:
        response = post(client, report(book), key=key)
    assert (response.status_code, response.json()["rule"]) == (422, "web.no_key")


def test_strangers_are_not_heard() -> None:
    book = example_book()
    with client_of(book) as client:
        response = post(client, report(book), authorization="Bearer nobody")
    assert (response.status_code, response.json()["rule"]) == (401, "web.not_signed_in")


def test_a_director_is_not_heard_over_a_network_others_can_read() -> None:
    book = example_book()
    call = {"kind": "heat.called", "data": {"heat": "w1-1"}}
    with client_of(book, peer="192.168.1.77", base_url="http://192.168.1.20:8000") as client:
        far = post(client, call, authorization="Bearer token-director")
        crew = post(client, call, authorization="Bearer token-crew")
    assert (far.status_code, crew.status_code) == (401, 200)


def test_stale_decisions_are_refused_with_what_moved() -> None:
    book = example_book()
    book.do(DIRECTOR, day.call_heat("w1-1"))
    entry = {"kind": "heat.started", "data": {"heat": "w1-1", "at_ms": 0}, "basis": {"plan": 99}}
    with client_of(book) as client:
        response = post(client, entry, authorization="Bearer token-crew")
    assert (response.status_code, response.json()["facts"]["subject"]) == (409, "plan")


def test_a_flood_from_one_device_is_slowed_and_others_are_not() -> None:
    book = example_book()
    with client_of(book) as client:
        client.house.posts = Throttle(burst=3, per_s=0.5, tell_s=lambda: 0.0)
        answers = [post(client, report(book)) for _ in range(4)]
        other = post(client, report(book), authorization="Bearer token-desk")
    assert [answer.status_code for answer in answers] == [200, 200, 200, 429]
    assert answers[3].headers["retry-after"] == "2"
    assert other.status_code == 200


def test_the_time_and_health_are_told() -> None:
    book = example_book()
    with client_of(book) as client:
        assert client.get("/time").json() == {"now_ms": book.now_ms(), "speed": 1}
        health = client.get("/health").json()
    assert health == {"status": "ok", "seq": book.state.seq, "rehearsal": False}


def test_a_form_post_needs_the_browsers_own_token_not_a_devices() -> None:
    with client_of(example_book(), "crew") as client:
        wrong = client.post("/board", data={"form_token": form_token("desk"), "do": "call|w1-1||0"})
    assert wrong.status_code == 403
