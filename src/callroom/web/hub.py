"""The live hub: what a topic shows is drawn and encoded once for each change, for everyone.

A frame is always the whole of what a topic shows, never a difference. So a listener that
falls behind may lose frames and still ends up right, and a listener that comes back needs
one frame at most.
"""

import asyncio
import contextlib
import time
from collections import deque
from collections.abc import AsyncGenerator
from typing import Protocol

import msgspec

from callroom.model import State
from callroom.web.ports import Book

# Five frames a second are as live as anybody can see; more only wears out phones. A frame soon
# after another need not wait for its fifth of the second, only for its turn among the five.
MOST_PER_S = 5
LEAST_GAP_S = 0.06
# The answer to whoever caused a change is on its way before the news of it goes out.
AFTER_ANSWER_S = 0.02
# A stalled link raises no error in a browser; it reopens when it has heard nothing for long.
BEAT_S = 5.0
# What depends on the clock (a release time) is looked at this often without any change.
CLOCK_LOOK_S = 5.0
RETRY_MS = 2000
BOX = 2
BEAT = b": keep-alive\nevent: beat\ndata:\n\n"


class Drawing(Protocol):
    """Knows the topics."""

    def draw(self, name: str, state: State, now_ms: int) -> str | None:
        """Return what a topic shows at a time [ms, UTC]; None: there is no such topic."""

    def clock_mark(self, state: State, now_ms: int) -> object:
        """Return what of the time may change a topic: equal marks, equal drawings."""


class Frame(msgspec.Struct, frozen=True, kw_only=True):
    """What a topic shows.

    `seq` is the last entry at the time it last changed, and the event's id. `by_clock`:
    it changed without any entry, so an id cannot tell whether a listener has it.
    """

    seq: int
    text: str
    encoded: bytes
    by_clock: bool = False

    def known_to(self, seen_seq: int | None, last_seq: int) -> bool:
        """Whether a listener whose last id was `seen_seq` has what this frame shows.

        A greater id than any this book has given is another book's, or one of before a
        backup was put back.
        """
        if seen_seq is None or self.by_clock:
            return False
        return self.seq <= seen_seq <= last_seq


class Topic:
    """One topic: its last frame, and who listens."""

    def __init__(self) -> None:
        """Begin with nothing drawn and nobody listening."""
        self.frame: Frame | None = None
        self.told: Frame | None = None
        self.drawn: tuple[int, object] | None = None
        self.listeners: set[Listener] = set()
        self.drawing = asyncio.Lock()


class Listener:
    """One open stream: a small box of frames; the oldest is dropped when it is full."""

    def __init__(self) -> None:
        """Begin with an empty box."""
        self._box: deque[bytes] = deque(maxlen=BOX)
        self._filled = asyncio.Event()

    def put(self, encoded: bytes) -> None:
        """Leave something to be sent."""
        self._box.append(encoded)
        self._filled.set()

    async def take(self, patience_s: float) -> bytes | None:
        """Return the next thing to send, or None if there was none for `patience_s`."""
        if not self._box:
            self._filled.clear()
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(patience_s):
                    await self._filled.wait()
        return self._box.popleft() if self._box else None


class Hub:
    """Draws topics when something changed and hands the frames to whoever listens."""

    def __init__(self, book: Book, drawing: Drawing) -> None:
        """Watch `book`; `drawing` is called in a worker thread, for one topic once at a time."""
        self._book = book
        self._drawing = drawing
        self._topics: dict[str, Topic] = {}
        self._changed = asyncio.Event()
        self._closing = False
        self._loop: asyncio.AbstractEventLoop | None = None

    def nudge(self) -> None:
        """Have every topic that is listened to looked at again; from any thread."""
        loop = self._loop
        if loop is not None:
            # The loop may be closing already.
            with contextlib.suppress(RuntimeError):
                loop.call_soon_threadsafe(self._changed.set)

    @contextlib.asynccontextmanager
    async def running(self) -> AsyncGenerator[None, None]:
        """Watch the book and feed the listeners for as long as the application runs."""
        self._loop = asyncio.get_running_loop()

        def heard(_state: State) -> None:
            self.nudge()  # from the writer's thread

        unwatch = self._book.watch(heard)
        feeding = [asyncio.create_task(self._feed()), asyncio.create_task(self._look_at_clock())]
        try:
            yield
        finally:
            self._closing = True
            self._loop = None
            unwatch()
            for task in feeding:
                task.cancel()
            await asyncio.gather(*feeding, return_exceptions=True)
            for topic in self._topics.values():
                for listener in topic.listeners:
                    listener.put(b"")

    async def frame(self, name: str) -> Frame | None:
        """Return what a topic shows now; None if there is no such topic.

        It is drawn only if the book, or what the time reveals of it, has changed.
        """
        topic = self._topics.get(name) or Topic()
        async with topic.drawing:
            state, now_ms = self._book.state, self._book.now_ms()
            mark = (state.seq, self._drawing.clock_mark(state, now_ms))
            if topic.drawn != mark:
                text = await asyncio.to_thread(self._drawing.draw, name, state, now_ms)
                topic.frame = _next_frame(topic, text, state.seq)
                topic.drawn = mark
        if topic.frame is not None:
            self._topics.setdefault(name, topic)
        return topic.frame

    async def stream(self, name: str, seen_seq: int | None) -> AsyncGenerator[bytes, None]:
        """Give a topic's frames for as long as somebody reads; nothing if there is no topic."""
        frame = await self.frame(name)
        topic = self._topics.get(name)
        if frame is None or topic is None:
            return
        listener = Listener()
        topic.listeners.add(listener)
        known = frame.known_to(seen_seq, self._book.state.seq)
        try:
            yield f"retry: {RETRY_MS}\n\n".encode()
            if not known:
                yield frame.encoded
            while not self._closing:
                yield await listener.take(BEAT_S) or BEAT
        finally:
            topic.listeners.discard(listener)

    def listeners(self) -> int:
        """Return how many streams are open."""
        return sum(len(topic.listeners) for topic in self._topics.values())

    async def _feed(self) -> None:
        told: deque[float] = deque(maxlen=MOST_PER_S)
        while True:
            await self._changed.wait()
            await asyncio.sleep(AFTER_ANSWER_S)
            self._changed.clear()
            await self._tell()
            told.append(time.monotonic())
            wait_s = 1 - (told[-1] - told[0]) if len(told) == MOST_PER_S else 0
            await asyncio.sleep(max(LEAST_GAP_S, wait_s))

    async def _look_at_clock(self) -> None:
        mark: object = None
        while True:
            await asyncio.sleep(CLOCK_LOOK_S)
            before, mark = mark, self._drawing.clock_mark(self._book.state, self._book.now_ms())
            if mark != before:
                self._changed.set()

    async def _tell(self) -> None:
        for name, topic in tuple(self._topics.items()):
            if not topic.listeners:
                continue
            frame = await self.frame(name)
            if frame is not None and frame is not topic.told:
                topic.told = frame
                for listener in tuple(topic.listeners):
                    listener.put(frame.encoded)


def _next_frame(topic: Topic, text: str | None, seq: int) -> Frame | None:
    if text is None:
        return None
    if topic.frame is not None and topic.frame.text == text:
        return topic.frame
    by_clock = topic.frame is not None and topic.drawn is not None and topic.drawn[0] == seq
    return Frame(seq=seq, text=text, encoded=_encoded(seq, text), by_clock=by_clock)


def _encoded(seq: int, text: str) -> bytes:
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    data = "".join(f"data: {line}\n" for line in lines)
    return f"id: {seq}\n{data}\n".encode()
