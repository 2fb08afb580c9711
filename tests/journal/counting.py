"""A domain small enough to see through: counts reported per lane, lanes confirmed, plans published.

The journal's own tests use it, so that they hold whatever Callroom's real kinds become.
"""

import itertools
from collections.abc import Callable, Mapping, Sequence
from typing import Annotated

import msgspec

from callroom.journal import Codec, Entry, Kind, Reading, Request
from callroom.model import Refusal, Stale

START_MS = 1_780_000_000_000  # 2026-05-28, UTC


class Body(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Root of the bodies."""


class Counted(Body, frozen=True):
    """A report: so many repetitions in a lane."""

    lane: str
    reps: Annotated[int, msgspec.Meta(ge=0, le=100_000)]


class Confirmed(Body, frozen=True):
    """A decision: the count of a lane stands."""

    lane: str


class Published(Body, frozen=True):
    """A decision: a plan, following the one it names."""

    revision: int


class Poison(Body, frozen=True):
    """An entry the fold cannot take."""

    text: str = ""


KINDS: Mapping[str, Kind] = {
    "lane.counted": Kind(1, Counted, is_report=True),
    "lane.confirmed": Kind(1, Confirmed),
    "plan.published": Kind(1, Published),
    "poison": Kind(1, Poison),
}


class Tally(msgspec.Struct, frozen=True, kw_only=True):
    """The State: last count per lane, which lanes are confirmed by which entry, the plan."""

    seq: int = 0
    counts: Mapping[str, int] = {}
    confirmed: Mapping[str, int] = {}
    revision: int = 0


class TallyBuilder:
    """Copies a part when it first changes."""

    def __init__(self, tally: Tally) -> None:
        self._seq, self._revision = tally.seq, tally.revision
        self._counts, self._confirmed = tally.counts, tally.confirmed
        self._own_counts: dict[str, int] | None = None
        self._own_confirmed: dict[str, int] | None = None

    @property
    def state(self) -> Tally:
        return Tally(
            seq=self._seq, counts=self._counts, confirmed=self._confirmed, revision=self._revision
        )

    def apply(self, entry: Entry, body: object) -> None:
        if isinstance(body, Counted):
            if self._own_counts is None:
                self._counts = self._own_counts = dict(self._counts)
            self._own_counts[body.lane] = body.reps
        elif isinstance(body, Confirmed):
            if self._own_confirmed is None:
                self._confirmed = self._own_confirmed = dict(self._confirmed)
            self._own_confirmed[body.lane] = entry.seq
        elif isinstance(body, Published):
            self._revision = body.revision
        else:
            raise TypeError(f"cannot fold {body!r}")
        self._seq = entry.seq

    def freeze(self) -> Tally:
        return self.state


class TallyFolder:
    """Begins builders."""

    def begin(self, state: Tally) -> TallyBuilder:
        return TallyBuilder(state)


CODEC = Codec(KINDS)
READING = Reading(codec=CODEC, folder=TallyFolder(), empty=Tally())

Decider = Callable[[Tally], Sequence[msgspec.Struct]]
_numbers = itertools.count(1)


def asking(
    decide: Decider, *, content: bytes = b"", key: str = "", device: str = "pad-1"
) -> Request[Tally]:
    """Return a request with a key of its own unless one is given."""
    return Request(
        actor="judge",
        device=device,
        key=key or f"key-{next(_numbers)}",
        content=content,
        decide=decide,
    )


def saying(*bodies: msgspec.Struct, key: str = "", device: str = "pad-1") -> Request[Tally]:
    """Return a request that stores these bodies, whatever the State."""
    content = msgspec.json.encode([(type(body).__name__, body) for body in bodies])
    return asking(lambda _: bodies, content=content, key=key, device=device)


def count(lane: str, reps: int, *, key: str = "", device: str = "pad-1") -> Request[Tally]:
    """Return a report."""
    return saying(Counted(lane=lane, reps=reps), key=key, device=device)


def confirm(lane: str, *, key: str = "") -> Request[Tally]:
    """Return a decision: refused if the lane has no count or is confirmed already."""

    def decide(tally: Tally) -> Sequence[msgspec.Struct]:
        if lane not in tally.counts:
            raise Refusal("lane.uncounted", subject=lane)
        if lane in tally.confirmed:
            raise Stale("lane.confirmed_already", subject=lane, seq=tally.confirmed[lane])
        return [Confirmed(lane=lane)]

    return asking(decide, content=f"confirm {lane}".encode(), key=key, device="desk")


def publish(after: int, *, key: str = "") -> Request[Tally]:
    """Return a decision: the plan that follows revision `after`, refused if another did."""

    def decide(tally: Tally) -> Sequence[msgspec.Struct]:
        if tally.revision != after:
            raise Stale("plan.moved_on", shown=after, present=tally.revision)
        return [Published(revision=after + 1)]

    return asking(decide, content=f"publish after {after}".encode(), key=key, device="office")
