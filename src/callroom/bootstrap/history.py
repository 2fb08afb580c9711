"""The history of one score, read from the journal itself."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

from callroom.journal.entries import Entry, bodies, clock_bodies, verdict_bodies
from callroom.model import ScoreReport
from callroom.model.score import SheetRef
from callroom.views.history import HistoryLine

Told = Callable[[Any], dict[str, Any]]

# What each kind of entry that names a sheet tells about it.
_TELLS: Mapping[type, Told] = MappingProxyType(
    {
        ScoreReport: lambda body: {
            "deed": "reported",
            "result": body.result,
            "source": body.source,
        },
        bodies.ReportChosen: lambda body: {
            "deed": "chosen",
            "about_seq": body.report_seq,
        },
        bodies.ReportTaken: lambda body: {
            "deed": "taken",
            "about_seq": body.report_seq,
            "reason": body.reason,
        },
        bodies.ScoreCorrected: lambda body: {
            "deed": "corrected",
            "result": body.result,
            "reason": body.reason,
        },
        bodies.PenaltyGiven: lambda body: {
            "deed": "penalty",
            "seconds": body.seconds,
            "counts": body.counts,
            "reason": body.reason,
        },
        clock_bodies.CreditGiven: lambda body: {
            "deed": "credited",
            "seconds": -body.seconds,
            "reason": body.reason,
        },
        bodies.PenaltyLifted: lambda body: {
            "deed": "penalty_lifted",
            "about_seq": body.penalty_seq,
            "reason": body.reason,
        },
    }
)


def score_history(
    read: Iterable[tuple[Entry, Any]],
    ref: SheetRef,
    heat: str,
    *,
    signed: Mapping[str, str] = MappingProxyType({}),
) -> Iterator[HistoryLine]:
    """Give what happened to one score, in order.

    Parameters
    ----------
    read
        The journal's entries with their decoded bodies.
    heat
        The heat in which the team does the workout, whose confirmations concern the score.
    signed
        The initials under reports, by ``"<device>/<key>"`` of the request that brought them.
    """
    named = (ref.workout, ref.part, ref.team, ref.attempt)
    appeals = _Appeals(ref)
    for entry, body in read:
        told = _TELLS.get(type(body))
        if told is not None and (body.workout, body.part, body.team, body.attempt) == named:
            initials = signed.get(f"{entry.device}/{entry.key}", "")
            yield _line(entry, signed=initials, **told(body))
        elif isinstance(body, bodies.AmendmentMade) and body.workout.id == ref.workout:
            yield _line(entry, deed="amended", reason=body.what)
        elif (heard := appeals.told(body)) is not None:
            yield _line(entry, **heard)
        elif isinstance(body, bodies.HeatConfirmed) and body.heat == heat:
            yield _line(entry, deed="confirmed")
        elif isinstance(body, bodies.HeatReopened) and body.heat == heat:
            yield _line(entry, deed="reopened", reason=body.reason)
        elif isinstance(body, clock_bodies.HeatStopped) and body.heat == heat:
            yield _line(entry, deed="stopped", reason=body.reason)
        elif isinstance(body, clock_bodies.StopRuled) and body.heat == heat:
            yield _line(entry, deed="stop_ruled", reason=body.reason)


class _Appeals:
    """Follows the numbers of appeals, which are given in the order of their entries."""

    def __init__(self, ref: SheetRef) -> None:
        """Tell of those about one score, whichever attempt."""
        self._ref = ref
        self._filed = 0
        self._mine: set[int] = set()

    def told(self, body: object) -> dict[str, Any] | None:
        """Return what an entry tells about an appeal against the score; None: nothing."""
        if isinstance(body, verdict_bodies.AppealMade):
            self._filed += 1
            about = (body.workout, body.part, body.team)
            if about != (self._ref.workout, self._ref.part, self._ref.team):
                return None
            self._mine.add(self._filed)
            return {"deed": "appealed", "number": self._filed, "reason": body.text}
        if not isinstance(body, verdict_bodies.AppealDecided | verdict_bodies.AppealWithdrawn):
            return None
        if body.number not in self._mine:
            return None
        if isinstance(body, verdict_bodies.AppealWithdrawn):
            deed = "appeal_withdrawn"
        else:
            deed = "appeal_upheld" if body.upheld else "appeal_rejected"
        return {"deed": deed, "number": body.number, "reason": body.reason}


def _line(entry: Entry, **told: Any) -> HistoryLine:  # noqa: ANN401 - fields of the line
    return HistoryLine(
        seq=entry.seq, at_ms=entry.at_ms, actor=entry.actor, device=entry.device, **told
    )
