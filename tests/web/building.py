"""A book in memory for the tests of pages: real rules, real fold, no disk."""

import asyncio
import itertools
import socket
import threading
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from pathlib import Path
from typing import Any

import msgspec
from litestar.testing import TestClient

from callroom.actions import day
from callroom.actions.decide import decide
from callroom.actions.request import Request, content, kind_of
from callroom.bootstrap.as_it_stood import states_around
from callroom.bootstrap.copy_kept import CopyKept
from callroom.bootstrap.history import score_history
from callroom.bootstrap.pay_keeping import PayKeeping
from callroom.bootstrap.post_office import PostOffice
from callroom.bootstrap.team_links import TeamLinks
from callroom.journal.entries import Entry
from callroom.journal.fold import Batch
from callroom.journal.store.errors import KeyConflict
from callroom.journal.store.side import SIDE_TABLES
from callroom.model import (
    Actor,
    Lift,
    Mass,
    Refusal,
    Result,
    Role,
    ScoreReport,
    SheetRef,
    State,
    milliseconds,
)
from callroom.views.history import HistoryLine
from callroom.web import WebSettings, make_app, server
from callroom.web.app import Site
from tests.views.building import example_state

MINUTE_MS = 60_000
DIRECTOR = Actor(role="director", device="director-1", name="director")
ROLES: tuple[Role, ...] = ("director", "head_judge", "desk", "judge", "crew", "first_aid")


class Outcome(msgspec.Struct, frozen=True):
    seqs: tuple[int, ...]
    replayed: bool


class FakeDoors:
    """Tokens by role; the passphrase in the clear, which only a test may do."""

    def __init__(self) -> None:
        self.passphrase = "seven green bottles"
        self.holders = {
            f"token-{role}": Actor(role=role, device=f"{role}-1", name=f"{role} · Sam")
            for role in ROLES
        }
        self.codes: dict[str, Role] = {"2222-2222": "judge"}
        self.tried = 0

    def has_passphrase(self) -> bool:
        return bool(self.passphrase)

    async def set_passphrase(self, text: str) -> None:
        if len(text) < 10:
            raise Refusal("passphrase.length", least=10, most=200)
        self.passphrase = text

    async def sign_in(self, text: str, origin: str) -> str:
        self.tried += 1
        if self.tried > 5:
            raise Refusal("guesses.too_many", wait_s=4)
        if text != self.passphrase:
            raise Refusal("passphrase.wrong")
        return "token-director"

    def label_of(self, device: str) -> str:
        return f"label of {device}"

    def make_code(self, role: Role, label: str) -> str:
        code = f"2222-222{len(self.codes) + 2}"
        self.codes[code] = role
        return code

    async def join(self, code: str, label: str, origin: str) -> tuple[str, str]:
        role = self.codes.pop(code.upper(), None)
        if role is None:
            raise Refusal("code.used_or_unknown")
        return f"{role}-1", f"token-{role}"

    def proof_of(self, token: str) -> str:
        return f"proof-of-{token}"

    async def take_over(self, proof: str, origin: str) -> str:
        token = proof.removeprefix("proof-of-")
        if token not in self.holders:
            raise Refusal("proof.used_or_unknown")
        return token

    def holder(self, token: str) -> Actor | None:
        return self.holders.get(token)

    def end_other_directors(self, token: str) -> int:
        ended = [one for one, who in self.holders.items() if who.role == "director"]
        for one in ended:
            if one != token:
                del self.holders[one]
        return len(ended) - 1

    def drop_codes(self, role: Role | None = None) -> int:
        gone = [code for code, known in self.codes.items() if role in {None, known}]
        for code in gone:
            del self.codes[code]
        return len(gone)

    def leave(self, token: str) -> None:
        self.holders.pop(token, None)


class Shelf:
    """A side table in memory."""

    def __init__(self, rows: dict[str, Any]) -> None:
        self.rows = rows

    def get(self, row_id: str, /) -> Any:
        return self.rows.get(row_id)

    def put(self, row_id: str, value: Any, /) -> None:
        self.rows[row_id] = value

    def delete(self, row_id: str, /) -> None:
        self.rows.pop(row_id, None)

    def take(self, row_id: str, /) -> Any:
        return self.rows.pop(row_id, None)

    def all(self, prefix: str = "", /) -> dict[str, Any]:
        return {
            row_id: self.rows[row_id] for row_id in sorted(self.rows) if row_id.startswith(prefix)
        }


