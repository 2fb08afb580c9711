"""The live hub: drawn once, whole frames, nobody waits for the slowest."""

import asyncio
from collections.abc import Callable
from contextlib import aclosing
from typing import Any

import pytest

from callroom.model import State
from callroom.web import hub as hub_module
from callroom.web.hub import BEAT, BOX, Frame, Hub, Listener


class Book:
    """Only what the hub asks of a book."""

    def __init__(self) -> None:
        self.state = State(seq=7)
        self.time_ms = 0
        self.watchers: list[Callable[[State], None]] = []

    def now_ms(self) -> int:
        return self.time_ms

    def watch(self, watcher: Callable[[State], None]) -> Callable[[], None]:
        self.watchers.append(watcher)
        return lambda: self.watchers.remove(watcher)

    def move(self, seq: int) -> None:
        self.state = State(seq=seq)
        for watcher in self.watchers:
            watcher(self.state)


class Drawing:
    """Topic ``seq`` shows the seq, ``tens`` its tens, ``time`` the hour."""

    def __init__(self) -> None:
        self.drawn: list[tuple[str, int]] = []

    def draw(self, name: str, state: State, now_ms: int) -> str | None:
        self.drawn.append((name, state.seq))
        shows = {"seq": f"{state.seq}", "tens": f"{state.seq // 10}", "time": f"{now_ms // 100}"}
        return shows.get(name)

    def clock_mark(self, state: State, now_ms: int) -> object:
        return now_ms // 100


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("LEAST_GAP_S", "AFTER_ANSWER_S"):
        monkeypatch.setattr(hub_module, name, 0.001)
    monkeypatch.setattr(hub_module, "MOST_PER_S", 10_000)
    monkeypatch.setattr(hub_module, "CLOCK_LOOK_S", 0.005)


def with_hub(scene: Callable[[Book, Drawing, Hub], Any]) -> None:
    async def play() -> None:
        book, drawing = Book(), Drawing()
        hub = Hub(book, drawing)  # type: ignore[arg-type]
        async with asyncio.timeout(20), hub.running():
            await scene(book, drawing, hub)

    asyncio.run(play())


async def following(stream: Any) -> str:
    """The next thing in a stream that is no beat and no advice on retrying."""
    while True:
        chunk: bytes = await anext(stream)
        if chunk != BEAT and not chunk.startswith(b"retry"):
            return chunk.decode()


def test_a_listener_gets_what_is_shown_and_then_each_change() -> None:
    async def scene(book: Book, _drawing: Drawing, hub: Hub) -> None:
        async with aclosing(hub.stream("seq", None)) as stream:
            assert await following(stream) == "id: 7\ndata: 7\n\n"
            book.move(8)
            assert await following(stream) == "id: 8\ndata: 8\n\n"

    with_hub(scene)


@pytest.mark.parametrize(
    ("seen", "sent"), [(None, True), (6, True), (7, False), (8, True), (10_000, True)]
)
def test_who_comes_back_gets_the_present_frame_only_if_it_has_changed(
    seen: int | None, sent: bool
) -> None:
    async def scene(book: Book, _drawing: Drawing, hub: Hub) -> None:
        async with aclosing(hub.stream("seq", seen)) as stream:
            assert (await anext(stream)).startswith(b"retry: ")
            book.move(9)
            first = await following(stream)
        # Not sent again: the first thing heard is the change that comes after.
        assert first.startswith("id: 7" if sent else "id: 9")

    with_hub(scene)


def test_what_does_not_change_is_not_sent() -> None:
    async def scene(book: Book, _drawing: Drawing, hub: Hub) -> None:
        async with aclosing(hub.stream("tens", 7)) as stream:
            await anext(stream)
            book.move(8)
            book.move(9)
            while (await hub.frame("tens")) is None:
                pass
            book.move(20)
            assert await following(stream) == "id: 20\ndata: 2\n\n"

    with_hub(scene)


