"""The clock of a workout: its scored parts, and the rounds of its parts that run to the clock."""

import msgspec

from callroom.model.workout import Part, PartKind, Workout


class ClockSpan(msgspec.Struct, frozen=True, kw_only=True):
    """A stretch of the heat's clock [ms from its zero], `until_ms` not included.

    Attributes
    ----------
    part
        The id of the scored part; empty: a rest between two of them.
    kind
        What the part is scored by: a clock for time counts up, any other counts down.
    round_number, rounds
        Which of how many rounds that start on the clock this is; 0: none do.
    """

    from_ms: int
    until_ms: int
    part: str
    name: str
    kind: PartKind | None
    round_number: int = 0
    rounds: int = 0


def clock_spans(workout: Workout) -> tuple[ClockSpan, ...]:
    """Return the stretches of a workout's clock in order, without a gap up to its end.

    Parts that overlap are shown one after the other, each from its own start on.
    """
    spans: list[ClockSpan] = []
    for part in sorted(workout.parts, key=lambda part: part.starts_s):
        starts_ms = part.starts_s * 1000
        end_ms = spans[-1].until_ms if spans else 0
        if starts_ms > end_ms:
            spans.append(ClockSpan(from_ms=end_ms, until_ms=starts_ms, part="", name="", kind=None))
        spans = [_cut(span, starts_ms) for span in spans if span.from_ms < starts_ms]
        spans += _of_part(part)
    return tuple(spans)


def _cut(span: ClockSpan, at_ms: int) -> ClockSpan:
    return msgspec.structs.replace(span, until_ms=min(span.until_ms, at_ms))


def _of_part(part: Part) -> list[ClockSpan]:
    starts_ms = part.starts_s * 1000
    ends_ms = starts_ms + part.cap_s * 1000
    edges = [starts_ms + offset_s * 1000 for offset_s in _round_starts(part)]
    rounds = len(edges)
    # What follows the rounds on the clock is the rest of the part, done as fast as one can.
    edges = edges or [starts_ms]
    last_ms = starts_ms + _clocked_s(part) * 1000 if rounds else ends_ms
    spans = [
        ClockSpan(
            from_ms=start,
            until_ms=end,
            part=part.id,
            name=part.name,
            kind=part.kind,
            round_number=number if rounds else 0,
            rounds=rounds,
        )
        for number, (start, end) in enumerate(
            zip(edges, [*edges[1:], min(last_ms, ends_ms)], strict=True), start=1
        )
        if start < end
    ]
    if spans[-1].until_ms < ends_ms:
        rest = ClockSpan(
            from_ms=spans[-1].until_ms,
            until_ms=ends_ms,
            part=part.id,
            name=part.name,
            kind=part.kind,
        )
        spans.append(rest)
    return spans


def _round_starts(part: Part) -> list[int]:
    """Return when each round that starts on the clock does [s from the part's start]."""
    starts: list[int] = []
    offset_s = 0
    for block in part.blocks:
        if not block.every_s:
            break
        rounds = -(-(part.cap_s - offset_s) // block.every_s) if block.open_ended else block.rounds
        starts += [offset_s + block.every_s * index for index in range(rounds)]
        offset_s += block.every_s * rounds
    return [start for start in starts if start < part.cap_s]


def _clocked_s(part: Part) -> int:
    """Return when the last round that starts on the clock ends [s from the part's start]."""
    ends_s = 0
    for block in part.blocks:
        if not block.every_s:
            break
        if block.open_ended:
            return part.cap_s
        ends_s += block.every_s * block.rounds
    return min(ends_s, part.cap_s)
