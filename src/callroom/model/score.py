"""Scores: what was reported of a lane, what was decided about it."""

from typing import Annotated, Literal

import msgspec

from callroom.model.lane_note import MOST_MARKS, LogMark
from callroom.model.mass import Mass

Outcome = Literal[
    "finished", "capped", "worked", "lifted", "covered", "did_not_start", "withdrew", "unknown"
]
Source = Literal["pad", "paper"]


class Lift(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One attempt at one lift: which task, the load as loaded, good or not."""

    task: str
    mass: Mass
    good: bool


class Result(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The raw result of one team in one part, as seen.

    Attributes
    ----------
    outcome
        ``finished`` (time), ``capped`` (time part, unfinished: `work` done),
        ``worked``, ``lifted``, ``covered``, or no result at all. Started with nought is
        ``worked`` with 0, never ``did_not_start``. A medical stop keeps the work done:
        it is ``capped`` or ``worked`` with `medical_stop`.
    time_ms
        Time of the finish on the part's own clock [ms].
    work
        Counts done (repetitions, marks, calories).
    distance_m
        Metres covered in complete marked stretches [m].
    lifts
        Every attempt in the order made.
    tiebreak_ms
        The tie-break split [ms]; None: missing.
    modified
        Some of the work was lighter or easier than prescribed.
    """

    outcome: Outcome
    time_ms: int | None = None
    work: int | None = None
    distance_m: int | None = None
    lifts: tuple[Lift, ...] = ()
    tiebreak_ms: int | None = None
    modified: bool = False
    medical_stop: bool = False


class NoRepCount(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How often a judge gave a no-rep in a task; `reason` may stay empty."""

    task: str
    count: int
    reason: str = ""


class ScoreReport(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a judge or a card says of one lane in one part. Always stored.

    `amendment` is the number of the amendment by which the pad or card had the workout (0: as
    it was first told). `log` is every touch of the pad, in order; a card has none.
    """

    heat: str
    workout: str
    part: str
    team: str
    lane: int
    source: Source
    result: Result
    attempt: int = 1
    amendment: int = 0
    no_reps: tuple[NoRepCount, ...] = ()
    signed: bool = False
    log: Annotated[tuple[LogMark, ...], msgspec.Meta(max_length=MOST_MARKS)] = ()


class KeptReport(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A report with the entry that brought it: its `seq`, who sent it, from which device.

    `unplaced` says why it has no place (``lane_moved``, ``heat_confirmed``,
    ``device_revoked``, ``no_such_attempt``, ``workout_amended``, ``unknown``); empty: it has one.
    """

    seq: int
    at_ms: int
    actor: str
    device: str
    report: ScoreReport
    unplaced: str = ""

    @property
    def complete(self) -> bool:
        """Whether it says a result; a card that could not be read says none."""
        return self.report.result.outcome != "unknown"


class Penalty(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Seconds added or counts taken off by the head judge, with the entry that gave it.

    Seconds below nought are a credit for time that was lost.
    """

    seq: int
    reason: str
    seconds: int = 0
    counts: int = 0


class Correction(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A result set by the head judge in place of what was reported."""

    seq: int
    result: Result
    reason: str


class ScoreSheet(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Everything known about one team's attempt at one part.

    `reports` are in order of receipt; `chosen_seq` names the report the head judge took
    where two differ; a `correction` overrules all reports. Reports up to the entry
    `set_aside_seq` are of the workout before it was amended: they are kept, and count only
    if the head judge chooses one.
    """

    workout: str
    part: str
    team: str
    attempt: int = 1
    reports: tuple[KeptReport, ...] = ()
    chosen_seq: int | None = None
    correction: Correction | None = None
    penalties: tuple[Penalty, ...] = ()
    confirmed_seq: int | None = None
    set_aside_seq: int = 0

    @property
    def counting(self) -> Result | None:
        """The result that counts now: corrected, else chosen, else the first complete report."""
        if self.correction is not None:
            return self.correction.result
        if self.chosen_seq is None:
            told = [kept for kept in self.reports if kept.seq > self.set_aside_seq]
        else:
            told = [kept for kept in self.reports if kept.seq == self.chosen_seq]
        complete = [kept for kept in told if kept.complete]
        first = (complete or told)[:1]
        return first[0].report.result if first else None

    @property
    def disputed(self) -> bool:
        """Whether complete reports differ and nobody has decided between them."""
        if self.correction is not None or self.chosen_seq is not None:
            return False
        complete = [
            kept.report.result
            for kept in self.reports
            if kept.complete and kept.seq > self.set_aside_seq
        ]
        return any(result != complete[0] for result in complete[1:])


def sheet_key(workout: str, part: str, team: str, attempt: int = 1) -> str:
    """Return the key of a score sheet in :class:`callroom.model.state.State`."""
    return f"{workout}/{part}/{team}/{attempt}"


class SheetRef(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Which score sheet is meant: a team's attempt at one part of a workout."""

    workout: str
    part: str
    team: str
    attempt: int = 1

    @property
    def key(self) -> str:
        """The key of the sheet in the State."""
        return sheet_key(self.workout, self.part, self.team, self.attempt)
