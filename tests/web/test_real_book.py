"""Pages over a real book on disk: the same ports, the real store and doors."""

import asyncio
from collections.abc import Iterator
from typing import Any

import httpx
import msgspec
import pytest

from callroom.bootstrap.books import open_book
from callroom.bootstrap.demonstration import make_demo_book
from callroom.bootstrap.open_book import OpenBook
from callroom.model import Result, ScoreReport
from tests.web.building import served

pytestmark = pytest.mark.store


@pytest.fixture
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenBook]:
    path = tmp_path_factory.mktemp("real") / "demo.book"
    make_demo_book(path)
    opened = open_book(path)
    yield opened
    opened.close()


def token_in(text: str) -> str:
    return text.split('name="form_token" value="')[1].split('"', maxsplit=1)[0]


def join(client: httpx.Client, book: OpenBook, role: Any) -> httpx.Response:
    code = book.doors.make_code(role, "")
    page = client.get(f"/join/{code}")
    data = {"form_token": token_in(page.text), "code": code, "label": "Sam"}
    return client.post("/join", data=data)


def a_report(book: OpenBook, time_ms: int) -> ScoreReport:
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    heat, part = next(
        (heat, part)
        for heat in plan.heats
        for part in event.workout(heat.workout).parts
        if part.kind == "time"
    )
    return ScoreReport(
        heat=heat.id,
        workout=heat.workout,
        part=part.id,
        team=heat.lanes[0].team,
        lane=heat.lanes[0].lane,
        source="pad",
        result=Result(outcome="finished", time_ms=time_ms),
    )


def test_from_a_code_to_a_score_to_its_history(book: OpenBook) -> None:
    with served(book) as url:
        phone, judge = (
            httpx.Client(base_url=url, headers={"accept": "text/html"}, follow_redirects=True)
            for _ in range(2)
        )
        with phone, judge:
            landed = join(phone, book, "judge")
            assert landed.url.path == "/pad"
            meta = landed.text.split('name="form-token" content="')[1].split('"')[0]
            report = a_report(book, 301_000)
            entry = {"kind": "score.reported", "data": msgspec.to_builtins(report)}
            sent = [
                phone.post(
                    "/entries",
                    json=entry,
                    headers={"idempotency-key": "k1", "x-form-token": meta},
                ).json()
                for _ in range(2)
            ]
            assert sent[0]["replayed"] is False
            assert sent[1] == {"seqs": sent[0]["seqs"], "replayed": True}

            assert join(judge, book, "head_judge").url.path == "/judge"
            address = f"/judge/score/{report.workout}/{report.part}/{report.team}/1"
            page = judge.get(address).text
            assert "Lane pad: 5:01" in page
            assert ">Sam<" in page
            data = {
                "form_token": token_in(page),
                "key": "k2",
                "do": "correct",
                "seen": "0",
                "reason": "the clock was stopped late",
                f"{report.part}.time": "4:58",
            }
            after = judge.post(address, data=data)
            assert "Corrected to 4:58" in after.text


def test_the_director_is_let_in_with_the_right_words_only(book: OpenBook) -> None:
    asyncio.run(book.doors.set_passphrase("seven green bottles"))
    with (
        served(book) as url,
        httpx.Client(
            base_url=url, headers={"accept": "text/html"}, follow_redirects=True
        ) as client,
    ):
        token = token_in(client.get("/sign-in").text)
        wrong = client.post("/sign-in", data={"form_token": token, "passphrase": "eight bottles"})
        assert wrong.status_code == 403
        right = client.post(
            "/sign-in", data={"form_token": token, "passphrase": "seven green bottles"}
        )
        assert right.url.path == "/director"
