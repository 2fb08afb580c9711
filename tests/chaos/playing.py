"""A whole day of scores on bad links with a server that dies, counted from the phones' own logs."""

import asyncio
import random
import threading
from collections import Counter
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import msgspec

from callroom.actions import day as ask
from callroom.actions.rehearsal import script
from callroom.bootstrap.books import AT_THE_KEYBOARD, back_up, open_book
from callroom.bootstrap.codec import CODEC
from callroom.bootstrap.open_book import OpenBook
from callroom.model import Role, ScoreReport
from callroom.views.results import results_digest
from tests.chaos.book import clock_at_the_end
from tests.chaos.pad import Pad
from tests.chaos.server import Killed

_AT_ONCE = 6


class Chaos(msgspec.Struct, frozen=True, kw_only=True):
    """What came of a day.

    `typed` counts what is in the phones' logs, `scheduled` what the script has. `lost` are
    typed and nowhere in the journal, placed or not; `double` are in it more often than typed.
    `same` says whether the results are those of the same day without any fault.
    """

    seed: int
    scheduled: int
    typed: int
    lost: int
    double: int
    unplaced: int
    server_kills: int
    phone_kills: int
    sends: int
    same: bool


def play_chaos(template: Path, folder: Path, seed: int, kills: int) -> Chaos:
    """Play a day of `template` on a copy in `folder`, killing its server `kills` times."""
    path = folder / f"chaos-{seed}.book"
    back_up(template, path)
    scores = tuple(scheduled(template, seed))
    tokens = _joined(path, {post: role for post, role, _ in scores})
    server = Killed(path)
    try:
        pads = {post: Pad(server.url, token, post, seed) for post, token in sorted(tokens.items())}
        _play(pads, scores, server, seed, kills)
    finally:
        server.stop()
    return _counted(path, template, pads, scores, seed, server.kills)


def scheduled(template: Path, seed: int) -> Iterator[tuple[str, Role, ScoreReport]]:
    """Give every score of a day's script, with the post that hands it in."""
    book = open_book(template, writing=False)
    try:
        for cue in script(book.state, seed, smooth=True):
            for body in cue.request.proposals:
                if isinstance(body, ScoreReport):
                    yield cue.post, cue.role, body
    finally:
        book.close()


def _joined(path: Path, posts: dict[str, Role]) -> dict[str, str]:
    """Return a token for each post, joined before anything goes wrong."""
    book = open_book(path, clock=clock_at_the_end())

    async def join(post: str, role: Role) -> str:
        return (await book.doors.join(book.doors.make_code(role, post), post, "here"))[1]

    tokens = {post: asyncio.run(join(post, role)) for post, role in sorted(posts.items())}
    book.close()
    return tokens


def _play(
    pads: dict[str, Pad],
    scores: Iterable[tuple[str, Role, ScoreReport]],
    server: Killed,
    seed: int,
    kills: int,
) -> None:
    """Type everything heat by heat, sending meanwhile; a third of the phones is long offline."""
    chance = random.Random(f"chaos/{seed}")
    offline = set(chance.sample(sorted(pads), len(pads) // 3))
    by_heat: dict[str, list[tuple[str, ScoreReport]]] = {}
    for post, _, report in scores:
        by_heat.setdefault(report.heat, []).append((post, report))
    heats = list(by_heat.values())
    deadly = set(chance.sample(range(len(heats)), min(kills, len(heats))))
    with ThreadPoolExecutor(_AT_ONCE) as senders:
        for number, heat in enumerate(heats):
            for post, report in heat:
                pads[post].type(report)
            online = sorted({post for post, _ in heat} - offline)
            sending = [senders.submit(pads[post].flush) for post in online]
            if number in deadly:
                threading.Event().wait(chance.random() * 0.05)
                server.kill()
            for one in sending:
                one.result()
        for one in [senders.submit(pad.flush) for pad in pads.values()]:
            one.result()


def _counted(
    path: Path,
    template: Path,
    pads: dict[str, Pad],
    scores: tuple[tuple[str, Role, ScoreReport], ...],
    seed: int,
    kills: int,
) -> Chaos:
    typed = Counter(_said(one.report) for pad in pads.values() for one in pad.log)
    book = open_book(path, clock=clock_at_the_end())
    try:
        stored: Counter[bytes] = Counter(
            _said(body)
            for body in map(CODEC.body, book.store.entries())
            if isinstance(body, ScoreReport)
        )
        unplaced = len(book.state.unplaced)
        digest = _settled(book)
    finally:
        book.close()
    return Chaos(
        seed=seed,
        scheduled=len(scores),
        typed=typed.total(),
        lost=(typed - stored).total(),
        double=(stored - typed).total(),
        unplaced=unplaced,
        server_kills=kills,
        phone_kills=sum(pad.kills for pad in pads.values()),
        sends=sum(pad.sends for pad in pads.values()),
        same=digest == _undisturbed(template, path.with_suffix(".calm"), scores),
    )


def _said(report: ScoreReport) -> bytes:
    return msgspec.json.encode(report)


def _undisturbed(
    template: Path, path: Path, scores: Iterable[tuple[str, Role, ScoreReport]]
) -> str:
    """Return the results of the same scores, handed in one after the other without a fault."""
    back_up(template, path)
    book = open_book(path, clock=clock_at_the_end())
    try:
        for number, (_, _, report) in enumerate(scores):
            book.ask_now(AT_THE_KEYBOARD, ask.report_score(report), key=f"calm-{number}")
        return _settled(book)
    finally:
        book.close()


def _settled(book: OpenBook) -> str:
    """Confirm every heat, as the head judge does when all cards are in; return the results."""
    plan = book.state.plan
    for heat in plan.heats if plan is not None else ():
        book.ask_now(AT_THE_KEYBOARD, ask.call_heat(heat.id), key=f"call-{heat.id}")
        start = ask.start_heat(heat.id, book.now_ms())
        book.ask_now(AT_THE_KEYBOARD, start, key=f"start-{heat.id}")
        book.ask_now(AT_THE_KEYBOARD, ask.finish_heat(heat.id), key=f"finish-{heat.id}")
        book.ask_now(AT_THE_KEYBOARD, ask.confirm_heat(heat.id, {}), key=f"confirm-{heat.id}")
    return results_digest(book.state)
