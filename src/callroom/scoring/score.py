"""A score: what counts for one team in one part, brought to the part's resolution."""

from fractions import Fraction
from typing import Literal

import msgspec

from callroom.model import Mass

ScoreKind = Literal[
    "finished", "capped", "worked", "lifted", "covered", "did_not_start", "withdrew", "awaited"
]


class Score(msgspec.Struct, frozen=True, gc=False):
    """One team's result in one part, as it is ranked.

    Attributes
    ----------
    kind
        ``finished`` … ``covered`` are results. ``did_not_start`` and ``withdrew`` have no
        place. ``awaited``: nothing usable has been reported yet.
    key
        What places are compared by, the lowest first (:mod:`callroom.scoring.key`); None:
        the score takes no place.
    time_ms
        Time of the finish with its penalties [ms]; of a capped team only where the cap
        counts as a time with a second for everything missing.
    work, missing
        Counts done, less penalties, and what a capped team left undone.
    masses
        The best good lift of each task, as loaded.
    distance_m
        Metres in complete marked stretches, less penalties [m].
    tiebreak_ms
        The split [ms] where one is compared; None: missing, or none is taken.
    past_cap_ms
        The time reported [ms] where it lay past the cap, so that it is no finish.
    """

    team: str
    kind: ScoreKind
    key: int | None = None
    time_ms: int | None = None
    work: int | None = None
    missing: int | None = None
    masses: tuple[Mass, ...] = ()
    distance_m: int | None = None
    tiebreak_ms: int | None = None
    past_cap_ms: int | None = None
    attempt: int = 1
    modified: bool = False
    medical_stop: bool = False
    penalty_s: int = 0
    penalty_counts: int = 0
    confirmed: bool = False
    disputed: bool = False
    rerun_awaited: bool = False

    @property
    def load_g(self) -> Fraction:
        """The exact sum of the masses [g]."""
        return sum((mass.grams() for mass in self.masses), Fraction(0))

    @property
    def started(self) -> bool:
        """Whether the team is known to have started."""
        return self.kind not in {"did_not_start", "awaited"}
