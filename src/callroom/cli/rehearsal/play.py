"""Playing the script: every cue at its time, by the device whose cue it is."""

from collections.abc import Callable

import msgspec

from callroom.actions.cue import Cue
from callroom.actions.rehearsal import script
from callroom.bootstrap.open_book import OpenBook
from callroom.cli.rehearsal.hands import Hand, Refused
from callroom.model import ScoreReport

Tell = Callable[[Cue, int, int], None]


class Played(msgspec.Struct, frozen=True, kw_only=True):
    """What was played: how many cues and scores were sent, and what was refused."""

    cues: int
    scores: int
    refused: tuple[Refused, ...]


def play(book: OpenBook, url: str, seed: int, tell: Tell) -> Played:
    """Play the rest of the planned day of `book` through its server at `url`.

    Parameters
    ----------
    book
        The rehearsal's own book; its clock is waited for, its doors give the codes.
    seed
        The same seed plays the same day.
    tell
        Told of each cue with its number and how many there are.
    """
    cues = script(book.state, seed)
    hands: dict[str, Hand] = {}
    refused: list[Refused] = []
    try:
        for number, cue in enumerate(cues, start=1):
            if cue.post not in hands:
                code = book.doors.make_code(cue.role, cue.post)
                hands[cue.post] = Hand(url, code, cue.post)
            book.clock.wait_until(cue.at_ms)
            refused += hands[cue.post].send(cue.asked(book.state), f"cue-{seed}-{number}")
            tell(cue, number, len(cues))
    finally:
        for hand in hands.values():
            hand.close()
    scores = sum(isinstance(body, ScoreReport) for cue in cues for body in cue.request.proposals)
    return Played(cues=len(cues), scores=scores, refused=tuple(refused))
