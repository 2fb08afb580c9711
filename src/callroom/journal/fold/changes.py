"""Folding of what changes the rules of the day: rulings."""

from msgspec.structs import replace

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import Ruling


def ruling_made(build: Builder, entry: Entry, body: bodies.RulingMade) -> None:
    """Give a ruling the next number; none is ever taken out, so no number comes twice."""
    ruling = Ruling(
        number=1 + len(build.rulings.view),
        seq=entry.seq,
        at_ms=entry.at_ms,
        question=body.question,
        answer=body.answer,
        workout=body.workout,
        movement=body.movement,
    )
    _put(build, ruling)


def ruling_withdrawn(build: Builder, entry: Entry, body: bodies.RulingWithdrawn) -> None:
    """Take a ruling back; it stays listed, and judges who saw it are told."""
    ruling = build.rulings.get(str(body.number))
    if ruling is not None:
        _put(build, replace(ruling, withdrawn_seq=entry.seq, withdrawn_for=body.reason))


def _put(build: Builder, ruling: Ruling) -> None:
    build.rulings.put(str(ruling.number), ruling)
    build.touch(f"ruling:{ruling.number}")


def ruling_acknowledged(build: Builder, entry: Entry, body: bodies.RulingAcknowledged) -> None:
    """Note what a device has seen of a ruling; an older report arriving late takes nothing back."""
    number = str(body.number)
    seen = build.acknowledged.get(entry.device) or {}
    if number in build.rulings.view and body.seen_seq > seen.get(number, 0):
        build.acknowledged.put(entry.device, {**seen, number: body.seen_seq})
