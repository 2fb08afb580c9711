"""What results say about the forecast's pace, with times stopped at the cap taken for what
they are: longer than the cap by an unknown amount.
"""

import math
from collections.abc import Callable, Sequence

import msgspec

from callroom.model.errors import CallroomError
from callroom.model.forecast import Pace, WorkoutForecast

LEAST_FINISHED = 3
LEAST_SPREAD = 0.01
"""Of ln time: results of equal seconds are not more alike than this."""
Z_95 = 1.6448536269514722


class LogNormalFit(msgspec.Struct, frozen=True, kw_only=True):
    """A normal distribution of ln values, and the interval that holds its mean in 9 of 10."""

    mean: float
    sd: float
    low: float
    high: float


def calibrate(
    forecast: WorkoutForecast,
    part_id: str,
    *,
    finished: Sequence[int],
    stopped: int = 0,
) -> Pace:
    """Return the pace that a division's results on a part show.

    Parameters
    ----------
    forecast
        One of any pace: what comes back is the pace against the model itself.
    finished
        Times to finish [s] of a part for time; otherwise the results: counts, grams, metres.
    stopped
        How many teams more were stopped at the cap.

    Raises
    ------
    CallroomError
        If fewer than three teams finished.
    """
    part = next(one for one in forecast.parts if one.part == part_id)
    known = [value for value in finished if value > 0]
    if len(known) < LEAST_FINISHED:
        raise CallroomError(
            "forecast.too_few_finished",
            workout=forecast.workout,
            part=part_id,
            division=forecast.division,
            finished=len(known),
            least=LEAST_FINISHED,
        )
    timed = part.kind == "time"
    # More work in the same time is a faster pace.
    sign = 1.0 if timed else -1.0
    # Times are cut off to whole seconds, so half a second is missing on average.
    logs = [math.log(value + 0.5) if timed else math.log(value) for value in known]
    fit = fit_censored(logs, math.log(part.cap_s), stopped if timed else 0)
    expected = part.mean_log / 1000
    ends = sorted(sign * (value - expected) for value in (fit.low, fit.mean, fit.high))
    low, middle, high = (round(part.pace_permille * math.exp(one)) for one in ends)
    return Pace(
        workout=forecast.workout,
        part=part_id,
        division=forecast.division,
        permille=middle,
        low_permille=low,
        high_permille=high,
        teams=len(known) + stopped,
        finished=len(known),
    )


def fit_censored(values: Sequence[float], limit: float, stopped: int) -> LogNormalFit:
    """Return the normal distribution most likely to give `values`, and `stopped` above `limit`.

    Maximum likelihood with right-censoring. The interval is that of the likelihood ratio,
    with the threshold that is exact for small uncensored samples: n ln(1 + t^2 / (n - 1)).
    Source: the likelihood as in J. Tobin, Econometrica 26:24-36, 1958, in the form of
    R. Olsen, Econometrica 46:1211-1215, 1978, in which it has one peak.
    """
    count = len(values)
    centre = sum(values) / count
    spread = math.sqrt(sum((value - centre) ** 2 for value in values) / count)
    reach = 20 * max(spread, LEAST_SPREAD) + (limit - centre if stopped else 0.0)

    def likelihood(mean: float) -> float:
        return _best_spread(values, limit, stopped, mean)[1]

    mean = _highest(likelihood, centre - reach, centre + 3 * reach)
    sd, peak = _best_spread(values, limit, stopped, mean)
    t = student_t95(count - 1)
    threshold = peak - count / 2 * math.log(1 + t * t / (count - 1))
    return LogNormalFit(
        mean=mean,
        sd=sd,
        low=_crossing(likelihood, mean, mean - 3 * reach, threshold),
        high=_crossing(likelihood, mean, mean + 12 * reach, threshold),
    )


def student_t95(freedom: int) -> float:
    """Return the 95 % point of Student's t, by expansion about the normal one.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5; within 1 % from
    two degrees of freedom on.
    """
    z = Z_95
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return z + math.fsum(term / math.pow(freedom, power) for power, term in enumerate(terms, 1))


def _best_spread(
    values: Sequence[float], limit: float, stopped: int, mean: float
) -> tuple[float, float]:
    """Return the likeliest standard deviation about `mean`, and the log-likelihood there."""
    squares = sum((value - mean) ** 2 for value in values)
    count = len(values)

    def likelihood(log_sd: float) -> float:
        sd = math.exp(log_sd)
        beyond = stopped * _log_above((limit - mean) / sd) if stopped else 0.0
        return beyond - count * log_sd - squares / (2 * sd * sd)

    usual = math.sqrt(squares / count)
    low = math.log(max(min(usual, 1.0) / 4, LEAST_SPREAD))
    best = _highest(likelihood, low, math.log(max(4 * usual, 1.0)))
    return math.exp(best), likelihood(best)


def _log_above(z: float) -> float:
    """Return the logarithm of the share of a standard normal distribution above `z`."""
    above = math.erfc(z / math.sqrt(2)) / 2
    return math.log(above) if above > 0 else -(z * z) / 2 - math.log(z * math.sqrt(2 * math.pi))


def _highest(function: Callable[[float], float], low: float, high: float) -> float:
    """Return where a function with one peak is highest, by golden section."""
    ratio = (math.sqrt(5) - 1) / 2
    left, right = high - ratio * (high - low), low + ratio * (high - low)
    at_left, at_right = function(left), function(right)
    while high - low > 1e-7:
        if at_left < at_right:
            low, left, at_left = left, right, at_right
            right = low + ratio * (high - low)
            at_right = function(right)
        else:
            high, right, at_right = right, left, at_left
            left = high - ratio * (high - low)
            at_left = function(left)
    return (low + high) / 2


def _crossing(
    function: Callable[[float], float], inside: float, outside: float, threshold: float
) -> float:
    """Return where a function falls to `threshold` between two points, by halving."""
    for _ in range(60):
        middle = (inside + outside) / 2
        if function(middle) > threshold:
            inside = middle
        else:
            outside = middle
        if abs(outside - inside) < 1e-6:
            break
    return (inside + outside) / 2
