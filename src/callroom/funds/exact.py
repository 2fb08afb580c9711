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


def split(total: int, ways: int) -> tuple[int, ...]:
    """Return `total` shared alike, the shares adding up to it: the first may be one unit more.

    Raises
    ------
    ValueError
        For fewer than one share.
    """
    if ways < 1:
        raise ValueError(f"{ways} shares of {total}")
    least, over = divmod(total, ways)
    return tuple(least + 1 if share < over else least for share in range(ways))
