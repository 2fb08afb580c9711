"""From arrays of simulated teams to the whole numbers of a forecast; rounded here, once."""

import numpy as np

from callroom.forecast.arrays import Flags, Floats
from callroom.model.forecast import Histogram, Quantiles

MOST_BINS = 40
TIME_WIDTHS = (5, 10, 15, 20, 30, 60, 120, 300)
COUNT_WIDTHS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000)


def quantiles(values: Floats) -> Quantiles:
    """Return five points of `values`, shape ``(teams,)``; infinite ones give None.

    Every point is the value of one of the teams, so nothing is invented between them.
    """
    if not values.size:
        return Quantiles(p10=None, p25=None, p50=None, p75=None, p90=None)
    ends = np.where(np.isnan(values), np.inf, values)
    found = np.quantile(ends, [0.1, 0.25, 0.5, 0.75, 0.9], method="inverted_cdf")
    p10, p25, p50, p75, p90 = (whole(float(value)) for value in found)
    return Quantiles(p10=p10, p25=p25, p50=p50, p75=p75, p90=p90)


def whole(value: float) -> int | None:
    """Return `value` as a whole number; None if it is infinite."""
    return round(value) if np.isfinite(value) else None


def percent(flags: Flags) -> int:
    """Return the share of teams for which it is true [%], shape ``(teams,)``.

    Never 0 or 100 unless it is none or all of them.
    """
    share = 100 * float(flags.mean())
    if 0 < share < 1:
        return 1
    return 99 if 99 < share < 100 else round(share)


def histogram(values: Floats, widths: tuple[int, ...]) -> Histogram:
    """Return the distribution of `values` in bins of the first of `widths` that is enough."""
    known = values[np.isfinite(values)]
    if not known.size:
        return Histogram(start=0, width=widths[0], counts=(), beyond=values.size)
    low, high = float(known.min()), float(np.quantile(known, 0.995, method="inverted_cdf"))
    width = next((w for w in widths if (high - low) / w < MOST_BINS - 2), widths[-1])
    start = int(low // width) * width
    bins = min(int((high - start) // width) + 1, MOST_BINS)
    edges = start + width * np.arange(bins + 1)
    counts, _ = np.histogram(known[known < edges[-1]], bins=edges)
    return Histogram(
        start=start,
        width=width,
        counts=tuple(int(count) for count in counts),
        beyond=values.size - int(counts.sum()),
    )


def log_moments(values: Floats) -> tuple[int, int]:
    """Return mean and standard deviation of ln `values` in thousandths; 0, 0 if unknown.

    For times that do not all end the upper part is missing, so both are told from the
    quantiles of a normal distribution of logarithms: the median, and the tenth below it.
    """
    positive = np.where(values > 0, values, np.nan)
    if np.isnan(positive).mean() > 0.5:
        return 0, 0
    ends = np.where(np.isnan(positive), 0.0, positive)
    low, middle = np.quantile(ends, [0.1586552539, 0.5], method="inverted_cdf")
    if not np.isfinite(middle) or low <= 0:
        return 0, 0
    return round(1000 * np.log(middle)), round(1000 * np.log(middle / low))
