"""How far two orders agree, and how sure a rate of no-reps is."""

from collections.abc import Sequence
from functools import lru_cache
from math import isnan

import msgspec

_LEAST_TEAMS = 4
"""Fewer teams agree or not by chance alone (common practice, no source)."""

_SURE = 0.95


class Agreement(msgspec.Struct, frozen=True, kw_only=True):
    """Kendall's tau-b and Spearman's rho of two orders of `teams` teams, ties taken in."""

    teams: int
    tau: float
    rho: float


class NoRepRate(msgspec.Struct, frozen=True, kw_only=True):
    """No-reps among all tries, with the exact 95% interval (Clopper and Pearson)."""

    no_reps: int
    tries: int
    low: float
    high: float

    @property
    def share(self) -> float:
        """The share of no-reps."""
        return self.no_reps / self.tries


def rank_agreement(one: Sequence[int], other: Sequence[int]) -> Agreement | None:
    """Return how far two orders of the same teams agree; None for too few or all level."""
    if len(one) < _LEAST_TEAMS or len(set(one)) < 2 or len(set(other)) < 2:
        return None
    from scipy import stats  # type: ignore[import-untyped]  # noqa: PLC0415 - it loads slowly

    tau = float(stats.kendalltau(one, other).statistic)
    rho = float(stats.spearmanr(one, other).statistic)
    if isnan(tau) or isnan(rho):
        return None
    return Agreement(teams=len(one), tau=tau, rho=rho)


@lru_cache(maxsize=4096)
def no_rep_rate(no_reps: int, tries: int) -> NoRepRate:
    """Return a rate with its interval; `tries` is at least 1."""
    from scipy import special  # noqa: PLC0415 - it loads slowly

    outside, reps = (1 - _SURE) / 2, tries - no_reps
    low = special.betaincinv(no_reps, reps + 1, outside) if no_reps else 0.0
    high = special.betaincinv(no_reps + 1, reps, 1 - outside) if reps else 1.0
    return NoRepRate(no_reps=no_reps, tries=tries, low=float(low), high=float(high))