def test_a_frame_keeps_the_id_of_its_last_change() -> None:
    async def scene(book: Book, _drawing: Drawing, hub: Hub) -> None:
        first = await hub.frame("tens")
        book.move(9)
        again = await hub.frame("tens")
        assert first is again
        assert again is not None
        assert again.seq == 7

    with_hub(scene)


def test_many_ask_and_it_is_drawn_once() -> None:
    async def scene(_book: Book, drawing: Drawing, hub: Hub) -> None:
        await asyncio.gather(*(hub.frame("seq") for _ in range(50)))
        await hub.frame("seq")
        assert drawing.drawn.count(("seq", 7)) <= 50
        before = len(drawing.drawn)
        await asyncio.gather(*(hub.frame("seq") for _ in range(50)))
        assert len(drawing.drawn) == before

    with_hub(scene)


def test_a_topic_nobody_knows_is_none_and_streams_nothing() -> None:
    async def scene(_book: Book, _drawing: Drawing, hub: Hub) -> None:
        assert await hub.frame("nothing") is None
        async with aclosing(hub.stream("nothing", None)) as stream:
            assert [chunk async for chunk in stream] == []

    with_hub(scene)


def test_what_the_clock_reveals_is_sent_without_any_entry() -> None:
    async def scene(book: Book, _drawing: Drawing, hub: Hub) -> None:
        async with aclosing(hub.stream("time", None)) as stream:
            assert await following(stream) == "id: 7\ndata: 0\n\n"
            book.time_ms = 100
            assert await following(stream) == "id: 7\ndata: 1\n\n"
        # Its id cannot say which of the two somebody has seen, so it is sent again.
        async with aclosing(hub.stream("time", 7)) as stream:
            assert await following(stream) == "id: 7\ndata: 1\n\n"

    with_hub(scene)


def test_a_full_box_drops_the_oldest() -> None:
    async def scene() -> None:
        listener = Listener()
        for number in range(BOX + 3):
            listener.put(b"%d" % number)
        taken = [await listener.take(0.01) for _ in range(BOX + 1)]
        assert taken == [b"%d" % number for number in range(3, BOX + 3)] + [None]

    asyncio.run(scene())


def test_a_burst_of_changes_becomes_few_frames_and_the_last_is_right(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(hub_module, "MOST_PER_S", 5)

    async def scene(book: Book, drawing: Drawing, hub: Hub) -> None:
        async with aclosing(hub.stream("seq", 7)) as stream:
            await anext(stream)
            for seq in range(8, 208):
                book.move(seq)
            heard = await following(stream)
            while heard != "id: 207\ndata: 207\n\n":
                heard = await following(stream)
        assert len(drawing.drawn) <= 5

    with_hub(scene)


def test_streams_end_when_the_server_does() -> None:
    async def play() -> None:
        book = Book()
        hub = Hub(book, Drawing())  # type: ignore[arg-type]
        heard: list[bytes] = []
        opened = asyncio.Event()

        async def listen() -> None:
            async for chunk in hub.stream("seq", None):
                heard.append(chunk)
                opened.set()

        async with asyncio.timeout(20):
            async with hub.running():
                listening = asyncio.create_task(listen())
                await opened.wait()
            await listening
        assert heard[1] == b"id: 7\ndata: 7\n\n"
        assert not book.watchers
        assert hub.listeners() == 0

    asyncio.run(play())


def test_lines_of_any_kind_stay_inside_their_event() -> None:
    async def scene(_book: Book, drawing: Drawing, hub: Hub) -> None:
        drawing.draw = lambda *_: "a\r\n\r\nid: 99\rb"  # type: ignore[method-assign]
        frame = await hub.frame("seq")
        assert frame is not None
        assert frame.encoded == b"id: 7\ndata: a\ndata: \ndata: id: 99\ndata: b\n\n"

    with_hub(scene)


def test_frames_know_who_has_them() -> None:
    frame = Frame(seq=5, text="", encoded=b"")
    assert frame.known_to(5, 9)
    assert frame.known_to(9, 9)
    assert not frame.known_to(4, 9)
    assert not frame.known_to(10, 9)  # an id of another book, or of before a backup came back