class FakeBook:
    """Decides by the real rules and folds with the real fold."""

    def __init__(self, state: State, now_ms: int | None = None) -> None:
        self.state = self.began = state
        self.path = Path("example.book")
        self.doors = FakeDoors()
        self.entries: list[tuple[Entry, Any]] = []
        self._now_ms = now_ms
        self._answers: dict[tuple[str, str], tuple[bytes, Outcome]] = {}
        self._watchers: dict[int, Callable[[State], None]] = {}
        self.kept: dict[str, bytes] = {}
        self.beside: dict[str, dict[str, Any]] = {name: {} for name in SIDE_TABLES}
        self._counter = itertools.count()
        self.links = TeamLinks(Shelf(self.beside["secrets"]))
        self.paying = PayKeeping(Shelf(self.beside["secrets"]))
        self.post = PostOffice(
            self, Shelf(self.beside["outbox"]), Shelf(self.beside["secrets"]), self
        )

    clock_speed = 1
    personal: Any = None
    hall: Any = None
    standby_copy: CopyKept | None = None

    def now_ms(self) -> int:
        if self._now_ms is not None:
            return self._now_ms
        event = self.state.event or example_state().event
        assert event is not None
        return milliseconds(event.instant(0))

    def set_now(self, now_ms: int) -> None:
        self._now_ms = now_ms

    def watch(self, watcher: Callable[[State], None], /) -> Callable[[], None]:
        mine = next(self._counter)
        self._watchers[mine] = watcher
        return lambda: self._watchers.pop(mine, None) and None

    async def ask(
        self, actor: Actor, request: Request, *, key: str, beside: tuple[Any, ...] = ()
    ) -> Outcome:
        outcome = self.do(actor, request, key=key)
        for write in () if outcome.replayed else beside:
            if write.value is None:
                self.beside[write.table].pop(write.id, None)
            else:
                self.beside[write.table][write.id] = SIDE_TABLES[write.table].decode(write.value)
        return outcome

    def do(self, actor: Actor, request: Request, *, key: str = "") -> Outcome:
        key = key or f"key-{next(self._counter)}"
        known = self._answers.get((actor.device, key))
        if known is not None:
            if known[0] != content(request):
                raise KeyConflict(actor.device, key)
            return Outcome(seqs=known[1].seqs, replayed=True)
        bodies = decide(self.state, actor, request, self.now_ms())
        batch = Batch(self.state)
        seqs = []
        for part, body in enumerate(bodies):
            entry = Entry(
                seq=self.state.seq + 1 + part,
                at_ms=self.now_ms(),
                actor=actor.name,
                device=actor.device,
                key=key,
                part=part,
                kind=kind_of(body),
                version=1,
                data=msgspec.json.encode(body),
            )
            batch.apply(entry, body)
            self.entries.append((entry, body))
            seqs.append(entry.seq)
        self.state = batch.freeze()
        outcome = Outcome(seqs=tuple(seqs), replayed=False)
        self._answers[actor.device, key] = (content(request), outcome)
        for watcher in tuple(self._watchers.values()):
            watcher(self.state)
        return outcome

    def seal(self, seq: int, /) -> str:
        return f"seal-of-{seq}"

    def people(self) -> dict[str, Any]:
        return self.beside["people"]

    def backups(self) -> dict[str, bool]:
        return {path: made.share for path, made in self.beside["backups"].items()}

    def notes(self, prefix: str, /) -> dict[str, Any]:
        notes = self.beside["notes"]
        return {name: note for name, note in notes.items() if name.startswith(prefix)}

    def attachment(self, name: str, /) -> Any:
        return self.beside["attachments"].get(name)

    def drafts(self, prefix: str, /) -> dict[str, bytes]:
        return {name: draft for name, draft in self.kept.items() if name.startswith(prefix)}

    def keep_draft(self, name: str, draft: bytes | None, /) -> None:
        if draft is None:
            self.kept.pop(name, None)
        else:
            self.kept[name] = draft

    def around(self, seq: int, /) -> tuple[State, State]:
        return states_around(self.entries, seq, self.began)

    def history(self, ref: SheetRef, heat: str, /) -> tuple[HistoryLine, ...]:
        return tuple(score_history(self.entries, ref, heat))


def example_book(**changes: Any) -> FakeBook:
    """The example event before its first heat."""
    return FakeBook(example_state(**changes))


