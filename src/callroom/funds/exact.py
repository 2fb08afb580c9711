"""The one rounding of this package: to the nearest minor unit, a half goes away from nought.

It is what most receipts and tax forms expect; for euro amounts Council Regulation (EC)
1103/97, article 5, asks for it (from memory). It is used where a share of a sum is taken
(a percentage, a quarter), once, at the end; sums themselves are exact.
"""

from fractions import Fraction


def rounded(value: Fraction) -> int:
    """Return the nearest whole number of minor units, a half away from nought."""
    size = (2 * abs(value.numerator) + value.denominator) // (2 * value.denominator)
    return -size if value < 0 else size
