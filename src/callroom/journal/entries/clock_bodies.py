"""What entries about the clock of a heat carry: stops, the ruling on a stop, re-runs, credits."""

from callroom.journal.entries.bodies import Body
from callroom.model.heat_stop import StopRuling


class HeatStopped(Body, frozen=True):
    """The clock of a heat was stopped before its end, at `at_ms` [ms, UTC], for a reason."""

    heat: str
    at_ms: int
    reason: str


class StopRuled(Body, frozen=True):
    """What the head judge ruled on a stopped heat.

    Re-runs and credits that follow from it are entries of their own in the same request.
    """

    heat: str
    ruling: StopRuling
    reason: str


class RerunStarted(Body, frozen=True):
    """The clock of a team's further attempt started; `at_ms` is its zero [ms, UTC]."""

    workout: str
    team: str
    attempt: int
    at_ms: int


class CreditGiven(Body, frozen=True):
    """Seconds taken off a team's time, for time that it lost through no fault of its own."""

    workout: str
    part: str
    team: str
    attempt: int
    seconds: int
    reason: str
