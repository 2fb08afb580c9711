"""The product-limit estimate of how many are still at work, from capped times."""

import math
from collections import Counter
from collections.abc import Sequence

import msgspec


class CurvePoint(msgspec.Struct, frozen=True, kw_only=True):
    """After `time`: `finished` of the `at_risk` finished at it, and `still` is the share left.

    `error` is the standard error of `still` by Greenwood's formula.
    """

    time: int
    finished: int
    at_risk: int
    still: float
    error: float


def still_at_work(finished: Sequence[int], stopped: Sequence[int]) -> tuple[CurvePoint, ...]:
    """Return the share still at work after each finishing time.

    Parameters
    ----------
    finished
        Times of those who finished, in any whole unit.
    stopped
        Times at which others were stopped unfinished (right-censored), as by a cap. At equal
        times the finishes come first.

    Source: E. L. Kaplan and P. Meier, JASA 53:457-481, 1958; M. Greenwood, 1926, for the error.
    """
    times = Counter(finished)
    still, spread = 1.0, 0.0
    points = []
    for time in sorted(times):
        at_risk = sum(one >= time for one in (*finished, *stopped))
        count = times[time]
        still *= 1 - count / at_risk
        spread += count / (at_risk * (at_risk - count)) if at_risk > count else 0.0
        points.append(
            CurvePoint(
                time=time,
                finished=count,
                at_risk=at_risk,
                still=still,
                error=still * math.sqrt(spread),
            )
        )
    return tuple(points)