def result_for(kind: str, number: int) -> Result:
    """A plausible result for a part of a kind; `number` makes teams differ."""
    if kind == "time":
        if number % 4 == 3:
            return Result(outcome="capped", work=120 + number)
        return Result(outcome="finished", time_ms=(6 * 60 + number * 7) * 1000)
    if kind == "work":
        return Result(outcome="worked", work=90 + number * 3)
    if kind == "distance":
        return Result(outcome="covered", distance_m=900 + number * 10)
    lifts = tuple(
        Lift(task=task, mass=Mass(amount=Decimal(weight + number)), good=True)
        for task, weight in (("lift_women", 50), ("lift_men", 80))
    )
    return Result(outcome="lifted", lifts=lifts)


def played_book(heats: int = 6, *, confirm: int = 4) -> FakeBook:
    """The example event in the middle of its day: some heats over, one on, one called."""
    book = example_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    in_order = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id))
    for index, heat in enumerate(in_order[:heats]):
        start_ms = milliseconds(event.instant(heat.start_s)) + 90_000
        book.set_now(start_ms)
        book.do(DIRECTOR, day.call_heat(heat.id))
        for team in heat.teams:
            book.do(DIRECTOR, day.mark_arrived(heat.id, team))
        book.do(DIRECTOR, day.start_heat(heat.id, start_ms))
        book.set_now(milliseconds(event.instant(heat.end_s)))
        book.do(DIRECTOR, day.finish_heat(heat.id))
        for place in heat.lanes:
            for part in event.workout(heat.workout).parts:
                report = ScoreReport(
                    heat=heat.id,
                    workout=heat.workout,
                    part=part.id,
                    team=place.team,
                    lane=place.lane,
                    source="pad",
                    result=result_for(part.kind, place.lane + index),
                )
                book.do(book.doors.holders["token-judge"], day.report_score(report))
        if index < confirm:
            basis: dict[str, int] = {}
            book.do(DIRECTOR, day.confirm_heat(heat.id, basis))
    on, called = in_order[heats], in_order[heats + 1]
    book.set_now(milliseconds(event.instant(on.start_s)) + 300_000)
    book.do(DIRECTOR, day.call_heat(on.id))
    book.do(DIRECTOR, day.start_heat(on.id, book.now_ms() - 60_000))
    book.do(DIRECTOR, day.call_heat(called.id))
    book.do(DIRECTOR, day.mark_arrived(called.id, called.teams[0]))
    return book


@contextmanager
def client_of(book: Any, role: Role | None = None, **options: Any) -> Iterator[Any]:
    """A browser at the machine itself, with the token of a role."""
    site = make_app(book, options.pop("settings", WebSettings(port=8000)))
    app = _come_from(site, options.pop("peer", "127.0.0.1"))
    base_url = options.pop("base_url", "http://localhost:8000")
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="The base_url")  # localhost is meant
        browser = TestClient(app, base_url=base_url, raise_server_exceptions=False)
    browser.house = site.house  # type: ignore[attr-defined]  # for tests that change its limits
    with browser as client:
        client.headers["accept"] = "text/html"
        if role is not None:
            client.cookies.set("callroom-8000", f"token-{role}")
        yield client


def _come_from(site: Site, peer: str) -> Any:
    """Let every request come from an address; the client of litestar names none."""

    async def outer(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] == "http":
            scope["client"] = (peer, 50_000)
        await site(scope, receive, send)

    return outer


@contextmanager
def served(book: Any, port: int = 0, **options: Any) -> Iterator[str]:
    """A real server on a free port of this machine, in a thread; gives its address."""
    listening = socket.socket()
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    listening.bind(("127.0.0.1", port))
    port = listening.getsockname()[1]
    running = server(book, "127.0.0.1", port, **options)
    thread = threading.Thread(target=running.run, kwargs={"sockets": [listening]})
    thread.start()
    try:
        while not running.started:
            assert thread.is_alive()
            threading.Event().wait(0.01)
        yield f"http://localhost:{port}"
    finally:
        running.should_exit = True
        thread.join(timeout=20)
        listening.close()


def form_token(role: Role) -> str:
    """The token that forms of a role's browser carry."""
    from callroom.web.visitor import Visitor

    visitor = Visitor(
        actor=None,
        token=f"token-{role}",
        by_cookie=True,
        private=True,
        shut_out=False,
        origin="",
    )
    return visitor.form_token


def run(coroutine: Any) -> Any:
    """Run a coroutine to its end."""
    return asyncio.run(coroutine)
