"""What the forecast does not expect of a score. It is asked about, never refused."""

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from callroom.model import Finding, Result
from callroom.scoring.odd import Lane

# A forecast is a guess until the day has calibrated it: only what lies far beyond the best and
# the least of all simulated teams is worth a question.
_FAR_FASTER_PERCENT = 70
_FAR_MORE_PERCENT = 150
_FAR_LESS_PERCENT = 40


class Expected(msgspec.Struct, frozen=True, kw_only=True):
    """What simulated teams of a division did in a part.

    `fastest_s` is the shortest time of a team that finished [s]; `least` and `most` bound the
    work done at the cap, in counts, metres or grams as the part is scored. None: nobody did.
    """

    fastest_s: int | None = None
    least: int | None = None
    most: int | None = None


Expectations = Mapping[tuple[str, str, str], Expected]
"""By workout, part and division."""

NOTHING_EXPECTED: Expectations = MappingProxyType({})


def unlikely(lane: Lane, result: Result, expected: Expected) -> tuple[Finding, ...]:
    """Return what is far from anything that was forecast for this lane."""
    if result.outcome == "finished" and result.time_ms is not None:
        return _too_fast(lane, result.time_ms, expected)
    done = result.work if result.outcome in {"worked", "capped"} else result.distance_m
    if done is None:
        return ()
    if expected.most and done * 100 > expected.most * _FAR_MORE_PERCENT:
        return (lane.found("score.more_than_forecast", given=done, most=expected.most),)
    if expected.least and done * 100 < expected.least * _FAR_LESS_PERCENT:
        return (lane.found("score.less_than_forecast", given=done, least=expected.least),)
    return ()


def _too_fast(lane: Lane, time_ms: int, expected: Expected) -> tuple[Finding, ...]:
    fastest_s = expected.fastest_s
    if not fastest_s or time_ms * 100 >= fastest_s * 1000 * _FAR_FASTER_PERCENT:
        return ()
    return (lane.found("score.faster_than_forecast", time_ms=time_ms, fastest_s=fastest_s),)
