"""The live stream over a real connection: resume, beats, and a server that can stop."""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import httpx
import pytest

from callroom.actions import day
from callroom.web import hub
from tests.web.building import DIRECTOR, client_of, example_book, played_book, served


@contextmanager
def stream_of(url: str, path: str, **headers: str) -> Iterator[Iterator[str]]:
    with httpx.stream("GET", url + path, headers=headers, timeout=20) as response:
        assert response.status_code == 200
        assert response.headers["content-type"].startswith("text/event-stream")
        assert response.headers["cache-control"] == "no-store"
        yield response.iter_lines()


def event_id(lines: Iterator[str]) -> int:
    """The id of the next event that has one."""
    return int(next(line for line in lines if line.startswith("id: "))[4:])


def test_a_change_reaches_a_listener_and_resuming_skips_what_was_seen() -> None:
    book = example_book()
    with served(book) as url:
        with stream_of(url, "/live/board") as lines:
            assert next(lines) == "retry: 2000"
            first = event_id(lines)
            assert first == book.state.seq
            book.do(DIRECTOR, day.call_heat("w1-1"))
            second = event_id(lines)
            assert second == book.state.seq
        book.do(DIRECTOR, day.call_heat("w1-2"))
        with stream_of(url, "/live/board", **{"Last-Event-ID": str(second)}) as lines:
            assert event_id(lines) == book.state.seq
        with stream_of(url, f"/live/board?after={book.state.seq}") as lines:
            book.do(DIRECTOR, day.call_heat("w1-3"))
            assert event_id(lines) == book.state.seq


def test_a_silent_stream_beats(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hub, "BEAT_S", 0.01)
    book = example_book()
    with served(book) as url, stream_of(url, f"/live/board?after={book.state.seq}") as lines:
        heard = [next(lines) for _ in range(6)]
    assert heard[2:6] == [": keep-alive", "event: beat", "data:", ""]


def test_the_answer_comes_before_the_news() -> None:
    book = example_book()
    order: list[str] = []
    with served(book) as url, stream_of(url, f"/live/board?after={book.state.seq}") as lines:
        assert next(lines) == "retry: 2000"

        def hear() -> None:
            event_id(lines)
            order.append("news")

        listening = threading.Thread(target=hear)
        listening.start()
        entry = {"kind": "heat.called", "data": {"heat": "w1-1"}}
        headers = {"authorization": "Bearer token-crew", "idempotency-key": "k"}
        response = httpx.post(url + "/entries", json=entry, headers=headers)
        order.append("answer")
        listening.join(timeout=20)
    assert response.status_code == 200
    assert order == ["answer", "news"]


def test_a_server_with_open_streams_stops_when_asked() -> None:
    book = example_book()
    with served(book) as url:
        opened = httpx.Client(timeout=20)
        stream = opened.stream("GET", url + "/live/now")
        response = stream.__enter__()
        next(response.iter_lines())
    # `served` has joined the server's thread by now.
    assert threading.active_count() >= 1
    opened.close()


@pytest.mark.parametrize(
    ("topic", "role", "status"),
    [("nothing", None, 404), ("standings/none", None, 404), ("board/floor", None, 401),
     ("pad/heats", None, 401)],
)  # fmt: skip
def test_topics_that_are_not_there_or_not_for_all(topic: str, role: None, status: int) -> None:
    with client_of(example_book(), role) as client:
        response = client.get(f"/live/{topic}", headers={"accept": "text/event-stream"})
    assert response.status_code == status
    assert set(json.loads(response.text)) == {"rule", "facts", "sentence", "findings"}


def test_the_page_and_the_stream_show_the_same() -> None:
    book = played_book(2, confirm=1)
    with served(book) as url:
        page = httpx.get(url + "/standings/open", headers={"accept": "text/html"}).text
        with stream_of(url, "/live/standings/open") as lines:
            data = []
            for line in lines:
                if line.startswith("data: "):
                    data.append(line[6:])
                elif not line and data:
                    break
    assert "\n".join(data).strip() in page
