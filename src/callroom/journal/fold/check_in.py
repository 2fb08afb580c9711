"""Folding of the check-in, of the morning's decision, and of a book that goes to the hall."""

from msgspec.structs import replace

from callroom.journal.entries import check_in_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.away import Away
from callroom.model.check_in import CheckIn, Signed
from callroom.model.going import GoDecision


def athletes_here(build: Builder, entry: Entry, body: bodies.AthletesHere) -> None:
    """Add those who came, once each, or take out who is not here after all."""
    before = build.check_ins.get(body.team) or CheckIn()
    named = dict.fromkeys(body.people)
    if body.here:
        here = tuple(dict.fromkeys((*before.here, *named)))
    else:
        here = tuple(one for one in before.here if one not in named)
    _put(build, entry, body.team, replace(before, here=here))


def pack_given(build: Builder, entry: Entry, body: bodies.PackGiven) -> None:
    """Note the pack as handed over, since the first time that was said."""
    before = build.check_ins.get(body.team) or CheckIn()
    first = before.pack_seq if before.pack_seq is not None else entry.seq
    _put(build, entry, body.team, replace(before, pack_seq=first if body.given else None))


def paper_signed(build: Builder, entry: Entry, body: bodies.PaperSigned) -> None:
    """Keep a signature, or take it back."""
    if body.signed:
        build.signed.put(body.person, Signed(seq=entry.seq, at_ms=entry.at_ms, by=body.by))
    else:
        build.signed.drop(body.person)
    build.touch(f"check_in:{body.team}")


def go_decided(build: Builder, entry: Entry, body: bodies.GoDecided) -> None:
    """Keep what the director decided, after what was decided before."""
    made = GoDecision(
        seq=entry.seq,
        at_ms=entry.at_ms,
        verdict=body.verdict,
        reason=body.reason,
        open=body.open,
    )
    build.go_decisions = (*build.go_decisions, made)
    build.touch("go")


def book_taken(build: Builder, entry: Entry, _body: bodies.BookTaken) -> None:
    """Take nothing more here."""
    build.away = Away(seq=entry.seq, at_ms=entry.at_ms)
    build.touch("away")


def book_stayed(build: Builder, _entry: Entry, _body: bodies.BookStayed) -> None:
    """Go on here."""
    build.away = None
    build.touch("away")


def _put(build: Builder, entry: Entry, team: str, check_in: CheckIn) -> None:
    build.check_ins.put(team, replace(check_in, seq=entry.seq, at_ms=entry.at_ms))
    build.touch(f"check_in:{team}")
