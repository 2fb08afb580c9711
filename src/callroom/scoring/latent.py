"""How good each team is likely to be in what is to come, told from what it has done.

One factor: a team's standing in a part is a common ability and something of the part's own, both
normal, with variance rho and 1 - rho. Two parts then correlate by rho. Given the mean z of k
parts, the ability is normal with mean k rho z / (1 + (k - 1) rho) and variance
rho (1 - k rho / (1 + (k - 1) rho)): the textbook rule for a normal mean with a normal prior.
"""

from collections.abc import Mapping, Sequence
from statistics import NormalDist, correlation, fmean

import msgspec

from callroom.scoring.parts import PartStandings

PRIOR_RHO = 0.5
PRIOR_PAIRS = 4
"""What two workouts have in common before any result, and how many pairs of parts that is
worth. Our own assumption, no source."""
LEAST_RHO, MOST_RHO = 0.05, 0.95
_STANDARD = NormalDist()


class Ability(msgspec.Struct, frozen=True):
    """What is known of one team: mean and variance of its ability."""

    mean: float
    variance: float


def normal_scores(part: PartStandings) -> Mapping[str, float]:
    """Return where each placed team stands in a part, as a standard normal number, best highest.

    Of n teams the one that is r-th from the bottom is at the quantile (r - 1/2) / n; equal
    results share the middle of what they cover.
    """
    placed = [row for row in part.rows if row.place is not None]
    count = len(placed)
    found = {}
    for row in placed:
        alike = sum(other.place == row.place for other in placed)
        middle = (row.place or 0) - 1 + alike / 2
        found[row.team] = _STANDARD.inv_cdf(1 - middle / count)
    return found


def common_share(scores: Sequence[Mapping[str, float]]) -> float:
    """Return rho: what two parts have in common, drawn from the results towards the prior."""
    total, weight = PRIOR_RHO * PRIOR_PAIRS, float(PRIOR_PAIRS)
    for at, one in enumerate(scores):
        for other in scores[at + 1 :]:
            both = sorted(one.keys() & other.keys())
            mine, theirs = [one[team] for team in both], [other[team] for team in both]
            if len(both) > 2 and len(set(mine)) > 1 and len(set(theirs)) > 1:
                total += correlation(mine, theirs)
                weight += 1
    return min(max(total / weight, LEAST_RHO), MOST_RHO)


def ability(scores: Sequence[Mapping[str, float]], team: str, rho: float) -> Ability:
    """Return what the parts done so far say of a team."""
    mine = [each[team] for each in scores if team in each]
    count = len(mine)
    weight = count * rho / (1 + (count - 1) * rho) if count else 0.0
    return Ability(weight * fmean(mine) if mine else 0.0, rho * (1 - weight))
